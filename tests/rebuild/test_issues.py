"""A new issue says what it changed, and letters stay what they were."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest

from compiler.base.report import Report
from compiler.build import Wishes, commands
from compiler.build.reading import Plan, editions_of
from compiler.values.model import Edition
from tests.shop import Small


@pytest.fixture
def shop(tmp_path: Path) -> Small:
    """A shop whose plan was published as issue 1."""
    small = Small(tmp_path / "home")
    small.lean()
    assert small.publish().report.ok
    return small


def words(pdf: bytes) -> str:
    """All the text, on one line."""
    document = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(document[number].get_textpage().get_text_bounded() for number in range(len(document))).split())


def test_the_first_issue_keeps_its_record_and_prints_no_changes(shop: Small) -> None:
    """There is nothing to hold it against."""
    kept = json.loads((shop.plan / "issues/1.inch-letter.json").read_text())
    assert (1, "7", []) == (kept["issue"], kept["plan"], kept["changes"])
    assert "What issue" not in words(shop.pdf)


def test_the_second_issue_prints_what_it_changed(shop: Small) -> None:
    """Part, old size, new size; the record of the first stays as it was."""
    first = (shop.plan / "issues/1.inch-letter.json").read_bytes()
    shop.edit("design.yaml", "issue: 1", "issue: 2")
    shop.edit("design.yaml", "rail.back for 5", "rail.back for 5 1/2")
    published = shop.publish()
    assert published.report.ok, published.report
    assert ["cut list, B shelf: width 5 → 5 1/2"] == [change.sentence for change in published.editions[0].changes if change.of == "cut list"]
    text = words(shop.pdf)
    assert "What issue 2 changed" in text
    assert "Cut list, B shelf: width was 5, is 5 1/2" in text
    assert first == (shop.plan / "issues/1.inch-letter.json").read_bytes()
    record = json.loads((shop.plan / "issues/2.inch-letter.json").read_text())
    assert "Cut list, B shelf: width was 5, is 5 1/2" in record["changes"]


def test_a_third_issue_tells_of_both(shop: Small) -> None:
    """The buyer of issue 1 reads all that differs; publishing it twice changes no byte."""
    for issue, width in ((2, "5 1/2"), (3, "6")):
        shop.edit("design.yaml", f"issue: {issue - 1}", f"issue: {issue}")
        shop.edit("design.yaml", f"rail.back for {'5 1/2' if issue == 3 else '5'}", f"rail.back for {width}")
        assert shop.publish().report.ok
    text = words(shop.pdf)
    assert text.index("What issue 3 changed") < text.index("What issue 2 changed")
    assert "width was 5 1/2, is 6" in text and "width was 5, is 5 1/2" in text
    before = shop.pdf
    assert shop.publish().report.ok
    assert before == shop.pdf


def test_letters_stay_when_a_part_comes_and_one_goes(shop: Small) -> None:
    """A is the rail, B was the shelf: no other part is ever called B."""
    shop.edit("design.yaml", "  shelf: {stock: wood, across: 0 to width", "  ledge: {stock: wood, across: 0 to width")
    shop.edit("design.yaml", "butt: shelf", "butt: ledge")
    shop.edit("notes.md", ":adds: shelf", ":adds: ledge")
    shop.edit("notes.md", 'part("shelf")', 'part("ledge")')
    assert shop.publish().report.ok
    assert ["A: rail", "B: (gone) shelf", "C: ledge"] == (shop.plan / "letters.yaml").read_text().splitlines()[1:]


def test_the_record_of_a_newer_version_is_an_error(shop: Small) -> None:
    """What that issue said can't be known; nothing is published."""
    before = shop.pdf
    kept = shop.plan / "issues/1.inch-letter.json"
    kept.write_text(json.dumps({**json.loads(kept.read_text()), "format": 999}))
    shop.edit("design.yaml", "issue: 1", "issue: 2")
    assert "newer-record" in [each.code for each in shop.publish().report.errors]
    assert before == shop.pdf


def test_an_unreadable_record_is_a_warning(shop: Small) -> None:
    """The plan is published; what changed is not known."""
    (shop.plan / "issues/1.inch-letter.json").write_text("{")
    shop.edit("design.yaml", "issue: 1", "issue: 2")
    published = shop.publish()
    assert published.report.ok
    assert "record-unreadable" in [each.code for each in published.report]


def test_an_edition_has_one_file_whatever_is_wished_for(shop: Small) -> None:
    """The metric edition alone stands beside the first edition that the plan names, and is not held against it."""
    inch = shop.pdf
    published = shop.publish(Wishes(units="mm"))
    assert published.report.ok, published.report
    assert [("wall-rail.metric-a4.pdf", ())] == [(edition.path.name, edition.changes) for edition in published.editions]
    assert inch == shop.pdf


def test_the_editions_are_asked_for_as_often_for_two_as_for_one(shop: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    """Those to make, and those that the plan names, from which the files are named."""
    asked: list[Wishes] = []

    def counted(plan: Plan, wishes: Wishes, *, every: bool = False) -> tuple[tuple[Edition, ...], Report]:
        asked.append(wishes)
        return editions_of(plan, wishes, every=every)

    monkeypatch.setattr(commands, "editions_of", counted)
    shop.edit("design.yaml", "editions: [inch letter, metric a4]", "editions: [inch letter, inch a4, metric a4]")
    published = shop.publish()
    assert published.report.ok, published.report
    assert ["wall-rail.pdf", "wall-rail.inch-a4.pdf"] == [edition.path.name for edition in published.editions]
    assert [Wishes(), Wishes()] == asked
