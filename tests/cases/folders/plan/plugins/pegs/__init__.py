"""A peg between two parts, and how many."""

from dataclasses import dataclass

from compiler.api import (
    Blocks,
    Bore,
    Contact,
    Cut,
    Joint,
    Length,
    Model,
    Plugin,
    Table,
    Work,
    ask,
    hook,
    section,
    task,
)


class Pegged(Joint):
    """Held by a peg."""

    kind, how = "pegged", "to"
    depth: Length = ask.size("receiver.depth / 2", "how deep the peg goes", least="1/8", most="receiver.depth")

    def make(self, c: Contact) -> Work:
        hole = Bore("into", (c.length / 2, c.width / 2), c.width / 2, (-self.depth, self.depth))
        return Work(on_acting=(Cut("peg hole", hole),), on_receiver=(Cut("peg hole", hole),))


@dataclass(frozen=True)
class Pegs:
    """How many."""

    number: int


@task
def pegs(model: Model) -> Pegs:
    """Count them."""
    return Pegs(len(model.joints))


@section("Pegs", after="hardware")
def pages(pegs: Pegs) -> Blocks:
    """One row."""
    yield Table("Pegs", ("Number",), ((pegs.number,),))


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, joint_kinds=(Pegged,), tasks=(pegs,), sections=(pages,))
