"""The writers of drawings: SVG, the page figure, DXF and bounds."""

import io
import time
from pathlib import Path

import ezdxf
import pypdfium2
import pytest
from weasyprint import HTML

from compiler.draw import dxf, svg
from compiler.draw.bounds import bounds, clashes
from compiler.draw.lettering import box_of, joined, letter, runs_width
from compiler.draw.pdf import PaperFigure
from compiler.draw.pen import Pen
from compiler.draw.pens import PLAIN, styled
from compiler.values.figure import Drawing, StackedFraction, Stroke

PAGE = "<style>@page{size:120mm 60mm;margin:5mm}body{margin:0}img{display:block}</style>"


def sample() -> Drawing:
    """A drawing with one mark of each sort."""
    pen = Pen()
    pen.area("side", ((10, 10), (60, 10), (60, 40), (10, 40)), ((20, 20), (30, 20), (30, 30), (20, 30)))
    pen.line("outline", (10, 10), (60, 10), (60, 40), (10, 40), (10, 10))
    pen.line("dimension", (10, 5), (60, 5))
    pen.arrow((10, 5), (60, 5))
    pen.circle((90, 30), 3.75, "leader", "balloon")
    pen.letter(letter((90, 28.25), "A", size=3.5, anchor="middle", role="balloon"))
    pen.letter(letter((68, 10), joined("25", (StackedFraction("15", "16"),), " deep")))
    pen.letter(letter((100, 25), "Up", angle=90))
    return pen.drawing(110, 50, "a square and a note")


def page(html: str, cache: dict[str, object] | None = None) -> pypdfium2.PdfDocument:
    """The html set as PDF."""
    return pypdfium2.PdfDocument(HTML(string=PAGE + html, base_url=".").render(cache=cache or {}).write_pdf())


def test_the_page_figure_and_the_svg_show_the_same_picture(tmp_path: Path) -> None:
    """Pixel by pixel at 72 dpi, less than 1.5 % of the page differs by more than a third of black (fonts are hinted alike)."""
    (tmp_path / "figure.svg").write_text(svg.write(sample(), PLAIN), encoding="utf-8")
    images = [
        page('<img src="figure:1" alt="x">', {"figure:1": PaperFigure(sample(), PLAIN)}),
        page(f'<img src="{(tmp_path / "figure.svg").as_uri()}" alt="x">'),
    ]
    first, second = (image[0].render(scale=1).to_pil().convert("L") for image in images)
    differ = sum(abs(a - b) > 85 for a, b in zip(first.tobytes(), second.tobytes(), strict=True))
    assert differ < 0.015 * first.width * first.height
    assert sum(value < 128 for value in first.tobytes()) > 300


def test_lettering_of_a_page_figure_is_text_that_can_be_found() -> None:
    """A reader can search for it."""
    text = page('<img src="figure:1" alt="x">', {"figure:1": PaperFigure(sample(), PLAIN)})[0].get_textpage().get_text_range()
    assert "deep" in text and "25" in text and "A" in text


def test_a_page_figure_has_its_true_size() -> None:
    """CSS: 1 in = 96 px, so 110 mm is 415.748 px."""
    width, height, ratio = PaperFigure(sample(), PLAIN).get_intrinsic_size(1, 16)
    assert width == pytest.approx(110 / 25.4 * 96) and height == pytest.approx(50 / 25.4 * 96)
    assert ratio == pytest.approx(2.2)


def test_neighbouring_lines_of_a_role_are_one_stroke() -> None:
    """Writers set a pen once for them."""
    pen = Pen()
    pen.line("edge", (0, 0), (1, 0))
    pen.line("edge", (0, 1), (1, 1))
    assert pen.marks == (Stroke("edge", (((0, 0), (1, 0)), ((0, 1), (1, 1)))),)


def test_svg_has_one_path_per_stroke() -> None:
    """The sample has one area, two strokes, an arrow and a fraction bar."""
    assert svg.write(sample(), PLAIN).count("<path") == 5


def test_plain_pens_follow_the_series_and_the_ratio_of_iso_128() -> None:
    """ISO 128 (drafting notes): widths 0.13 0.18 0.25 0.35 0.5; wide to narrow at least 2 : 1 (0.25 to 0.13 within rounding)."""
    assert {pen.width for _, pen in PLAIN.lines} <= {0.13, 0.18, 0.25, 0.35, 0.5}
    for wide, narrow in (("outline", "edge"), ("picture-outline", "picture-edge"), ("small-outline", "small-edge")):
        assert PLAIN.line(wide).width / PLAIN.line(narrow).width == pytest.approx(2, abs=0.1)


def test_a_theme_lays_its_wishes_over_the_plain_pens() -> None:
    """Only what it names changes; an unknown role is refused."""
    pens = styled({"outline": {"width": 0.7}}, {"added": "#dddddd"})
    assert pens.line("outline").width == 0.7 and pens.fill("added") == "#dddddd"
    assert pens.line("edge") == PLAIN.line("edge")
    with pytest.raises(KeyError):
        styled({"outlien": {"width": 0.7}}, {})


def test_a_fraction_is_narrower_than_its_words() -> None:
    """Stacked, 15/16 takes about the room of one numeral of it."""
    assert runs_width((StackedFraction("15", "16"),), 2.5) < runs_width(("15/16",), 2.5)


def test_turned_lettering_reaches_up() -> None:
    """At 90 degrees its box is taller than wide."""
    (left, low), *_ = corners = box_of(letter((0, 0), "shelf", angle=90))
    assert max(y for _, y in corners) - low > 2 * (max(x for x, _ in corners) - min(x for x, _ in corners))
    assert left <= 0.7


def test_clashes_are_found() -> None:
    """Text on text, line through text, a balloon in a leader's way, marks outside."""
    pen = Pen()
    pen.letter(letter((5, 5), "one two"))
    pen.letter(letter((7, 5), "three"))
    pen.line("dimension", (0, 6), (50, 6))
    pen.circle((30, 6), 3, "leader", "balloon")
    found = clashes(pen.drawing(40, 20, "x"))
    assert "'one two' overlaps 'three'" in found
    assert "dimension line runs through 'three'" in found
    assert any("runs through the balloon" in clash for clash in found)
    assert any("outside its frame" in clash for clash in found)


def test_a_clean_drawing_has_no_clashes() -> None:
    """The letter inside its own balloon is no clash."""
    assert clashes(sample()) == ()
    assert bounds(sample().marks)[0] == 10


LAYERS = (
    dxf.Layer("outline", 7, (dxf.Outline(((0, 0), (20, 0), (20, 10), (0, 10))),)),
    dxf.Layer("hole 1/4 through", 1, (dxf.Disc((5, 5), 0.125), dxf.Words((1, 1), "A", 0.25))),
)


@pytest.mark.parametrize(("units", "code"), [("inch", 1), ("mm", 4)])
def test_a_dxf_states_its_unit_and_is_clean(units: str, code: int) -> None:
    """DXF reference, $INSUNITS: 1 = inches, 4 = millimetres; the library's audit finds nothing."""
    document = ezdxf.read(io.StringIO(dxf.write(LAYERS, units)))
    assert document.header["$INSUNITS"] == code
    assert document.dxfversion == "AC1024"
    assert not document.audit().errors and not document.audit().fixes
    assert {e.dxftype() for e in document.modelspace()} == {"LWPOLYLINE", "CIRCLE", "TEXT"}
    assert {e.dxf.layer for e in document.modelspace()} == {"outline", "hole 1_4 through"}


def test_a_dxf_has_the_same_text_each_time() -> None:
    """Not even the clock gets in."""
    first = dxf.write(LAYERS, "inch")
    time.sleep(1.1)
    assert dxf.write(LAYERS, "inch") == first
