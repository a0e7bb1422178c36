"""Sample plugin: a short tenon on one part, in a slot of the other.

The part that goes in is written up to its shoulder; the tenon grows from it, so its cut length follows. Change the sizes,
the shapes and the words to those of your joint. Proportions: common practice, no source.
"""

from compiler.api import (
    Contact,
    Cut,
    Findings,
    Grow,
    Joint,
    Length,
    Operation,
    Plugin,
    Work,
    ask,
    hook,
    warning,
)


class SamplePlugin(Joint):
    """A tenon a third as thick as the part, in a slot of the same size."""

    # The word in design.yaml, and the word before the part that receives: {sample plugin: rail, into: post}
    kind, how = "sample plugin", "into"

    # What a maker may write: the default, what it means, the least and the most. All are sizes as in design.yaml.
    depth: Length = ask.size("receiver.depth / 2", "how deep the tenon goes in", least="1/8", most="receiver.depth - 1/8")
    thickness: Length = ask.size("acting.thickness / 3 rounded to 1/16", "thickness of the tenon", least="1/8", most="contact.width")
    shoulder: Length = ask.size("1/4", "left free at each end of the tenon", metric="6", least="0", most="contact.length / 3")

    def make(self, c: Contact) -> Work:
        """What grows from the part that goes in, what is cut from the one that receives it, and how that is done."""
        whole = c.block(into=self.depth)  # the faces that touch, so deep into the receiver
        tenon = whole.wider("across", self.thickness - c.width).wider("along", self.shoulder * -2)
        return Work(
            on_acting=(Grow(tenon, "tenon"),),
            on_receiver=(Cut("slot", tenon),),
            operations=(Operation("tenon"), Operation("mortise with router")),
            detail=(tenon.measure("into", "depth"), tenon.measure("across", "thickness"), tenon.measure("along", "tenon")),
        )

    def check(self, c: Contact) -> Findings:
        """What is doubtful, said to the maker at this joint's line in design.yaml."""
        if self.thickness * 2 > c.receiver.thickness and c.receiver.thickness < c.acting.thickness:
            yield warning(f"The slot takes more than half of `{c.receiver.name}`.", key="thickness", hint="A third is usual.")


@hook
def plugin() -> Plugin:
    """All that this plugin brings."""
    return Plugin(contract=1, joint_kinds=(SamplePlugin,))
