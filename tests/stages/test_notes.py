"""Build notes become steps; sizes come from the model; every slip is told at its place."""

from compiler.base.measures import Length, inch
from compiler.base.report import Diagnostic, Outcome, Report, Spot
from compiler.stages.notes import read_notes
from compiler.values import document as doc
from compiler.values.notes import Notes
from tests.models import case

SIZES = {"shelf.length": inch("23 1/16"), "housing": inch("1/4"), "1/16": inch("1/16")}


def evaluate(text: str, at: Spot) -> Outcome[Length]:
    """Stands for the grammar of sizes: knows three texts."""
    if text in SIZES:
        return Outcome(SIZES[text])
    return Outcome(None, Report((Diagnostic("unknown-name", f"No `{text}`.", at),)))


def no_photo(path: str, says: str, caption: str, at: Spot) -> Outcome[doc.Photo]:
    """There are no photos here."""
    return Outcome(None, Report((Diagnostic("no-such-photo", path, at),)))


def read(text: str) -> Outcome[Notes]:
    """The notes of the small case."""
    return read_notes(text, "notes.md", case(), evaluate, no_photo)


def faults(text: str) -> list[tuple[str, int | None, int | None]]:
    """Code, line and column of each fault."""
    return [(d.code, d.at.line if d.at else None, d.at.column if d.at else None) for d in read(text).report]


BUILD = "# Case\n\n## Glue up\n:adds: side, shelf\n:time: 1 h 30 min\n\n"


def test_headings_are_steps_with_their_fields() -> None:
    """Names stand for all copies; hours and minutes are added up."""
    outcome = read(BUILD + "Glue it.\n")
    assert outcome.value is not None
    (step,) = outcome.value.steps
    assert ("left side", "right side", "shelf") == step.adds
    assert 90 == step.minutes
    assert outcome.report.ok


def test_a_size_in_braces_is_the_models_own_length() -> None:
    """It is shown, and rounded, only on the page."""
    notes = read(BUILD + "Cut {{ part(\"shelf\") }} to {{ shelf.length }}.\n").value
    assert notes is not None
    (paragraph,) = notes.steps[0].content
    assert isinstance(paragraph, doc.Paragraph)
    assert ("Cut ", inch("23 1/16")) == (paragraph.content[0], paragraph.content[3])
    mark = paragraph.content[1]
    assert isinstance(mark, doc.PartMark) and ("B", "shelf") == (mark.letter, mark.name)


def test_a_joints_own_value_is_named_by_its_parts() -> None:
    """The part that acts first."""
    notes = read(BUILD + '{{ joint("shelf", "left side").depth }} deep\n').value
    assert notes is not None
    (paragraph,) = notes.steps[0].content
    assert isinstance(paragraph, doc.Paragraph) and inch("1/4") == paragraph.content[0]


def test_stars_between_braces_are_no_emphasis() -> None:
    """The grammar of sizes is read before Markdown's own marks."""
    assert [("unknown-name", 7, 4)] == faults(BUILD + "{{ 2 * housing * 2 }}\n")


def test_a_measure_typed_by_hand_must_be_one_of_the_plans() -> None:
    """23 1/16 is the shelf; 35 1/2 is nothing here, and the nearest size is named."""
    (warning,) = read(BUILD + "Cut it 35 1/2 long, not 23 1/16.\n").report
    assert "hand-typed-size" == warning.code
    assert (7, 8) == (warning.at.line, warning.at.column) if warning.at else False
    assert "35 1/2 is no size of this plan; width is 24." == warning.says


def test_times_and_counts_typed_by_hand_are_no_measures() -> None:
    """Only a fraction or a number with a unit is taken for a measure."""
    assert [] == faults(BUILD + "Wait 24 hours, apply 3 coats, sand with 180 grit for 1/2 hour.\n")


def test_a_part_must_be_added_once() -> None:
    """The shelf never, the sides twice."""
    text = "# Case\n\n## One\n:adds: side\n\nA.\n\n## Two\n:adds: side\n\nB.\n"
    assert {"added-twice", "never-added"} == {code for code, _, _ in faults(text)}


def test_slips_in_fields_are_told_at_the_word() -> None:
    """An unknown field, an unknown part, a time that is none."""
    text = "# Case\n\n## Glue up\n:adds: side, shelf, sides\n:tiem: 40 min\n:time: soon\n\nGo.\n"
    assert [("unknown-field", 5, 2), ("unknown-part", 4, 21), ("bad-field", 6, 8)] == faults(text)


def test_template_statements_are_refused() -> None:
    """Nothing in the notes is run as code."""
    assert [("statement-in-notes", 7, 1)] == faults(BUILD + "{% if metric %}\n")


def test_a_step_for_the_other_edition_is_left_out() -> None:
    """`:only: metric` is not for readers of inches."""
    notes = read(BUILD + "Go.\n\n## Convert\n:only: metric\n\nX.\n").value
    assert notes is not None
    assert ["Glue up"] == [step.key for step in notes.steps]


def test_signal_words_checks_and_notes_become_blocks() -> None:
    """A paragraph says what it is with its first word."""
    notes = read(BUILD + "WARNING: The guard is off.\n\nCheck: it is square.\n").value
    assert notes is not None
    warning, check = notes.steps[0].content
    assert isinstance(warning, doc.Signal) and ("WARNING", (("The guard is off.",),)) == (warning.word, warning.content)
    assert isinstance(check, doc.Check) and ("It is square.",) == check.content


def test_a_place_to_fill_is_told_and_never_printed() -> None:
    """A starter's notes say what is still to be written."""
    outcome = read(BUILD + "Glue it. [fill: which glue you use]\n")
    (advice,) = outcome.report
    assert ("to-fill", "To fill: which glue you use.") == (advice.code, advice.says)
    assert outcome.value is not None
    (paragraph,) = outcome.value.steps[0].content
    assert isinstance(paragraph, doc.Paragraph) and ("Glue it.",) == paragraph.content


def test_places_to_fill_are_told_and_leave_no_trace() -> None:
    """In a paragraph, alone, in a list, behind `Check:`, in fields and in headings; a blank of low lines is one too."""
    text = (
        "# Case\n:subtitle: A case. [fill: say more]\n\nFor ____ it is. [fill: for whom]\n\n[fill: a photo]\n\n# Build [fill: a name]\n"
        "## Glue up [fill: which glue]\n:adds: side, shelf\n:video: [fill: its address]\n:tools: [fill: yours]\n\n"
        "- [fill: how you hold it]\n- Glue it.\n\nCheck: [fill: what]\n\n1. [fill: one]\n"
    )
    outcome = read(text)
    notes = outcome.value
    assert notes is not None and outcome.report.ok
    assert {"to-fill"} == {fault.code for fault in outcome.report}
    places = sorted((fault.at.line or 0, fault.at.column or 0) for fault in outcome.report if fault.at)
    assert [(2, 20), (4, 5), (4, 17), (6, 1), (8, 9), (9, 12), (11, 9), (12, 9), (14, 3), (17, 8), (19, 4)] == places
    (step,) = notes.steps
    assert ("A case.",) == notes.subtitle and ("Glue up", "Build", "", ()) == (step.key, step.group, step.video, step.tools)
    assert (doc.Paragraph(content=("For it is.",)),) == notes.introduction
    assert (doc.ItemList(items=((("Glue it.",),),), style="bullets"),) == step.content


def test_a_word_with_low_lines_is_no_blank() -> None:
    """`a___b` is a name of something."""
    assert [] == faults(BUILD + "Save it as rail___2, `__`.\n")
