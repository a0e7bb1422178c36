"""Plugins as authors write them: checked by the type checker, never run."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from compiler.api import (
    ZERO,
    Blocks,
    Component,
    Contact,
    Cut,
    CutList,
    Edition,
    Fasteners,
    Figure,
    Findings,
    Grow,
    Item,
    Joint,
    Length,
    Model,
    Operation,
    Paragraph,
    Part,
    Pen,
    Piece,
    Plugin,
    SafetyRule,
    Settings,
    Stock,
    Stopped,
    Table,
    View,
    Volume,
    Work,
    advice,
    ask,
    check,
    error,
    export,
    hazard,
    hook,
    inch,
    mm,
    section,
    task,
    view,
    warning,
)


class Dado(Joint):
    """A trench across the grain that takes the end of a board."""

    kind, how = "test dado", "into"
    depth: Length = ask.size("receiver.thickness / 3 rounded to 1/16", "how deep the trench is", least="1/16", most="receiver.thickness - 1/8")
    room: Length = ask.size("0", "room left at the bottom", metric="0")
    count_of: int = ask.count(2, "how many", least="1")
    slope: Fraction = ask.ratio("1/8", "rise over run")
    turn: Fraction = ask.angle("10 deg", "how far it leans")
    style: str = ask.word("plain", "how it looks", of=("plain", "keyed"))
    bolt: Item = ask.item("bolt M6", "what holds it")
    spare: Item | None = ask.item(None, "what else holds it")
    stopped: Stopped = ask.stop("where it stops short")
    screws: Fasteners | None = ask.fasteners(None, "screws through the receiver", every="6")

    def make(self, c: Contact) -> Work:
        tongue = c.block(into=self.depth - self.room).clear_of(self.stopped)
        trench = c.through(into=self.depth).clear_of(self.stopped)
        key = tongue.wider("across", by=-inch("1/8")).at("into", ZERO, self.depth).moved("along", mm(1))
        return Work(
            on_acting=(Grow(tongue), Cut("kerf", key)),
            on_receiver=(Cut("dado", trench),),
            pieces=(Piece("key", c.acting.stock, key, grain="into"),),
            fasteners=(self.screws,) if self.screws is not None else (),
            operations=(Operation("cut a dado", tools=("router",)),),
            detail=(trench.measure("into", "depth"),),
        )

    def check(self, c: Contact) -> Findings:
        if c.receiver.grain == "along":
            yield error(f"{c.receiver.name} would be a groove", key="depth", hint="call it a groove")


class TallySettings(Settings):
    """How much more."""

    key = "tally"
    waste: Fraction = ask.ratio("1.25", "times the wood")


@dataclass(frozen=True)
class Tally:
    """How much wood."""

    volume: Volume
    pieces: int


@task
def tally(cut_list: CutList, settings: TallySettings) -> Tally:
    """The wood in all boards."""
    return Tally(sum((row.rough_volume for row in cut_list.rows), Volume()) * settings.waste, cut_list.pieces)


@check
def heavy(model: Model, tally: Tally) -> Findings:
    """Too much for one."""
    yield warning("it is heavy", at=model)
    yield advice("lift it with two", at=model.parts[0], key="stock")
    yield hazard("heavy", at=model)


@section("Tally", after="cut list")
def pages(tally: Tally) -> Blocks:
    """The tally, and two pictures."""
    pen = Pen(40, 20)
    pen.rectangle(0, 0, 40, 20, fill="front")
    pen.letters(20, 8, "wood", anchor="middle")
    yield Paragraph(("All of it: ", tally.volume))
    yield Table("Tally", ("Pieces", "Wood"), ((tally.pieces, tally.volume),))
    yield Figure("A board", pen.picture("A board, from the side"))
    yield Figure("The whole", View("front left top", only=("side",)))


@export(".csv")
def rows(cut_list: CutList, edition: Edition) -> str:
    """All rows."""
    return "\n".join(f"{row.name},{edition.show(row.length)}" for row in cut_list.rows)


class Ladder(Component):
    """Two posts and rungs."""

    kind = "ladder"
    wood: Stock = ask.stock("poplar 4/4", "posts and rungs")
    step: Length = ask.size("6", "from rung to rung", least="wood.thickness", most="height")
    written = "parts: {post: {stock: wood, across: from 0, deep: 0 to depth, up: 0 to height}}"


@view("beside")
def beside(model: Model, part: Part) -> View:
    """A part and its neighbours."""
    near = {name for joint in model.joints if part.name in (joint.acting, joint.receiver) for name in (joint.acting, joint.receiver)}
    return View("front left top", only=tuple(sorted(near)))


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, joint_kinds=(Dado,), tasks=(tally,), checks=(heavy,), sections=(pages,), exports=(rows,), components=(Ladder,), views=(beside,),
                  safety_rules=(SafetyRule(word="CAUTION", says="Heavy.", source="practice", hazard="heavy"),))


def in_a_test(cut_list: CutList, model: Model) -> Iterator[object]:
    """A decorated function is called like the function it stands for, with its types."""
    made: Tally = tally(cut_list, TallySettings(waste=Fraction(1)))
    yield made.pieces
    yield from pages(made)
    yield from heavy(model, made)
