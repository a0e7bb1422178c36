"""The pages of exploded drawings."""

from __future__ import annotations

from compiler.api import Blocks, Cells, Figure, Model, Paragraph, View, section

from .groups import Shown, sub_assemblies

FEW = 2
"""Sub-assemblies that share a page one under the other; more stand two to a row."""

CORNER = "front right top"
"""Seen from here, unless the plan has `views: {exploded: front left top}`."""


@section("Exploded views", after="drawings", name="exploded")
def exploded_pages(model: Model) -> Blocks:
    """The whole on a page of its own, then sub-assemblies."""
    if len(model.parts) < 2:
        return
    yield Paragraph(
        content=(
            "Parts travel along their joints; thin dashes show the way in. The letters are those of the cut list;"
            " × tells how many are shown.",
        )
    )
    corner = dict(model.views).get("exploded", CORNER).removeprefix("exploded").strip() or CORNER
    words = f"exploded {corner}"
    yield Figure("The whole piece, exploded", View(words, width=168), name="exploded", placing="page", strip=_strip())
    groups = sub_assemblies(model)
    if len(groups) <= FEW:
        for group in groups:
            yield Figure(_caption(group), View(words, only=group.parts, width=112), name=f"{group.name} exploded")
        return
    yield Cells(
        figures=tuple(
            Figure(_caption(group), View(words, only=group.parts, width=82, height=92), name=f"{group.name} exploded", placing="cell")
            for group in groups
        )
    )


def _caption(group: Shown) -> str:
    many = f", one of {group.number}" if group.number > 1 else ""
    return f"{group.name[:1].upper()}{group.name[1:]}, exploded{many}"


def _strip() -> tuple[tuple[str, str], ...]:
    """ISO 7200 fields that apply to a picture without scale; plan, issue and number are the theme's."""
    return (("Scale", "none"), ("View", "pictorial"))
