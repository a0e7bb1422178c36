"""The short cuts through the layout engine: each gives what the engine's own way gives, and a document made with them has the same bytes."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from compiler.draw.swapping import swap, swap_back
from compiler.stages.publish import publish, shortcuts
from compiler.values.pages import Pages
from tests.pages.printed import dressed
from tests.stages.test_publish import small

HARD = """
<p class="wide">Wide words, apart; a soft hy\u00adphen, a long-drawn compound and anunreasonablylongwordthathasnoplacetobreakatall.</p>
<p class="justified">The quick brown fox jumps over the lazy dog, again and again, until the line is full and the next begins with it.</p>
<p class="auto">Unreasonably complicated internationalisation considerations regarding hyphenation.</p>
<p class="any">anunreasonablylongwordthathasnoplacetobreakatall and more</p>
<p class="ellipsis">This line is longer than the place that it has got on the page, and ends early</p>
<p class="clamped">The same words stand here twice, and only the second time is there room for all of them on the lines.</p>
<p>The same words stand here twice, and only the second time is there room for all of them on the lines.</p><pre>one\ttab\n  two lines</pre><p dir="rtl">right to left</p><p class="logical">Logical margins, <u>underlined</u> and <s>struck</s> words</p>
<table class="shared"><tr><th>A head</th><td>12½ <b>in</b></td></tr><tr><td style="width: 30%">a third</td><td>left-over words</td></tr></table>
<table><tr><td>two words </td><td> </td><td>x</td></tr></table>
<ul><li>one</li><li><p>two</p></li></ul><div class="item">a list item by its style</div><p class="big">B</p>
<div class="flex"><p>one thing</p><p class="grow">another that grows</p></div><div class="grid"><p>a</p><p>b b b</p><p>c</p></div>
<div class="columns"><p>Text in columns, enough of it to fill more than one line in both of them.</p></div>
<div class="set"><p>A colour and a room of its own name, <b>handed <i>on</i></b>.</p></div><div class="window"><p>As large as the page lets it be, <b>and on</b>.</p></div>
<div class="by-parent"><p class="as-parent">All as the parent has it.</p><span class="aside">at the side</span><span class="out">out of the flow</span></div>
<p class="lined">Under <u>one <s>and through <span class="no-line">another</span></s></u>.</p><p class="outlined">Within a line.</p><p class="lineless">Room, no line.</p>
<div class="named"><p>On a page of another name, <b class="plain">and plain</b>.</p></div>
<div class="path" data-kind="odd"><p>one <b>b</b></p><p class="n">two <i>i</i> <u>u</u></p><p lang="de">drei <i>i</i></p><p id="x">four</p><p></p></div>
<div class="path" title="t"><p>one <b>b</b></p><p class="n">two <i>i</i></p><p lang="de-AT">drei</p></div><div class="path"><p>one <b>b</b></p><p>two</p></div>
<p>Before the note<span class="foot">the note itself</span> and after.</p><p class="first">The first letter and the first line of this are another.</p>
"""
HARD_STYLE = """
.wide { word-spacing: 3pt; letter-spacing: 0.4pt } .justified { text-align: justify } .auto { hyphens: auto; width: 60pt } .any { overflow-wrap: anywhere; width: 70pt }
.ellipsis { white-space: nowrap; overflow: hidden; text-overflow: ellipsis; width: 120pt } .logical { margin-inline-start: 20pt; padding-block: 3pt }
.shared { border-collapse: collapse } .shared td, .shared th { border: 1pt solid; padding: 2% 3pt; box-sizing: border-box }
.item { display: list-item; margin-left: 20pt } .big { font-size: calc(10pt + 1em); max-width: 50% } .foot { float: footnote }
.flex { display: flex; gap: 4pt } .grow { flex: 1; background: #eee; border-radius: 3pt } .columns { columns: 2 }
.grid { display: grid; grid-template-columns: 1fr 2fr; gap: 3pt } .grid p { box-shadow: 1pt 1pt #ccc; width: 90% }
html { --ink: #123456; --room: 3pt } .set { color: var(--ink); padding: var(--room); font-size: calc(var(--room) * 3) } .set b { color: inherit; text-indent: inherit }
.window { font-size: 3vw; line-height: 6vh; width: 60vw; text-indent: 2vmin } .window b { font-size: 80%; text-indent: initial }
.by-parent { display: flow-root; border: 1pt dashed red; margin: 2pt; font: italic 9pt/12pt serif } .as-parent { display: inherit; border: inherit; margin: inherit; font: inherit }
.aside { float: right; display: inline; width: 40pt } .out { position: absolute; right: 4pt; display: table-cell }
.lined { text-decoration: underline dotted red } .no-line { text-decoration: none } .outlined { outline: 1pt solid green; outline-offset: 2pt; visibility: visible }
.lineless { border-width: 3pt; outline-width: 2pt; border-left-style: solid } .named { page: other; break-before: page } .plain { font: initial; color: initial }
@page other { margin: 20pt; @top-center { content: "other"; font-size: 2vw } }
.path p:first-child { color: red } .path p + p { color: green } .path p[lang|=de] { font-style: italic } .path p#x, .path[data-kind=odd] p b { font-weight: 400 }
.path p:not(.n) i { color: blue } .path p:nth-child(3) { font-size: 7pt } .path:has(u) { margin-left: 3pt } .path p:empty { height: 4pt } [title] > p { padding: 1pt }
.clamped { max-lines: 1; continue: discard; block-ellipsis: auto }
.first::first-letter { font-size: 20pt } .first::first-line { font-weight: 700 } td { font-variant-numeric: tabular-nums }
"""


@pytest.fixture
def both(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[Pages], tuple[bytes, bytes]]]:
    """Two PDFs of the same pages: with the short cuts, and by the engine as it came."""

    def made(pages: Pages) -> tuple[bytes, bytes]:
        quick = publish(pages).value
        swap_back(shortcuts.SWAPS)
        monkeypatch.setattr("compiler.stages.publish.layout.take_shortcuts", lambda: None)
        monkeypatch.setattr("compiler.stages.publish.layout.base_sheet", lambda style: shortcuts.BASE)
        own = publish(pages).value
        assert quick is not None and own is not None
        return quick.content, own.content

    yield made
    swap(shortcuts.SWAPS)


@pytest.mark.parametrize("theme", ["standard", "workshop"])
def test_a_booklet_has_the_same_bytes(theme: str, both: Callable[[Pages], tuple[bytes, bytes]]) -> None:
    """Tables, steps, figures, cautions and a cover."""
    quick, own = both(dressed(theme))
    assert quick == own


@pytest.mark.parametrize("width", [300, 200, 120])
def test_what_is_hard_to_set_has_the_same_bytes(width: int, both: Callable[[Pages], tuple[bytes, bytes]]) -> None:
    """Spaced, justified, hyphenated, broken, cut off, right to left; notes, list items, percentages, shared borders; in three widths of page."""
    quick, own = both(small(HARD, HARD_STYLE + f"@page {{ size: {width}pt 400pt }}"))
    assert quick == own


@pytest.mark.parametrize(("style", "whole"), [("p { color: red }", False), (".note { color: red } .signal.notice { color: red }", False),
                                              (".x { float: footnote }", True), ("b::note-call { content: none }", True),
                                              (".x { display: list-item }", True)])
def test_the_base_style_is_whole_where_it_is_needed(style: str, whole: bool) -> None:
    """A style that makes notes or list items of anything keeps what the engine says of them."""
    assert (shortcuts.base_sheet(style) is shortcuts.BASE) == whole


def test_the_engine_comes_without_what_other_uses_want() -> None:
    """No tools for variable fonts, no style for forms; both are there when they are asked for."""
    script = ("import sys, compiler.draw.typesetter, weasyprint.html as html, weasyprint.pdf.fonts as fonts; "
              "print('fontTools.varLib' in sys.modules, bool(html.PH_STYLESHEET.matcher.order), bool(html.UA_STYLESHEET.matcher.order), "
              "fonts.subset.Options.__name__, 'fontTools.varLib' in sys.modules)")
    told = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=Path(__file__).parents[2])
    assert told.stdout.split() == ["False", "False", "True", "Options", "True"]
