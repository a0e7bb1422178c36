"""Loose figures are paired and ordered so that a section ends sooner; nothing is lost, and nothing else is touched."""

from __future__ import annotations

from compiler.stages.fill import fill
from compiler.values import document as doc
from compiler.values.figure import Drawing, Stroke


def figure(name: str, wide: float, high: float, placing: str = "text") -> doc.Figure:
    """A frame of 168 mm with a line as wide as what would be drawn."""
    marks = (Stroke("outline", (((0, 0), (wide, high)),)),)
    return doc.Figure(name, Drawing(width=168, height=high, marks=marks, says=name), name=name, placing=placing)  # type: ignore[arg-type]


def section(name: str, *blocks: doc.Block) -> doc.Section:
    """A section called by its name."""
    return doc.Section(name=name, title=name, blocks=blocks)


def rows(*figures: doc.Figure, before: tuple[doc.Section, ...] = ()) -> list[list[str]]:
    """Names in the rows of the last section, one of loose figures on letter paper."""
    done = fill((*before, section("parts", doc.Cells(figures=figures, across=1))), "letter")[-1]
    return [[shown.name for shown in block.figures] for block in done.blocks if isinstance(block, doc.Cells)]


def test_two_narrow_figures_share_a_row() -> None:
    """70 + 80 mm go side by side in frames of their own width; 100 mm stand alone."""
    cells = fill((section("parts", doc.Cells(figures=(figure("a", 70, 50), figure("b", 100, 50), figure("c", 80, 40)), across=1)),), "letter")[0].blocks
    pair = next(block for block in cells if isinstance(block, doc.Cells) and block.across == 2)
    assert ["a", "c"] == [shown.name for shown in pair.figures]
    assert [72, 82] == [round(shown.drawing.width) for shown in pair.figures]


def test_figures_change_places_when_that_saves_a_page() -> None:
    """150, 150, 60, 60 mm: in turn three pages of letter paper (the head takes room from the first), two with a low one under each high one."""
    assert [["a"], ["c"], ["b"], ["d"]] == rows(figure("a", 160, 130), figure("b", 160, 150), figure("c", 160, 55), figure("d", 160, 55))


def test_the_authors_order_stands_where_no_other_ends_sooner() -> None:
    """All on one page in any order."""
    assert [["a"], ["b"], ["c"]] == rows(figure("a", 160, 60), figure("b", 160, 50), figure("c", 160, 40))


def test_room_under_the_section_before_is_used() -> None:
    """The one before ends in a drawing of 100 mm: there a figure of 70 mm has room, one of 120 mm has not."""
    before = section("sizes", figure("whole", 160, 200, "page"), figure("cut", 60, 100))
    assert "low" == rows(figure("high", 160, 120), figure("low", 160, 70), figure("other", 160, 95), before=(before,))[0][0]


def test_nothing_is_lost_and_other_blocks_stay() -> None:
    """Every figure once; a paragraph and small cells in their places."""
    lead, small = doc.Paragraph(("See the list.",)), doc.Cells(figures=(figure("z", 40, 40), figure("y", 40, 40)), across=3)
    many = tuple(figure(f"f{number}", 60 + 17 * number % 100, 40 + 31 * number % 130) for number in range(9))
    done = fill((section("parts", lead, doc.Cells(figures=many, across=1), small),), "a4")[0].blocks
    assert done[0] is lead and done[-1] is small
    assert sorted(shown.name for block in done[1:-1] if isinstance(block, doc.Cells) for shown in block.figures) == sorted(shown.name for shown in many)


def test_equal_figures_are_not_taken_for_one() -> None:
    """Forty of them, all alike: forty come out."""
    assert sum(map(len, rows(*[figure("same", 160, 60)] * 40))) == 40


def layout(name: str, high: float) -> doc.Columns:
    """A heading with a drawing under it that stays whole."""
    return doc.Columns(left=(doc.Heading(content=(name,)),), right=(figure(name, 160, high),), split="stacked", loose=True)


def test_loose_columns_change_places_under_their_table() -> None:
    """80, 150, 70, 130 mm with 23 mm each of heading, caption and white: in turn one a page, with the first and third together three pages."""
    lead, table = doc.Paragraph(("Long cuts first.",)), doc.Table("Sheets", ("Stock",), (("plywood",),))
    blocks = fill((section("sheets", lead, table, *(layout(name, high) for name, high in zip("abcd", (80, 150, 70, 130), strict=True))),), "letter")[0].blocks
    names = [str(block.left[0].content[0]) for block in blocks if isinstance(block, doc.Columns) and isinstance(block.left[0], doc.Heading)]
    assert blocks[:2] == (lead, table)
    assert ["a", "c", "b", "d"] == names


def step(name: str, *, high: float = 40, actions: int = 3) -> doc.Step:
    """A step of short actions beside a picture that may ask for more room."""
    view = doc.View("step", width=76, height=40)
    shot = doc.Figure(name, Drawing(width=76, height=high, marks=(), says=name), rooms=((90, 56), (104, 90)), asked=view)
    return doc.Step(title=(name,), key=name, content=(doc.ItemList(items=(("Glue and clamp it.",),) * actions, style="boxes"),), picture=shot)


def asked(*steps: doc.Block, after: tuple[doc.Section, ...] = ()) -> list[tuple[int, int] | None]:
    """The room that each step's picture asks for, None where its drawing stays; a page that another step fills stands before."""
    done = fill((section("build", step("first", high=180), *steps), *after), "letter")[0].blocks[1:]
    shots = [block.picture for block in done if isinstance(block, doc.Step) and isinstance(block.picture, doc.Figure)]
    assert all(not shot.rooms and shot.asked is None for shot in shots)
    return [(shot.drawing.width, shot.drawing.height) if isinstance(shot.drawing, doc.View) else None for shot in shots]


def test_a_step_alone_on_its_page_has_a_larger_picture() -> None:
    """70 mm high, followed by one that fills a page: the first takes the largest room, the other stays."""
    assert [(104, 90), None] == asked(step("low"), step("full", high=190))


def test_steps_that_share_a_page_share_what_it_leaves() -> None:
    """The lower gets more first; both have the least room more."""
    assert [(90, 56), (90, 56), None] == asked(step("one", high=60), step("two", high=60), step("full", high=190))


def test_nothing_grows_where_an_estimate_may_be_wrong() -> None:
    """The second step fits or does not, by a few millimetres; the one before a section that could begin under it keeps that room."""
    assert [None, None] == asked(step("one", high=92), step("two", high=92))
    small = section("finish", doc.Paragraph("Sand."), doc.Table("Coats", ("a",), (("b",),)))
    assert [None] == asked(step("last"), after=(small,)) and [(104, 90)] == asked(step("last"), after=(section("parts", figure("all", 160, 200)),))
