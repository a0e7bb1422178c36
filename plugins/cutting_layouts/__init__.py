"""Cutting layouts: sheets, boards and lengths laid out for the least cost, in an order that a person can saw."""

from compiler.api import Plugin, hook

from .answers import cutting_layouts, stock_to_buy
from .flat import sheets_dxf
from .pages import board_pages, length_pages, sheet_pages
from .reasons import why_boards, why_lengths, why_sheets
from .telling import layout_problems


@hook
def plugin() -> Plugin:
    return Plugin(
        contract=1,
        tasks=(cutting_layouts, stock_to_buy),
        checks=(layout_problems,),
        exports=(sheets_dxf,),
        explanations=(why_sheets, why_boards, why_lengths),
        sections=(sheet_pages, board_pages, length_pages),
    )
