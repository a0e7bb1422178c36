"""Components and views of a plugin: used as if they were the compiler's own, told apart from each other, wrong in many ways."""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler import build
from compiler.base.report import Spot
from compiler.draw.view_words import KINDS, SIDES
from compiler.plug import load
from compiler.stages.own_views import own_view
from compiler.testing import plan
from compiler.testing.plans import HEAD as PLAN_HEAD
from compiler.values.contributions import Contributions
from compiler.values.document import View
from compiler.values.model import Model
from tests.made import SHOP
from tests.plug.plugins_at_hand import loaded, said

HEAD = "from compiler.api import *\n"
SHELF = '''
class Ladder(Component):
    """Two posts and rungs."""
    kind = "ladder"
    wood: Stock = ask.stock("poplar 4/4", "posts and rungs")
    rungs: int = ask.count(3, "how many rungs", least="1", most="9")
    step: Length = ask.size("6", "from rung to rung", metric="150", least="wood.thickness * 2", most="height / rungs")
    {field}
    written = """{text}"""
'''
TEXT = """
    middle: {across: width / 2}
    parts:
      post: {stock: wood, across: from 0, deep: 0 to depth, up: 0 to height, copies: mirror across}
      rung: {stock: wood, across: between left post and right post, deep: 0 to depth, up: from step, copies: rungs up every step}
    joints:
      - {dado: rung, into: post, depth: 1/4}
"""
HOOK = "\n@hook\ndef plugin() -> Plugin:\n    return Plugin(contract=1, {})\n"


def ladder(text: str = TEXT, field: str = "", brings: str = "components=(Ladder,)") -> str:
    return HEAD + SHELF.replace("{text}", text).replace("{field}", field) + HOOK.format(brings)


def seen(signature: str = "model: Model, part: Part", gives: str = "-> View", word: str = "beside", body: str = 'return View("front", only=(part.name,))') -> str:
    return HEAD + f'@view("{word}")\ndef beside({signature}) {gives}:\n    """A part alone."""\n    {body}\n' + HOOK.format("views=(beside,)")


MISTAKES = {
    "no word": (ladder().replace('kind = "ladder"', ""), 'labels:3 Component `Ladder` has no word of lower-case letters and spaces; write kind = "…", the word makers use.'),
    "no text": (ladder(text=""), 'labels:3 Component `Ladder` has no parts; write written = """parts: …""", as in design.yaml.'),
    "no docstring": (ladder().replace('"""Two posts and rungs."""', ""), "labels:3 Component `Ladder` has no docstring; its first line says in the reference what it is."),
    "asks for an item": (ladder(field='foot: Item = ask.item("felt foot 1", "under the posts")'),
                         "labels:9 `Ladder.foot` asks for item; a component asks for size, count, ratio, angle or stock."),
    "its own size": (ladder(field='width: Length = ask.size("1", "how wide")'), "labels:9 `Ladder.width`: `width` is the component's own; it follows from where it stands."),
    "no name in sizes": (ladder(field='clear: Length = ask.size("1", "room")'),
                         "labels:9 `Ladder.clear` can't be a name in sizes: A name can't contain `clear`. · Join the words: clear."),
    "no default": (ladder(field='gap: Length = ask.size(None, "room")'), "labels:9 `Ladder.gap` has no default; a component stands as soon as it has a place."),
    "misspelt name": (ladder(field='gap: Length = ask.size("steps / 2", "room")'), "labels:9 The `default` of `Ladder.gap` names `steps`, which is nothing. · Did you mean step?"),
    "a joint asks for a stock": (
        HEAD + 'class Peg(Joint):\n    """A peg."""\n    kind, how = "peg", "to"\n    wood: Stock = ask.stock("ash 4/4", "the peg")\n\n'
        "    def make(self, c: Contact) -> Work:\n        return Work()\n" + HOOK.format("joint_kinds=(Peg,)"), "labels:5 `Peg.wood` asks for a stock; only components do."),
    "no component": (ladder().replace("(Component)", "(Settings)"), "labels:3 `components` holds `Ladder`, which is no component; write class Ladder(Component)."),
    "no view": (seen().replace('@view("beside")\n', ""), "labels:2 `views` holds `beside`, which is no view; put @view(word) above it."),
    "no return": (seen(gives=""), "labels:2 View `beside` does not say that it makes a View; write -> View."),
    "the compiler's word": (seen(word="section of"), "labels:2 View `beside`: words that begin with `section` are the compiler's own views."),
    "a word in capitals": (seen(word="Beside"), "labels:2 View `beside`: the word `Beside` is not lower-case words and spaces."),
    "a length": (seen("model: Model, part: Length"), "labels:2 View `beside`: `part` is no Model, Part, tuple[Part, ...] or str; nothing else can stand behind a word."),
    "two things": (seen("part: Part, other: Part"), "labels:2 View `beside` takes more than one thing; behind a word stands one name or one text."),
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_is_told_with_its_line(tmp_path: Path, mistake: str) -> None:
    """One message, at the author's line, when the plugin is loaded."""
    code, expected = MISTAKES[mistake]
    outcome = loaded(tmp_path, labels=code)
    assert [expected] == [said(fault) for fault in outcome.report]
    assert outcome.value is not None and () == outcome.value.components + outcome.value.views


def test_two_that_bring_the_same_are_both_named(tmp_path: Path) -> None:
    """Neither is used."""
    outcome = loaded(tmp_path, one=ladder(), two=ladder(), three=seen(), four=seen())
    assert ["The component `ladder` is taken: one and two both bring it.", "The view word `beside` is taken: four and three both bring it."] == [
        fault.says for fault in outcome.report]


def test_the_words_of_the_compiler_are_one_list() -> None:
    """What a plugin can't take is what the judge of words knows."""
    for word in (*SIDES, *KINDS):
        assert word.isalpha()
        assert f"words that begin with `{word}`" in loaded_says(word)


def loaded_says(word: str) -> str:
    from compiler.plug.parts_and_views import judge_view
    from compiler.values.contributions import ViewTask

    found: list[str] = []

    def run() -> View:
        """A view."""
        return View("front")

    judge_view(ViewTask(run, f"{word} of"), "run", {"return": View}, found.append)
    return "; ".join(found)


# ---- used ----------------------------------------------------------------------------------------------

USE = "parts:\n  tower: {component: ladder, across: 0 to 20, deep: 0 to 3, up: 0 to 30WITH}\n"


def tower(folder: Path, code: str, given: str = "") -> Path:
    """A plan's folder that brings the plugin and uses it."""
    home = folder / "tower"
    (home / "plugins" / "ladders").mkdir(parents=True)
    (home / "plugins" / "ladders" / "__init__.py").write_text(code, encoding="utf-8")
    (folder / "shop.yaml").write_text(SHOP + "trusted: [tower]\n", encoding="utf-8")
    (home / "design.yaml").write_text(PLAN_HEAD + USE.replace("WITH", f", with: {{{given}}}" if given else ""), encoding="utf-8")
    (home / "notes.md").write_text("# A test\n\nA ladder.\n\n## Make it\n:adds: tower\n:time: 1 h\n\n- Build it.\n", encoding="utf-8")
    return home


def told(home: Path) -> list[tuple[str, str, str]]:
    """(place in the plan, author's line, sentence) of every error."""
    report = build.check(home, build.Wishes(), build.Workshop(store=None, installed=False)).report
    return [(".".join(map(str, fault.at.path)) if fault.at else "", next((f"{spot.file}:{spot.line}" for spot in fault.also if spot.line), ""), fault.says)
            for fault in report.errors]


def test_a_component_of_the_plans_own_plugin(tmp_path: Path) -> None:
    """No error; and a plan's own component of that name would come first."""
    assert [] == told(tower(tmp_path, ladder(), "rungs: 4, step: 5"))


@pytest.mark.parametrize(("text", "line", "says"), [
    (TEXT.replace("left post and", "left pots and"), 14, "There is no part called `left pots` in `ladder`."),
    (TEXT.replace("{stock: wood, across: from 0", "{stok: wood, across: from 0"), 13, "A part has no `stok`."),
    (TEXT.replace("{dado: rung", "{dodo: rung"), 16, "There is no joint called `dodo`."),
    (TEXT.replace("depth: 1/4", "depth: 2"), 16, "The dado would go through `tower.left post`: 2 deep in 3/4."),
    (TEXT.replace("deep: 0 to depth, up: from step", "deep: 0 to 9, up: from step, grain: up"), 14, "Grain can't run through the thickness: `up` is that of `rung`."),
    (TEXT.replace("    middle: {across", "    middle: {across: {"), 11, "Nothing stands before this colon."),
])
def test_a_fault_in_its_text_is_told_at_the_use_and_at_the_authors_line(tmp_path: Path, text: str, line: int, says: str) -> None:
    """Where the maker stands, and where the author mends it."""
    found = told(tower(tmp_path, ladder(text)))
    assert found and ("parts.tower.component", f"plugins/ladders/__init__.py:{line}") == found[0][:2]
    assert says in found[0][2]


def test_a_default_that_does_not_fit_is_told_at_the_field(tmp_path: Path) -> None:
    """30 / 9 is less than the step of 6: the limit is the author's, the count the maker's."""
    assert [("parts.tower.component", "plugins/ladders/__init__.py:8", "`step` 6 is more than the most, height / rungs = 3 21/64.")] == told(tower(tmp_path, ladder(), "rungs: 9"))[:1]


def test_an_unknown_component_is_held_against_those_of_plugins() -> None:
    """The near name is a plugin's."""
    made = plan("parts:\n  drawer: {component: drawr box, across: 0 to 20, deep: 0 to 12, up: 0 to 6}\n")
    assert ("There is no component called `drawr box`. · Did you mean drawer box?",) == made.messages


# ---- views ---------------------------------------------------------------------------------------------

BOX = """
materials: {pine: white pine 4/4}
parts:
  side: {stock: pine, across: from 0, deep: 0 to 6, up: 0 to 20, grain: up}
  shelf: {stock: pine, across: side.right to 24, deep: 0 to 6, up: from 8, copies: 2 up every 6}
joints:
  - {dado: shelf, into: side, depth: 1/4}
"""


@pytest.fixture(scope="module")
def model() -> Model:
    return plan(BOX).model


@pytest.fixture(scope="module")
def bundled() -> Contributions:
    found = load(installed=False).value
    assert found is not None
    return found


@pytest.mark.parametrize(("words", "meant"), [
    ("cut through side", "section at side.middle from the top"),
    ("cut through shelf", "section at shelf 1.middle from the right"),
    ("step cut through shelf 2", "section at shelf 2.middle from the right"),
    ("front left top", "front left top"),
])
def test_cut_through_by_hand(words: str, meant: str, model: Model, bundled: Contributions) -> None:
    """A side's length runs up, so it is cut level; a shelf's across."""
    assert View(meant) == own_view(View(words), model, bundled.views).value


def test_it_is_drawn(model: Model, bundled: Contributions) -> None:
    """Both shelves and the side are cut: 3/4 thick, 6 deep."""
    from compiler import solid
    from compiler.draw.picture import picture

    view = own_view(View("cut through shelf", width=120), model, bundled.views).value
    assert view is not None
    drawing = picture(view, model, solid.build(model.parts, quality="coarse")).value
    assert drawing is not None and {"shelf 1", "shelf 2"} <= set(drawing.shows)


@pytest.mark.parametrize(("words", "says", "hint"), [
    ("cut through shalf", "`shalf` is no part of this plan.", "Did you mean shelf?"),
    ("cut through", "`cut through` needs the name of a part behind it.", "Write cut through and a part."),
])
def test_a_name_that_means_nothing_is_the_makers(words: str, says: str, hint: str, model: Model, bundled: Contributions) -> None:
    """At the place where the view is written, without a word of the plugin's code."""
    at = Spot("design.yaml", ("views", "inside"))
    (fault,) = own_view(View(words), model, bundled.views, at).report.errors
    assert (says, hint, at, ()) == (fault.says, fault.hint, fault.at, fault.also)


@pytest.mark.parametrize(("code", "words", "says"), [
    (seen(body="pass"), "beside shelf", "View `beside` gave a NoneType; it gives a View."),
    (seen(body="return part.nam"), "beside shelf", "View `beside` stopped: AttributeError: 'Part' object has no attribute 'nam'."),
    (seen("model: Model", body='return View("front")'), "beside shelf", "`beside` stands alone; `shelf` has no meaning behind it."),
])
def test_a_view_that_fails_is_told_with_its_line(tmp_path: Path, code: str, words: str, says: str, model: Model) -> None:
    """At the plan's place, with the author's line beside it."""
    kinds = loaded(tmp_path, labels=code).value
    assert kinds is not None
    at = Spot("design.yaml", ("views", "inside"))
    (fault,) = own_view(View(words), model, kinds.views, at).report.errors
    assert says == fault.says and at == fault.at
    assert "stands alone" in says or [spot.line for spot in fault.also] in ([2], [5])


def test_wishes_of_the_figure_stay(tmp_path: Path, model: Model) -> None:
    """What the figure asks for comes first, the plugin's own fills the rest; a corner is seen of the piece so far."""
    kinds = loaded(tmp_path, labels=seen("model: Model, parts: tuple[Part, ...]", body='return View("front left top", tinted=tuple(part.name for part in parts))')).value
    assert kinds is not None
    view = own_view(View("step beside shelf", only=("side", "shelf 1"), dimensions=False, width=90), model, kinds.views).value
    assert View("step front left top", only=("side", "shelf 1"), tinted=("shelf 1", "shelf 2"), dimensions=False, width=90) == view


def test_views_in_a_plan_are_judged(tmp_path: Path) -> None:
    """In design.yaml and in the notes, each at its place; what the plugin gives is judged as well."""
    home = tower(tmp_path, ladder() + "\n", "rungs: 4, step: 5")
    (home / "design.yaml").write_text((home / "design.yaml").read_text() + "views: {inside: cut through rnug}\n", encoding="utf-8")
    notes = home / "notes.md"
    notes.write_text(notes.read_text().replace(":time:", ":view: cut through posst\n:time:"), encoding="utf-8")
    assert [("views.inside", "`rnug` is no part of this plan."), ("", "`posst` is no part of this plan.")] == [(place, says) for place, _, says in told(home)]
