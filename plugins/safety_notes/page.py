"""The page at the front: what to wear, what comes before this plan, and the cautions that belong to no single step."""

from __future__ import annotations

from compiler.api import Blocks, Cautions, Heading, ItemList, Paragraph, Signal, Strong, section


@section("Work safely", after="safety", name="safety")
def work_safely(cautions: Cautions) -> Blocks:
    """The general notice first, then protection, cautions without a step, and those of the finished piece."""
    yield Paragraph(
        content=("Each caution stands before the step it guards. Read it before you switch a machine on.",), style="lede"
    )
    yield Signal(word="NOTICE", content=((cautions.notice,),), numbered=False)
    if cautions.protection:
        yield Heading(content=("Wear",), level=2)
        yield ItemList(items=tuple((text,) for text in cautions.protection), style="bullets")
    yield Heading(content=("The signal words",), level=2)
    yield ItemList(
        items=(
            (Strong(("DANGER",)), ": will cause death or serious injury if it is not avoided.",),
            (Strong(("WARNING",)), ": could cause death or serious injury.",),
            (Strong(("CAUTION",)), ": could cause minor or moderate injury.",),
            (Strong(("NOTICE",)), ": about the work and the piece, not about injury.",),
        )
    )
    if cautions.general:
        yield Heading(content=("All through the work",), level=2)
        yield from cautions.general
    if cautions.placing:
        yield Heading(content=("When it is built",), level=2)
        yield from cautions.placing
