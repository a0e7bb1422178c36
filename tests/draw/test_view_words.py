"""Words of views are judged before anything is drawn, and told with what was meant."""

from __future__ import annotations

from dataclasses import replace

import pytest

from compiler.base.report import Spot
from compiler.draw.picture import picture
from compiler.draw.view_words import fault_of
from compiler.solid import build
from compiler.stages.inspect import judge_views
from compiler.values.document import View
from compiler.values.figure import Lettering
from tests.draw.pieces import bookcase

CASE = bookcase()


@pytest.mark.parametrize("words", [
    "front", "left side", "front left top", "isometric", "top", "front right top without top", "section at middle from the right",
    "section at 6 from the front", "section at top.bottom from the top", "detail of side", "detail of side from the front", "exploded",
    "exploded front left top", "part side", "sizes",
])
def test_words_that_can_be_drawn(words: str) -> None:
    """Nothing is said of them, and they give a drawing."""
    assert fault_of(words, CASE) is None
    solids = build((*CASE.parts, *CASE.pieces), quality="coarse")
    assert picture(View(words, width=120), CASE, solids).value is not None


@pytest.mark.parametrize(("words", "said", "hint"), [
    ("frnt left top", "`frnt` is no side", "Did you mean front?"),
    ("front back top", "opposite, or the same", "A corner is"),
    ("sectoin at 6 from the front", "`sectoin` is no side", "Did you mean section?"),
    ("section at 6", "doesn't say from which side", "section at 12 from the front"),
    ("section at 6 from the frunt", "`frunt` is no side to look from", "Did you mean front?"),
    ("section at 600 from the front", "misses the piece", "inside the piece"),
    ("section at tpo.bottom from the top", "`tpo.bottom` is no place", "Did you mean top?"),
    ("detail of sdie", "`sdie` is no part", "Did you mean side?"),
    ("front without tpo", "`tpo` is no part", "Did you mean top?"),
    ("", "without words", "Write front"),
])
def test_words_that_mean_nothing(words: str, said: str, hint: str) -> None:
    """What is wrong, and what was meant."""
    fault = fault_of(words, CASE)
    assert fault is not None
    assert said in fault[0] and hint in fault[1]


def test_a_view_with_nothing_left_in_it() -> None:
    """Every part left out by name."""
    everything = ", ".join(dict.fromkeys(part.kind for part in CASE.parts))
    fault = fault_of(f"front without {everything}", CASE)
    assert fault is not None and fault[0] == "Nothing is left to see in this view."


def test_each_fault_is_told_at_its_place() -> None:
    """Two places with the same words are two faults; a step without a view is none."""
    spots = [Spot("design.yaml", ("views", "one")), Spot("notes.md", line=4, column=8)]
    report = judge_views([("frnt", spots[0]), ("frnt", spots[1]), ("", None), ("sheets", None)], CASE)
    assert [fault.at for fault in report] == spots
    assert not report.ok


def test_a_picture_shows_the_sizes_of_what_it_shows() -> None:
    """Without its top the bookcase is as wide as its sides stand apart, and lower by the top's thickness."""
    solids = build((*CASE.parts, *CASE.pieces), quality="coarse")
    drawn = {words: _numbers(words, solids) for words in ("front right top", "front right top without top")}
    sides = [part for part in CASE.parts if part.kind == "side"]
    wide = max(part.box.across.end for part in sides) - min(part.box.across.start for part in sides)
    assert len(drawn["front right top"]) == 3
    assert CASE.edition.show(wide) in drawn["front right top without top"]
    assert CASE.edition.show(wide) not in drawn["front right top"]


def _numbers(words: str, solids: object) -> list[str]:
    drawing = picture(View(words, width=160), CASE, solids).value  # type: ignore[arg-type]
    assert drawing is not None
    return [mark.text for mark in drawing.marks if isinstance(mark, Lettering) and mark.role == "dimension"]


def test_an_explosion_moves_parts_as_far_as_it_is_told() -> None:
    """The top 13/2 in up: further than the same drawing moves it by itself."""
    solids = build((*CASE.parts, *CASE.pieces), quality="coarse")
    far = replace(CASE, explode=(("top", "up 40"),))
    one, two = (picture(View("exploded", width=168), model, solids).value for model in (CASE, far))
    assert one is not None and two is not None
    assert one.marks != two.marks
