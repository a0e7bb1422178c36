"""The makers' manual says what the code does: no key, field, kind, command or message is missing, and every example is run."""

from __future__ import annotations

import argparse
import re
from pathlib import Path

import pypdfium2
import pytest

from compiler import cli
from compiler.base.digests import digest
from compiler.base.report import Report
from compiler.manual import design_words, notes_words, printing, sizes
from compiler.manual.commands import commands
from compiler.manual.design_words import ENTITIES, HARDWARE, SHOP, Entry
from compiler.manual.joint_words import COMPONENTS, EXAMPLES, component_design, design
from compiler.manual.messages import UNCAUSED, messages
from compiler.manual.working_words import WORKINGS, WorkingWords
from compiler.plug import load
from compiler.stages.check import keys, settings, wishes
from compiler.stages.notes import reading
from compiler.testing import plan
from compiler.values.contributions import Contributions
from compiler.values.document import Document
from tests.made import ROOT, attempt
from tests.made import SHOP as SHOP_TEXT


@pytest.fixture(scope="module")
def bundled() -> Contributions:
    found = load(installed=False).value
    assert found is not None
    return found


@pytest.fixture(scope="module")
def document() -> Document:
    outcome = printing.manual_document(commands(cli._parser()))
    assert outcome.value is not None and outcome.report.ok, [fault.says for fault in outcome.report.errors]
    return outcome.value


# ---- complete ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("entity", keys.KEYS)
def test_every_key_of_a_design_is_there(entity: str) -> None:
    """The check's own table, no key more and none less."""
    assert set(keys.KEYS[entity]) == {entry.key for entry in ENTITIES[entity][1]}


def test_every_key_of_a_shop_and_of_hardware_is_there() -> None:
    """The same for shop.yaml; for hardware the words that name parts."""
    assert set(settings.KEYS) == {entry.key for entry in SHOP}
    assert set(wishes.PLACES) <= {entry.key for entry in HARDWARE}


def test_every_field_of_the_notes_is_there() -> None:
    """Those below the title and those of a step."""
    assert set(reading.TITLE_FIELDS) == {entry.key for entry in notes_words.TITLE}
    assert set(reading.STEP_FIELDS) == {entry.key for entry in notes_words.STEP}


def test_every_bundled_joint_has_an_example(bundled: Contributions) -> None:
    """And no example is of a joint that isn't there."""
    assert set(bundled.joint_words) == set(EXAMPLES)


def test_every_component_and_view_of_plugins_is_there(bundled: Contributions, document: Document) -> None:
    """Each with an example, and in the tables."""
    assert {kind.name for kind in bundled.components} == set(COMPONENTS)
    section = next(each for each in document.sections if each.name == "notes")
    words = [getattr(row[0], "text", "") for block in section.blocks for group in getattr(block, "groups", ()) for row in group.rows]
    assert [] == [kind.name for kind in bundled.views if f"{kind.name} PART" not in words]


def test_every_working_is_there() -> None:
    """In the order of the check's own list."""
    assert set(keys.WORKINGS) == {each.kind for each in WORKINGS}


def test_every_command_is_there() -> None:
    """Each word that the parser takes, with a sentence."""
    found = commands(cli._parser())
    action = next(each for each in cli._parser()._actions if isinstance(each, argparse._SubParsersAction))
    assert list(action.choices) == [command.name for command in found]
    assert [] == [(command.name, words) for command in found for words, says in command.arguments if not says]


def test_every_code_in_the_sources_is_there(document: Document) -> None:
    """Counted by other means: a text search for codes given to the functions that tell."""
    told = {message.code for message in messages((ROOT / "compiler", ROOT / "plugins"), ROOT / "tests" / "cases")}
    pattern = re.compile(r"(?:\.error|\.warning|\.advice|Diagnostic|Refused)\(\s*\"([a-z]+(?:-[a-z]+)+)\"")
    searched = {code for folder in ("compiler", "plugins") for file in (ROOT / folder).rglob("*.py") for code in pattern.findall(file.read_text(encoding="utf-8"))}
    assert len(searched) > 100 and set() == searched - told
    section = next(each for each in document.sections if each.name == "messages")
    assert len(told) == sum(len(group.rows) for block in section.blocks for group in getattr(block, "groups", ()))


def test_every_message_has_an_example_that_is_run_or_a_reason_why_not() -> None:
    """The list of those without one is exact: a message that can be caused is not excused."""
    found = messages((ROOT / "compiler", ROOT / "plugins"), ROOT / "tests" / "cases")
    assert set(UNCAUSED) == {message.code for message in found if not message.tested}
    assert len(found) > 250 and len(UNCAUSED) < 6


# ---- true --------------------------------------------------------------------------------------------

BASE = """plan: A plan
number: 1
issue: 1
date: 2026-01-02
units: inch
editions: [inch letter, metric a4]
sizes: {height: 20}
middle: {across: 12, deep: 3}
materials: {wood: white oak 4/4}
parts:
  leg: {stock: wood, across: from 0, deep: 0 to 6, up: 0 to height, grain: up}
  shelf: {stock: wood, across: leg.right to 12, deep: 0 to 6, up: from 4}
"""


def put(entry: Entry) -> str:
    """The base plan with an entry at its head; a key that is there already is replaced."""
    text = BASE if entry.key != "parts" else BASE[: BASE.index("parts:")]
    lines = [line for line in text.splitlines() if not line.startswith(f"{entry.key}:")]
    return "\n".join((lines[0], entry.example, *lines[1:]) if entry.key != "plan" else (entry.example, *lines)) + "\n"


ALONE = ("overlap", "floating", "nothing-holds")
"""What is said of a part that an example puts anywhere: it was read."""


def faults(report: Report, *expected: str) -> list[str]:
    """Errors, but for those that follow from an example being alone."""
    return [f"{fault.says} [{fault.code}]" for fault in report.errors if fault.code not in (*ALONE, *expected)]


@pytest.mark.parametrize("entry", [entry for entry in design_words.PLAN if entry.key not in ("components",)], ids=lambda entry: entry.key)
def test_an_example_at_the_head_is_read(entry: Entry) -> None:
    """In a plan of two parts, in place of what it has."""
    _, report = attempt(put(entry))
    # Sizes and middles that the example does not name are missed by the base plan's parts.
    lone = ("unknown-size", "unknown-name", "no-middle", "name-taken") if entry.key in ("sizes", "middle", "assemblies") else ()
    assert [] == faults(report, *lone)


@pytest.mark.parametrize("entry", [entry for entry in design_words.PART if entry.key not in ("run", "component", "with", "profile")],
                         ids=lambda entry: entry.key)
def test_an_example_of_a_part_is_read(entry: Entry) -> None:
    """As a third part, with extents of its own where the example is another key."""
    places = {"across": "across: 0 to 12", "deep": "deep: 0 to 6", "up": "up: from 4"} | ({entry.key: entry.example} if entry.key in ("across", "deep", "up") else {})
    if entry.key == "edge band":
        places["up"] = "up: from 4"
    keys_of_part = [*places.values(), *([] if entry.key in (*places, "stock") else [entry.example])]
    stock = "stock: birch plywood 3/4" if entry.key == "edge band" else "stock: wood"
    _, report = attempt(f"{BASE}  third: {{{stock}, {', '.join(keys_of_part)}}}\n")
    assert [] == faults(report)


@pytest.mark.parametrize("entry", SHOP, ids=lambda entry: entry.key)
def test_an_example_of_the_shop_is_read(entry: Entry) -> None:
    """In a shop.yaml of its own."""
    _, report = attempt(BASE, shop=entry.example if entry.key == "shop" else f"{SHOP_TEXT.splitlines()[0]}\n{entry.example}\n")
    assert [] == faults(report)


@pytest.mark.parametrize("entry", [entry for entry in HARDWARE if entry.key not in ("item",)], ids=lambda entry: entry.key)
def test_an_example_of_hardware_is_read(entry: Entry) -> None:
    """With an item, and with the part that the example needs beside it."""
    beside = {"at": "on: shelf", "face": "on: shelf", "under": "in: leg", "in": "under: shelf", "from": "to: leg", "to": "from: shelf", "count": "on: shelf",
              "per": "on: leg"}.get(entry.key, "")
    words = ", ".join(word for word in ("item: knob 1 1/4", beside, entry.example) if word)
    _, report = attempt(f"{BASE}hardware:\n  - {{{words}}}\n")
    assert [] == faults(report)


@pytest.mark.parametrize("word", EXAMPLES)
def test_an_example_of_a_joint_is_made(word: str) -> None:
    """Without an error, with a joint in it."""
    made = plan(design(word))
    assert [] == list(made.errors)
    assert [word] == sorted({joint.kind for joint in made.model.joints})


@pytest.mark.parametrize("word", COMPONENTS)
def test_an_example_of_a_component_is_made(word: str, bundled: Contributions) -> None:
    """Without an error, every part of it of this component; and it has its picture."""
    made = plan(component_design(word))
    assert [] == list(made.errors)
    assert {word} == {part.component for part in made.model.parts}
    assert printing.component_picture(word, bundled) is not None


@pytest.mark.parametrize("word", [word for word in EXAMPLES if word not in ("hang", "rest")])
def test_a_joint_has_its_picture(word: str, bundled: Contributions) -> None:
    """The detail of the example."""
    drawing = printing.joint_picture(word, bundled)
    assert drawing is not None and drawing.width > 20


def board(working: str) -> str:
    return f"{BASE}  board: {{stock: wood, across: 0 to 12, deep: 0 to 6, up: from 10, workings: [{working}]}}\n"


@pytest.mark.parametrize("each", WORKINGS, ids=lambda each: each.kind)
def test_an_example_of_a_working_is_made(each: WorkingWords) -> None:
    """On a board of 12 by 6."""
    model, report = attempt(board(each.example))
    assert [] == faults(report)
    assert model is not None and [each.kind] == [working.kind for working in model.part("board").workings]


@pytest.mark.parametrize("each", WORKINGS, ids=lambda each: each.kind)
def test_the_keys_of_a_working_are_those_that_it_takes(each: WorkingWords) -> None:
    """As its own message names them when one is wrong."""
    _, report = attempt(board(each.example.replace("}", ", zzz: 1}", 1) if "diameter}" not in each.example else each.example[:-1] + ", zzz: 1}"))
    hint = next(fault.hint for fault in report.errors if fault.code == "unknown-key")
    named = re.split(r", | and ", hint.removeprefix("Its keys are ").rstrip("."))
    assert set(each.keys) == set(named)


@pytest.mark.parametrize("form", [form for _, forms in sizes.SIZES for form in forms], ids=lambda form: form.text)
def test_a_form_is_read(form: sizes.Form) -> None:
    """By the grammar; sizes are worked out."""
    assert bool(sizes.shown(form)) == (form.form == "size")


@pytest.mark.parametrize(("text", "shown"), [("width - 2 * leg", "33"), ("5' 3 1/2\"", "63 1/2"), ("width / 7 rounded to 1/16", "5 1/8"), ("18 mm", "45/64")])
def test_sizes_by_hand(text: str, shown: str) -> None:
    """36 - 3; 60 + 3 1/2; 36 ÷ 7 = 5.143, which 1/16 makes 5 1/8; 18 ÷ 25.4 = 0.7087, nearest 45/64."""
    form = next(form for _, forms in sizes.SIZES for form in forms if form.text == text)
    assert shown == sizes.shown(form)


def test_words_of_views_are_drawn() -> None:
    """Each of them, on the example of a tenon."""
    from compiler import solid
    from compiler.draw.picture import picture
    from compiler.values.document import View

    text = design("tenon").replace("leg:", "leg:").replace("parts:\n", "parts:\n  top: {stock: pine, across: 0 to 10, deep: 0 to 3, up: from 8}\n")
    text = text.replace("joints:\n", "joints:\n  - {butt: top, to: leg}\n")
    model, report = attempt(text)
    assert model is not None, faults(report)
    solids = solid.build(model.parts, quality="coarse")
    for words, _ in notes_words.VIEWS:
        drawn = picture(View(words.replace("at 8", "at 1")), model, solids)
        assert drawn.value is not None, (words, [fault.says for fault in drawn.report])


def test_it_is_the_same_twice(document: Document) -> None:
    """Nothing in it depends on when it is made."""
    again = printing.manual_document(commands(cli._parser())).value
    assert digest(document) == digest(again)


# ---- printed -----------------------------------------------------------------------------------------


def test_it_is_a_document_like_any_other(document: Document) -> None:
    """Numbered sections; every joint's keys in it."""
    assert ["folder", "sizes", "design", "workings", "joints", "components", "notes", "shop", "commands", "messages"] == [
        section.name for section in document.sections if section.numbered]
    assert all(section.number for section in document.sections if section.numbered)


def test_it_is_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By the command, as a PDF of a readable length."""
    assert 0 == cli.main(["manual", "--out", str(tmp_path)])
    first = (tmp_path / "makers-manual.pdf").read_bytes()
    pages = len(pypdfium2.PdfDocument(first))
    assert 15 <= pages <= 50 and f"{pages} pages" in capsys.readouterr().out
    text = "".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(first))
    assert "half-blind dovetail" in text and "unknown-part" in text and "--trust" in text
