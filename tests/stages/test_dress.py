"""Dress: themes are judged before they are used, templates are caged, words and sizes are set as a reader expects them."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.base.measures import Area, Volume, inch, mm
from compiler.base.report import Outcome, Severity
from compiler.base.showing import Style
from compiler.draw.stylesheet import StyleText, filled_in
from compiler.stages.dress import dress, load_theme
from compiler.stages.dress.blocks import lines
from compiler.stages.dress.cells import boxes
from compiler.stages.dress.options import contrast_on_white
from compiler.stages.dress.template_faults import TemplateFault
from compiler.stages.dress.templates import Templates
from compiler.stages.dress.toml_text import TomlText
from compiler.stages.dress.words import Words, fraction, money, typed
from compiler.values import document as doc
from compiler.values.theme import Theme
from tests.pages.sample_document import sample

THEMES = Path(__file__).parents[2] / "themes"
MakeTheme = Callable[..., Outcome[Theme]]


@pytest.fixture
def make(tmp_path: Path) -> MakeTheme:
    """Writes a theme folder and loads it; `toml` is what follows name and contract."""

    def made(toml: str = 'parent = "standard"\n', *, name: str = "mine", head: str = 'contract = 1\n', **files: str) -> Outcome[Theme]:
        folder = tmp_path / name
        folder.mkdir(exist_ok=True)
        (folder / "theme.toml").write_text(f'name = "{name}"\n{head}{toml}', encoding="utf-8")
        for place, text in files.items():
            target = folder / place.replace("__", "/").replace("_dot_", ".")
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(text, encoding="utf-8")
        return load_theme(folder, (tmp_path, THEMES))

    return made


def codes(outcome: Outcome[Theme]) -> list[str]:
    """The codes of an outcome's diagnostics."""
    return [found.code for found in outcome.report]


# ---- themes ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["standard", "workshop"])
def test_shipped_themes_load_without_a_word(name: str) -> None:
    """Both themes are free of faults and warnings."""
    outcome = load_theme(name, (THEMES,))
    assert outcome.value is not None and not outcome.report


def test_a_child_takes_what_it_does_not_name_from_its_parent(make: MakeTheme) -> None:
    """One overridden template, one option: the rest is the parent's."""
    child = make('parent = "standard"\n[set]\naccent = "#7a1f1f"\n', templates__check_dot_html="<p>mine</p>").value
    parent = load_theme("standard", (THEMES,)).value
    assert child is not None and parent is not None
    assert child.chain == ("standard", "mine")
    assert dict(child.templates)["check.html"] == "<p>mine</p>"
    assert {**dict(child.templates), "check.html": ""} == {**dict(parent.templates), "check.html": ""}
    assert next(option.value for option in child.options if option.name == "accent") == "#7a1f1f"


@pytest.mark.parametrize(("toml", "files", "code", "hint"), [
    ('parent = "standard"\n', {"templates__tabel_dot_html": "x"}, "theme-overrides-nothing", "Did you mean templates/table.html?"),
    ('parent = "standard"\n', {"styles__extra_dot_css": "x"}, "theme-overrides-nothing", "is named in theme.toml"),
    ('parent = "standard"\n[set]\nacent = "#000000"\n', {}, "theme-unknown-option", "Did you mean accent?"),
    ('parent = "standard"\n[set]\naccent = "blue"\n', {}, "theme-option-value", "at least 4.5"),
    ('parent = "standard"\n[options]\naccent = {kind = "colour", default = "#000000"}\n', {}, "theme-option-twice", "under [set]"),
    ('parent = "standard"\nstlyes = []\n', {}, "theme-unknown-key", "Did you mean styles?"),
    ('parent = "standard"\nstyles = "one.css"\n', {}, "theme-bad-key", "a list of texts"),
    ('parent = ["standard", "workshop"]\n', {}, "theme-parent", 'parent = "standard"'),
    ('parent = "standart"\n', {}, "unknown-theme", "Did you mean standard?"),
    ('parent = "standard"\nstyles = ["styles/gone.css"]\n', {}, "theme-missing-file", ""),
    ('parent = "standard"\nstyles = ["../out.css"]\n', {}, "theme-outside", "forward slashes"),
    ('parent = "standard"\n[fills]\nadeded = "#cccccc"\n', {}, "theme-unknown-role", "Did you mean added?"),
    ('parent = "standard"\n[pens]\noutline = {width = "thick"}\n', {}, "theme-pen", "outline"),
    ("", {}, "theme-missing-block", "a parent that has one"),
    ("parent = \n", {}, "theme-syntax", ""),
])
def test_a_fault_of_a_theme_is_named_with_its_cure(make: MakeTheme, toml: str, files: dict[str, str], code: str, hint: str) -> None:
    """The code, an error, and a hint that helps."""
    outcome = make(toml, **files)
    found = next((diagnostic for diagnostic in outcome.report if diagnostic.code == code), None)
    assert found is not None, codes(outcome)
    assert outcome.value is None and found.severity is Severity.ERROR
    assert hint in found.hint and found.says
    assert found.at is not None and found.at.line and found.at.column and found.at.shown


def test_a_wrong_contract_is_named_with_both_numbers(make: MakeTheme) -> None:
    """A theme of another contract is not guessed at."""
    outcome = make(head="contract = 7\n")
    assert codes(outcome) == ["theme-contract"] and "7" in outcome.report.diagnostics[0].says


def test_a_theme_that_is_its_own_ancestor_is_a_loop(make: MakeTheme) -> None:
    """The loop is shown from end to end."""
    make('parent = "two"\n', name="one")
    outcome = make('parent = "one"\n', name="two")
    assert codes(outcome) == ["theme-loop"] and "two → one → two" in outcome.report.diagnostics[0].says


def test_a_theme_cannot_be_called_by_a_path() -> None:
    """A name from a settings file never leaves the theme folders."""
    assert codes(load_theme("../standard", (THEMES,))) == ["unknown-theme"]


def test_every_look_at_a_file_is_recorded_misses_too(make: MakeTheme, tmp_path: Path) -> None:
    """What the child does not have is a recorded miss: adding it later must be noticed."""
    theme = make().value
    assert theme is not None
    reads = {read.place: read.digest for read in theme.reads}
    assert reads[str(tmp_path / "mine" / "templates" / "table.html")] is None
    assert reads[str(THEMES / "standard" / "templates" / "table.html")] is not None
    assert len(reads[str(tmp_path / "mine" / "theme.toml")] or "") == 64


def test_a_pale_accent_is_a_warning(make: MakeTheme) -> None:
    """The theme still loads."""
    outcome = make('parent = "standard"\n[set]\naccent = "#8fb4d8"\n')
    assert codes(outcome) == ["theme-pale-accent"] and outcome.value is not None


def test_contrast_agrees_with_wcag() -> None:
    """WCAG 2.2: black on white is 21 : 1; #767676 is the lightest grey of at least 4.5 : 1 (commonly quoted example)."""
    assert contrast_on_white("#000") == pytest.approx(21)
    assert contrast_on_white("#767676") >= 4.5 > contrast_on_white("#777777")


FORMS = '''
# every way of writing that a theme.toml may use
name = "a \\"quoted\\" word"   # behind
'odd key' = 'plain'
list = [ "one", "two, three", # in between
  [1, 2], {x = 3, y.z = "}"} ]
many = """
lines "in"
 two"""
[table.below]
deep.er = 1979-05-27T07:32:00Z
[[rows]]
a = true
[[rows]]
a = 0x1F
[rows.inner]
b = -1.5e3
'''


@pytest.mark.parametrize("text", [FORMS, *((THEMES / name / "theme.toml").read_text(encoding="utf-8") for name in ("standard", "workshop"))])
def test_every_value_of_a_theme_toml_is_found_where_it_stands(text: str) -> None:
    """Python's own reader, given just the characters at the place, reads the same value."""
    toml = TomlText("theme.toml", text)
    starts = [0, *(place + 1 for place, letter in enumerate(text) if letter == "\n")]
    told = 0

    def look(value: object, path: tuple[str | int, ...]) -> None:
        nonlocal told
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
            look(inner, (*path, key))
        if not isinstance(value, (dict, list)) and "\n" not in str(value):
            spot = toml.value(*path)
            at = starts[(spot.line or 0) - 1] + (spot.column or 0) - 1
            assert tomllib.loads(f"x = {text[at:at + (spot.end or 0)]}")["x"] == value
            told += 1

    look(tomllib.loads(text), ())
    assert told >= 12
    key = toml.key("rows", 1, "a") if text == FORMS else toml.key("contract")
    assert key.shown.startswith(("a = 0x1F", "contract = 1")) and key.column == 1


# ---- templates ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("source", [
    "{% for a in range(100000) %}{% for b in range(100000) %}.{% endfor %}{% endfor %}",
    "{% macro again() %}{{ again() }}{% endmacro %}{{ again() }}",
    "{% macro twice(n) %}{% if n %}{{ twice(n - 1) }}{{ twice(n - 1) }}{% endif %}{% endmacro %}{{ twice(60) }}",
    '{% include "it.html" %}',
    "{% set ns = cell('x') %}{% macro grow(s, n) %}{% if n %}{{ grow(s ~ s, n - 1) }}{% endif %}{% endmacro %}{{ grow('xx', 90) }}",
    "{{ 'x' * 1000000000 }}",
    "{{ 9 ** 99999999 }}",
    "{{ 'x'.ljust(1000000000) }}",
    "{{ '%1000000000d' % 1 }}",
    "{% macro grow(s, n) %}{% if n %}{{ grow(s|replace('x', 'xxxxxxxx'), n - 1) }}{% endif %}{% endmacro %}{{ grow('x', 90) }}",
    "{% macro grow(s, n) %}{% if n %}{{ grow([s, s]|join, n - 1) }}{% endif %}{% endmacro %}{{ grow('x', 90) }}",
    "{% macro grow(x, n) %}{% if n %}{{ grow(x * x, n - 1) }}{% endif %}{% endmacro %}{{ grow(9, 90) }}",
    "{{ [1]|batch(1000000000, 'x')|list }}",
])
def test_a_runaway_template_is_stopped_and_named(source: str) -> None:
    """By count, not by a clock: loops of 10⁹ turns, endless recursion, texts that double."""
    templates = Templates({"it.html": source}, {"range": range, "cell": str})
    with pytest.raises(TemplateFault) as fault:
        templates.render("it.html")
    assert fault.value.template == "it.html" and fault.value.says and fault.value.line == 1


@pytest.mark.parametrize("source", [
    "{{ block.__class__ }}", "{{ block.__class__.__mro__ }}", "{{ unknown }}", "{{ plan.unknown }}", "{{ cycler }}", "{{ self._TemplateReference__context }}",
    "{{ inline.__globals__ }}", "{% for", "{{ 1 / 0 }}", "{{ ''.join.__self__.__class__ }}",
])
def test_a_template_sees_what_it_is_given_and_nothing_else(source: str) -> None:
    """Names that are not given, inner parts of Python and broken syntax are faults."""
    with pytest.raises(TemplateFault):
        Templates({"it.html": source}, {"inline": str, "plan": doc.Code("x")}).render("it.html", block=doc.Code("x"))


def test_a_failing_template_names_itself_its_line_and_its_block(make: MakeTheme) -> None:
    """And the other templates still run, so that all faults come together."""
    theme = make(templates__check_dot_html="<p>\n{{ block.contents }}</p>", templates__write_dot_html="{{ 1 / 0 }}").value
    assert theme is not None
    outcome = dress(sample(), theme)
    assert outcome.value is None
    says = [(found.code, found.says, found.at.line if found.at else 0) for found in outcome.report]
    assert {code for code, _, _ in says} == {"template-failed"}
    assert any("`check` failed" in text and "step 2" in text and line == 2 for _, text, line in says)
    assert any("`write` failed" in text for _, text, _ in says)


def test_words_of_a_plan_are_never_markup() -> None:
    """A title that looks like markup is printed as it is typed."""
    theme = load_theme("standard", (THEMES,)).value
    assert theme is not None
    pages = dress(sample(title="<script>1 & 2</script>"), theme).value
    assert pages is not None and "<script>" not in pages.markup and "&lt;script&gt;1 &amp; 2" in pages.markup


def test_a_theme_may_leave_sections_out() -> None:
    """The workshop theme prints no contents; what refers to them is still there, without a link."""
    theme = load_theme("workshop", (THEMES,)).value
    assert theme is not None
    pages = dress(sample(), theme).value
    assert pages is not None and not pages.cover
    assert "section-glance" not in [anchor for anchor, _ in pages.sections]
    assert 'href="#section-how to read"' not in pages.markup


def test_lines_are_reckoned_item_by_item() -> None:
    """Each item begins a line and has half a line of white; a part's name counts with its ring."""
    items: tuple[doc.Inlines, ...] = (("x" * 35,), ("x" * 36,), (doc.PartMark("rail", "B", "rail"), " " + "x" * 27))
    assert lines(doc.ItemList(items=items, style="boxes"), 35) == 1.5 + 2.5 + 2.5
    assert lines((doc.Check(content=("x" * 70,)), doc.Signal(word="CAUTION", content=(("x",), ("y",)))), 35) == 2.5 + (1.5 + 1.5 + 1)


def test_equal_documents_give_equal_pages() -> None:
    """Nothing of the process gets into the markup."""
    theme = load_theme("standard", (THEMES,)).value
    assert theme is not None
    assert dress(sample(), theme).value == dress(sample(), theme).value


def test_tokens_are_filled_in_and_the_last_wins() -> None:
    """A paper or an option changes a token by defining it later; one token may use another."""
    assert filled_in(":root { --a: 1pt; --b: var(--a); } p { margin: var(--b) } :root { --a: 2pt; }").strip() == "p { margin: 2pt }"
    assert "var(--gone)" in filled_in("p { margin: var(--gone) }")


def test_what_is_filled_in_leads_back_to_where_it_was_written() -> None:
    """Behind comments, tokens and other sheets: the letters of each name that stands once are found in their file."""
    sheets = (("one.css", "/* more\n  words */ :root { --wide: 3pt;\n --a: var(--wide) }\nh1 { margin: var(--a) var(--wide); color: red }"),
              ("two.css", "p { padding: var(--a); /* x */ width: 1pt }"))
    style = StyleText(sheets)
    for word in ("h1", "margin", "color", "red", "p {", "padding", "width", "1pt"):
        spot = style.spot(style.text.index(word), len(word))
        line = dict(sheets)[spot.file].split("\n")[(spot.line or 0) - 1]
        assert line[(spot.column or 0) - 1:].startswith(word) and line == spot.shown and spot.end == len(word)


# ---- words ----------------------------------------------------------------------------------------------

INCH, METRIC = Words(Style("inch", Fraction(1, 32)), frozenset({"table-1"})), Words(Style("mm", Fraction(1, 2)), frozenset())


@pytest.mark.parametrize(("words", "content", "markup"), [
    (INCH, inch("35 1/16"), '<span class="nb">35 <span class="fr">1/16</span>″</span>'),
    (INCH, inch("-1/4"), '−<span class="fr">1/4</span>″'),
    (INCH, inch(36), "36″"),
    (METRIC, mm("353.5"), '<span class="nb">353.5 mm</span>'),
    (METRIC, doc.Dimensions((mm(915), mm(305))), '915\u00a0× <span class="nb">305 mm</span>'),
    (INCH, Area(Fraction(1872)), '<span class="nb">13 sq ft</span>'),
    (INCH, Volume(Fraction(1344)), '<span class="nb">9.3 board feet</span>'),
    (METRIC, Volume(Fraction(1440)), '<span class="nb">0.0236 m³</span>'),
    (INCH, doc.Money(Fraction(1234567, 100)), "$12,345.67"),
    (INCH, doc.PartMark("side", "AA", "side"), '<span class="part wide">AA</span>\u00a0side'),
    (INCH, doc.Ref("table", "x", "table-1", "table 1"), '<a class="ref" href="#table-1">table\u00a01</a>'),
    (INCH, doc.Ref("table", "x", "gone", "table 9", page=True), '<span class="ref">table\u00a09</span>'),
    (INCH, doc.Link(("the shop",), "javascript:alert(1)"), "the shop"),
])
def test_inline_content_is_set_as_a_reader_expects(words: Words, content: object, markup: str) -> None:
    """True fractions, a true minus, units, references that only link to what is there."""
    assert words.inline(content) == markup


def test_board_feet_follow_their_definition() -> None:
    """144 cubic inches each: 1344 cubic inches are 9 1/3, shown as 9.3 (Wood Handbook; check-values, board-foot rows)."""
    assert INCH.inline(Volume(Fraction(144))) == '<span class="nb">1 board foot</span>'


@pytest.mark.parametrize(("text", "markup"), [
    ("1 1/2 wide", '<span class="nb">1 <span class="fr">1/2</span></span> wide'),
    ('3/4" ply', '<span class="fr">3/4</span>″ ply'),
    ("1 x 4 board", "1\u00a0×\u00a04 board"),
    ("and/or 24/7 1/2/2025 N95/P100", "and/or 24/7 1/2/2025 N95/P100"),
    ("#8 x 1 1/4", '#8\u00a0×\u00a0<span class="nb">1 <span class="fr">1/4</span></span>'),
    ("2 < 3 & 4", "2 &lt; 3 &amp; 4"),
])
def test_typed_text_gets_true_fractions_and_signs(text: str, markup: str) -> None:
    """What is no measure stays as typed."""
    assert typed(text) == markup


@given(st.text(max_size=60))
def test_typed_text_stays_well_formed(text: str) -> None:
    """Whatever is typed, the markup reads as XML unless a letter itself is forbidden there."""
    from xml.etree import ElementTree

    clean = "".join(letter for letter in text if letter.isprintable())
    ElementTree.fromstring(f"<p>{typed(clean)}</p>")


@given(st.integers(-200000, 200000), st.sampled_from([2, 4, 8, 16, 32]))
def test_a_length_in_a_column_says_what_it_says_in_text(over: int, under: int) -> None:
    """Whole part and fraction of a column, put together, are the length."""
    length = inch(Fraction(over, under))
    whole, rest = INCH.columns(length)
    digits = rest.replace('<span class="fr">', "").replace("</span>", "")
    value = Fraction(whole.replace("−", "") or 0) + (Fraction(digits) if digits else 0)
    assert value == abs(Fraction(over, under)) and whole.startswith("−") == (over < 0)


def test_money_and_bare_fractions() -> None:
    """Two decimals, halves away from zero; a third of a pint has a fraction, a seventh a decimal."""
    assert money(Fraction(1005, 1000), "$") == "$1.01" and money(Fraction(5), "€") == "5.00\u00a0€"
    assert money(Fraction(266979, 100), "$", cents=False) == "$2,670"
    assert fraction(Fraction(1, 3)).endswith('<span class="fr">1/3</span>') and fraction(Fraction(1, 7)) == "0.14"


def test_one_box_for_every_piece() -> None:
    """Four boxes to a row; above twelve the count stands beside one."""
    assert [boxes(count).count("box") for count in (1, 4, 5, 12)] == [1, 4, 5, 12]
    assert boxes(5).count("<br/>") == 1 and boxes(40).count("box") == 1 and "× 40" in boxes(40)


def test_a_section_without_blocks_still_has_its_head() -> None:
    """Nothing is lost silently."""
    theme = load_theme("standard", (THEMES,)).value
    document = sample()
    empty = replace(document, sections=(doc.Section(name="x", title="Empty", blocks=(), number="1", anchor="section-x"),))
    assert theme is not None
    pages = dress(empty, theme).value
    assert pages is not None and "Empty</h1>" in pages.markup
