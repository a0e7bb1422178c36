"""Running plugins: needs, order, failures, hazards, and what an author's function must not do."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from compiler.base.measures import inch
from compiler.base.report import Outcome, Spot
from compiler.plug import load_given
from compiler.stages.derive import derive
from compiler.values.contributions import Brought, Plugin, SafetyRule, check, section, task
from compiler.values.derived import Derived
from compiler.values.document import Paragraph
from compiler.values.findings import Findings, Hazard, error, hazard
from compiler.values.model import Model
from tests.plug.plugins_at_hand import loaded, said
from tests.plugins.small_models import PLY, model, part, shop

MODEL = model(part("side", PLY, inch(33), inch(11)))
HEAD = "from dataclasses import dataclass\nfrom compiler.api import *\n"
LABELS = '''
@dataclass(frozen=True)
class Labels:
    """Labels."""
    number: int

@task
def labels(model: Model) -> Labels:
    """One label a part."""
    BODY
    return Labels(len(model.parts))

@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(labels,))
'''


@dataclass(frozen=True)
class One:
    """A product."""

    number: int


@dataclass(frozen=True)
class Two:
    """A product that needs another."""

    number: int


@task
def one(model: Model) -> One:
    """The number of parts."""
    return One(len(model.parts))


@task
def two(one: One) -> Two:
    """Twice as many."""
    return Two(one.number * 2)


def run(plugin: Plugin, *given: object) -> Outcome[Derived]:
    outcome = load_given(plugin)
    assert outcome.value is not None
    assert () == outcome.report.diagnostics
    return derive(outcome.value, (MODEL, MODEL.edition, shop(), *given))


def body(folder: Path, *lines: str) -> list[str]:
    """What is said when the task of the plugin `labels` has this body; its first line is line 12."""
    code = HEAD + LABELS.replace("BODY", "\n    ".join(lines))
    outcome = loaded(folder, labels=code)
    assert outcome.value is not None
    assert () == outcome.report.diagnostics
    return [said(entry) for entry in derive(outcome.value, (MODEL,)).report]


def test_tasks_run_in_the_order_of_their_needs() -> None:
    """Whatever order they are brought in."""
    derived = run(Plugin(contract=1, tasks=(two, one))).value
    assert derived is not None
    assert (One(1), Two(2)) == (derived.get(One), derived.get(Two))


def test_a_failing_task_takes_only_those_that_need_it(tmp_path: Path) -> None:
    """One diagnostic, and the other task still made its product."""

    @task
    def broken(model: Model) -> One:
        """It divides by zero."""
        return One(len(model.parts) // 0)

    @dataclass(frozen=True)
    class Other:
        """Needs nothing of it."""

        number: int

    @task
    def other(model: Model) -> Other:
        """Independent."""
        return Other(7)

    other.run.__annotations__["return"] = Other
    outcome = run(Plugin(contract=1, tasks=(broken, two, other)))
    assert ["`broken` stopped: ZeroDivisionError: integer division or modulo by zero."] == [d.says for d in outcome.report]
    assert outcome.value is not None
    assert (None, None, Other(7)) == (outcome.value.get(One), outcome.value.get(Two), outcome.value.get(Other))


@pytest.mark.parametrize(("line", "expected"), [
    ("1 // 0", "labels:12 `labels` stopped: ZeroDivisionError: integer division or modulo by zero."),
    ("raise SystemExit(3)", "labels:12 `labels` stopped: SystemExit: 3."),
    ("open('notes.txt')", "labels:12 `labels` opens a file: notes.txt; a plugin gets all it needs as needs."),
    ("import os; os.open('notes.txt', 0)", "labels:12 `labels` opens a file: notes.txt; a plugin gets all it needs as needs."),
    ("import pathlib; pathlib.Path('notes.txt').read_text()",
     "labels:12 `labels` opens a file: notes.txt; a plugin gets all it needs as needs."),
    ("import os; os.listdir('.')", "labels:12 `labels` lists a folder; a plugin gets all it needs as needs."),
    ("import socket; socket.socket()", "labels:12 `labels` opens a connection; a plugin gets all it needs as needs."),
    ("import subprocess; subprocess.run(['true'])", "labels:12 `labels` runs a program: true; a plugin gets all it needs as needs."),
    ("import os; os.system('true')", "labels:12 `labels` runs a program: true; a plugin gets all it needs as needs."),
    ("print('here')", "labels:12 `labels` prints “here”. · Yield a warning or advice from a check."),
    ("inch(0.25)", "labels:12 `labels`: 0.25 is not an exact number; write a whole number, a Fraction or a text."),
    ("return None", "labels:9 `labels` gave a NoneType; it gives a Labels. · Is there a return?"),
    ("return 'text'", "labels:9 `labels` gave a str; it gives a Labels."),
])
def test_a_function_that_goes_wrong_is_one_message_at_its_line(line: str, expected: str, tmp_path: Path) -> None:
    """What it did, and the author's very line."""
    assert [expected] == body(tmp_path, line)


def test_a_refusal_is_told_even_when_the_author_catches_it(tmp_path: Path) -> None:
    """A caught exception must not make a product that depends on a file."""
    assert ["labels:13 `labels` opens a file: notes.txt; a plugin gets all it needs as needs."] == body(
        tmp_path, "try:", "    open('notes.txt')", "except Exception:", "    pass")


def test_an_import_inside_a_function_is_no_reaching_out(tmp_path: Path) -> None:
    """A module's own file may be read."""
    sys.modules.pop("colorsys", None)
    assert [] == body(tmp_path, "import colorsys")
    assert "colorsys" in sys.modules


def test_a_loop_that_never_ends_is_stopped_at_its_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And the next plugin gets its turn."""
    monkeypatch.setattr("compiler.guard.LONGEST", 0.2)
    assert ["labels:12 `labels` was stopped after 0.2 s. · A loop that never ends?"] == body(tmp_path, "while True: pass")
    assert [] == body(tmp_path / "next", "pass")


def test_the_guard_lets_go_after_the_call(tmp_path: Path) -> None:
    """Files can be opened again once the author's function is done."""
    body(tmp_path, "pass")
    (tmp_path / "x.txt").write_text("x")
    assert "x" == (tmp_path / "x.txt").read_text()


def test_findings_become_diagnostics_of_the_checks_name() -> None:
    """With the place of the part and the key below it."""
    placed = model(part("side", PLY, inch(33), inch(11)))
    where = Spot("design.yaml", ("parts", "side"))

    @check
    def too_wide(model: Model) -> Findings:
        """A part wider than the saw takes."""
        yield error("side is 11 wide", at=where, key="deep", hint="Make it 10.")

    outcome = load_given(Plugin(contract=1, checks=(too_wide,)))
    assert outcome.value is not None
    (found,) = derive(outcome.value, (placed,)).report.diagnostics
    assert ("too-wide", "side is 11 wide", Spot("design.yaml", ("parts", "side", "deep")), "Make it 10.") == (
        found.code, found.says, found.at, found.hint)


def test_a_hazard_without_a_rule_is_a_warning() -> None:
    """It would be lost silently; with a rule nothing is said."""

    @check
    def tips(model: Model) -> Findings:
        """It may tip over."""
        yield hazard("tip-over", at=model)

    rule = SafetyRule(word="WARNING", says="Fix it to the wall.", source="16 CFR 1261", hazard="tip-over")
    assert ["No safety rule answers the hazard `tip-over`."] == [d.says for d in run(Plugin(contract=1, checks=(tips,))).report]
    answered = run(Plugin(contract=1, checks=(tips,), safety_rules=(rule,)))
    assert ((), (Hazard("tip-over", Spot("design.yaml")),)) == (answered.report.diagnostics, answered.value and answered.value.hazards)


def test_a_task_may_need_the_hazards_that_checks_find() -> None:
    """It waits for the checks, though tasks come first."""

    @check
    def tips(one: One) -> Findings:
        """It may tip over."""
        yield hazard("tip-over")

    @task
    def cautions(hazards: tuple[Hazard, ...], rules: tuple[SafetyRule, ...]) -> Two:
        """As many as hazards and rules."""
        return Two(len(hazards) * 10 + len(rules))

    rule = SafetyRule(word="WARNING", says="Fix it to the wall.", source="16 CFR 1261", hazard="tip-over")
    derived = run(Plugin(contract=1, tasks=(cautions, one), checks=(tips,), safety_rules=(rule,))).value
    assert Two(11) == (derived and derived.get(Two))


def test_a_product_may_have_many_makers_and_a_need_may_be_missing() -> None:
    """`tuple[X, ...]` gathers all of them by plugin and name; `X | None` is None when nothing makes it."""

    @task
    def some(model: Model) -> tuple[One, ...]:
        """Two of them."""
        return One(1), One(2)

    @task
    def more(model: Model) -> tuple[One, ...]:
        """One more."""
        return (One(3),)

    @task
    def total(ones: tuple[One, ...], nothing: Derived | None) -> Two:
        """Their sum."""
        return Two(sum(each.number for each in ones) + (0 if nothing is None else 100))

    derived = run(Plugin(contract=1, tasks=(total, some, more))).value
    assert derived is not None
    assert (Two(6), (One(3), One(1), One(2))) == (derived.get(Two), derived.all(One))


def test_a_section_that_yields_nothing_is_left_out() -> None:
    """And one that yields is paired with what it stands after."""

    @section("Empty", after="steps")
    def empty(model: Model) -> Any:
        """Nothing to say."""
        yield from ()

    @section("Full", after="steps")
    def full(model: Model) -> Any:
        """Something."""
        yield Paragraph("Words.")

    derived = run(Plugin(contract=1, sections=(empty, full))).value
    assert derived is not None
    assert [("steps", "full", "Full")] == [(after, made.name, made.title) for after, made in derived.sections]


def test_a_section_behind_an_empty_one_stands_where_that_would_have_stood() -> None:
    """Board layouts follow sheet layouts; a bench of solid wood has none of these."""

    @section("Sheets", after="cut list")
    def sheets(model: Model) -> Any:
        """Nothing to say."""
        yield from ()

    @section("Boards", after="sheets")
    def boards(model: Model) -> Any:
        """Something."""
        yield Paragraph("Words.")

    derived = run(Plugin(contract=1, sections=(sheets, boards))).value
    assert derived is not None
    assert [("cut list", "boards")] == [(after, made.name) for after, made in derived.sections]


@pytest.mark.parametrize(("code", "expected"), [
    ('@check\ndef tips(model: Model) -> Findings:\n    """It tips."""\n', "labels:3 `tips` has no yield; a check yields error(…), warning(…),"
     " advice(…) or hazard(…)."),
    ('@check\ndef tips(model: Model) -> Findings:\n    """It tips."""\n    yield "it tips"\n', "labels:3 `tips` yields a str; a check yields"
     " error(…), warning(…), advice(…) or hazard(…)."),
    ('@section("T", after="steps")\ndef tips(model: Model) -> Blocks:\n    """It tips."""\n    yield "words"\n', "labels:3 `tips` yields a"
     " str; a section yields blocks: Paragraph(…), Table(…), Figure(…)."),
    ('@export(".csv")\ndef tips(model: Model) -> str:\n    """It tips."""\n    return 1\n', "labels:3 `tips` gave a int; an export gives"
     " text, bytes or Leaves."),
])
def test_what_is_yielded_must_be_of_its_kind(code: str, expected: str, tmp_path: Path) -> None:
    """One message each."""
    field = "checks" if "@check" in code else "sections" if "@section" in code else "exports"
    outcome = loaded(tmp_path, labels=f"{HEAD}{code}\n@hook\ndef plugin() -> Plugin:\n    return Plugin(contract=1, {field}=(tips,))\n")
    assert outcome.value is not None
    assert [expected] == [said(entry) for entry in derive(outcome.value, (MODEL,)).report]


def test_exports_are_bytes_under_their_suffix(tmp_path: Path) -> None:
    """A text is written as UTF-8."""
    outcome = loaded(tmp_path, labels=HEAD + '@export(".csv")\ndef rows(model: Model) -> str:\n    """Rows."""\n    return "½"\n'
                     "@hook\ndef plugin() -> Plugin:\n    return Plugin(contract=1, exports=(rows,))\n")
    assert outcome.value is not None
    derived = derive(outcome.value, (MODEL,)).value
    assert ((".csv", "½".encode()),) == (derived and derived.exports)


SETTINGS = '''
class Wishes(Settings):
    """Wishes."""
    key = "labels"
    number: int = ask.count(2, "labels a part", least="1", most="4")
    edge: Length = ask.size("1/4", "edge kept clear", metric="8")
    sort: str = ask.word("plain", "how they look", of=("plain", "framed"))
''' + LABELS.replace("model: Model", "model: Model, wishes: Wishes").replace("len(model.parts)", "wishes.number * 100 + int(wishes.edge.mm)")


@pytest.mark.parametrize(("written", "expected"), [
    ({}, ([], 206)),
    ({"number": "3", "edge": "1/2"}, ([], 312)),
    ({"number": "9"}, (["`number` 9 is more than the most, 4."], None)),
    ({"nmber": "3"}, (["`labels` has no `nmber`."], 206)),
    ({"sort": "framde"}, (["`framde` is no word for `sort`."], None)),
])
def test_settings_are_read_and_judged(written: dict[str, str], expected: tuple[list[str], int | None], tmp_path: Path) -> None:
    """Defaults, what the shop wrote, limits, misspelt keys."""
    outcome = loaded(tmp_path, labels=HEAD + SETTINGS.replace("BODY", "pass"))
    assert outcome.value is not None
    result = derive(outcome.value, (MODEL, shop(settings=(("labels", tuple(written.items())),) if written else ())))
    made = [getattr(product, "number", None) for product in (result.value.products if result.value else ())]
    assert expected == ([entry.says for entry in result.report], made[0] if made else None)


def test_the_metric_edition_has_its_own_default(tmp_path: Path) -> None:
    """8 mm, not 6 1/2."""
    outcome = loaded(tmp_path, labels=HEAD + SETTINGS.replace("BODY", "pass"))
    assert outcome.value is not None
    result = derive(outcome.value, (model(units="mm"), shop()))
    assert () == result.report.diagnostics
    assert result.value is not None
    assert [208] == [getattr(product, "number", None) for product in result.value.products]


def test_a_kept_product_is_not_made_again() -> None:
    """`keep` sees the task and its inputs, and may answer from before."""
    seen: list[tuple[str, tuple[object, ...]]] = []

    def keep(entry: Brought[Any], inputs: tuple[object, ...], make: Any) -> Outcome[object]:
        seen.append((entry.name, inputs))
        return Outcome(One(42)) if entry.name == "one" else make()

    outcome = load_given(Plugin(contract=1, tasks=(one, two)))
    assert outcome.value is not None
    derived = derive(outcome.value, (MODEL,), keep=keep).value
    assert Two(84) == (derived and derived.get(Two))
    assert [("one", (MODEL,)), ("two", (One(42),))] == seen
