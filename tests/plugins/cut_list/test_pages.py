"""The cut list on paper: nothing left out, nothing twice."""

from __future__ import annotations

from compiler.api import CutList, Paragraph, Table, inch
from plugins.cut_list.listing import cut_list
from plugins.cut_list.pages import cut_list_pages
from tests.plugins.small_models import OAK_6_4, PLY, POPLAR_4_4, model, part, shop

WHOLE = cut_list(
    model(
        part("left side", PLY, inch(33), inch(11), kind="side", assembly=("case",)),
        part("right side", PLY, inch(33), inch(11), kind="side", assembly=("case",)),
        part("glue strip", POPLAR_4_4, inch(30), inch(2), assembly=("case",)),
        part("top", OAK_6_4, inch(38), inch(13), strips=2),
    ),
    shop(),
)


def tables() -> dict[str, Table]:
    return {block.name: block for block in cut_list_pages(WHOLE) if isinstance(block, Table)}


def test_every_row_stands_in_the_table_of_parts_once() -> None:
    """By group, and under each group by stock."""
    groups = tables()["cut list"].groups
    assert ["Case", "Case", "Parts on their own"] == [group.title for group in groups]
    assert ["side", "glue strip", "top"] == [row[3] for group in groups for row in group.rows]


def test_sheet_parts_and_rough_sizes_have_their_own_tables() -> None:
    """Sheet parts by finished size, boards by rough size."""
    assert [(inch(11), inch(33))] == [row[3:5] for row in tables()["sheet parts"].groups[0].rows]
    rough = tables()["rough sizes"].groups
    assert [(inch(1), inch("2 1/4"), inch(31)), (inch("1 1/2"), inch("13 1/2"), inch(39))] == [g.rows[0][3:6] for g in rough]


def test_a_glued_up_part_says_from_how_many_strips() -> None:
    """In the note of its row."""
    assert "glued up from 2" == tables()["cut list"].groups[-1].rows[0][-1]


def test_an_empty_list_makes_no_section() -> None:
    """No heading over nothing."""
    assert [] == list(cut_list_pages(CutList()))
    assert any(isinstance(block, Paragraph) for block in cut_list_pages(WHOLE))
