"""Views judged by rays shot at the parts' definition: three pieces, eight views each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from compiler.draw.views import Line, Section, Seen, across_axis, camera, look
from compiler.solid import build
from compiler.values.model import Part
from compiler.values.shapes import Vector
from tests.draw.oracle import Oracle, Verdict, judge
from tests.draw.pieces import bookcase
from tests.solid.bench import bench
from tests.solid.sideboard import sideboard


def door_and_drawer() -> tuple[Part, ...]:
    """One bay of the sideboard: a panelled door, a dovetailed drawer on runners, a shelf on pins."""
    return tuple(each for each in sideboard() if each.name.startswith("bay 0") and "drawer 1" not in each.name)


PIECES: dict[str, tuple[Callable[[], tuple[Part, ...]], Section, Section]] = {
    "bookcase": (lambda: bookcase().parts, across_axis(1, 6.03, False), across_axis(0, 17.9, True)),
    "bench": (bench, across_axis(1, 7.1, False), across_axis(0, 6.7, False)),
    "door and drawer": (door_and_drawer, across_axis(1, 0.4, False), across_axis(0, 12.3, True)),
}
VIEWS = ("isometric", "front", "bottom", "exploded", "section", "front left top", "section corner", "back right bottom")


def drawn_apart(parts: tuple[Part, ...]) -> dict[str, Vector]:
    """Each part moved to the front until it is clear of the one before: joints open, parts still hide each other."""
    offsets: dict[str, Vector] = {}
    front = 0.0
    for solid in build(parts, quality="coarse").parts:
        offsets[solid.name] = (0.0, front - solid.high[1] - 0.5, 0.0)
        front += solid.low[1] - solid.high[1] - 0.5
    return offsets


def judged(piece: str, view: str, *, samples: int = 700, scans: int = 14) -> Verdict:
    """The verdict on a view of a piece."""
    make, straight, corner = PIECES[piece]
    parts = make()
    section = {"section": straight, "section corner": corner}.get(view)
    words = {"exploded": "front left top", "section": "front", "section corner": "front right top"}.get(view, view)
    offsets = drawn_apart(parts) if view == "exploded" else None
    seen = look(build(parts, quality="coarse"), camera(words), offsets=offsets, section=section)
    return judge(seen, Oracle(parts, camera(words), offsets, section), samples=samples, scans=scans)


@pytest.mark.parametrize("piece", PIECES)
def test_lines_and_fills_agree_with_rays(piece: str) -> None:
    """False lines at most 0.3 %, missing ones at most 0.1 %, wrong fills at most 0.1 %, over eight views of each piece."""
    verdicts = [judged(piece, view) for view in VIEWS]
    lines, crossings, points = (sum(getattr(each, name) for each in verdicts)
                                for name in ("line_samples", "crossings", "fill_samples"))
    assert lines > 5000 and crossings > 400 and points > 40000
    assert sum(each.false * each.line_samples for each in verdicts) / lines <= 0.003
    assert sum(each.missing * each.crossings for each in verdicts) / crossings <= 0.001
    assert sum(each.wrong_fill * each.fill_samples for each in verdicts) / points <= 0.001


def spoiled(change: Callable[[Seen], Seen]) -> Verdict:
    """The verdict on a view that was changed by hand."""
    parts = bench()
    view = camera("front left top")
    return judge(change(look(build(parts, quality="coarse"), view)), Oracle(parts, view), samples=900, scans=60)


def test_the_judge_sees_a_line_too_many() -> None:
    """A line ruled over a face is false."""
    extra = Line("edge", "seat", ((0.0, 10.0), (20.0, 17.0)))
    assert spoiled(lambda seen: replace(seen, lines=(*seen.lines, extra))).false > 0.02


def test_the_judge_sees_a_line_too_few() -> None:
    """Without its longest line a view lacks one."""
    def without(seen: Seen) -> Seen:
        longest = max(seen.lines, key=lambda line: len(line.points))
        return replace(seen, lines=tuple(line for line in seen.lines if line is not longest))

    assert spoiled(without).missing > 0.02


def test_the_judge_sees_a_wrong_fill() -> None:
    """Two parts that changed names are filled wrongly."""
    def swapped(seen: Seen) -> Seen:
        other = {"seat": "wedge", "wedge": "seat"}
        return replace(seen, regions=tuple(replace(each, part=other.get(each.part, each.part)) for each in seen.regions))

    assert spoiled(swapped).wrong_fill > 0.02
