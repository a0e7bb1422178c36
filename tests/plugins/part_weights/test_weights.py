"""Weights of parts by kind."""

from __future__ import annotations

import pytest

from compiler.api import Table
from compiler.testing import Plan, plan
from plugins.loads_and_movement.amounts import POUND
from plugins.part_weights.weighing import PartWeights

TEXT = """
materials: {oak: red oak 4/4}
parts:
  board: {stock: oak, across: 0 to 48, deep: 0 to 4, up: from 0, copies: 2 up every 3/4}
"""


def made(settings: str = "") -> Plan:
    return plan(TEXT, settings=settings)


def test_a_board_foot_of_red_oak() -> None:
    """3.67 lb a board foot at specific gravity 0.63 (MEC-34); 48 x 4 x 3/4 is one."""
    (row,) = made().make(PartWeights).rows
    assert 2 == row.number
    assert 2 * 3.67 == pytest.approx(float(row.kilograms / POUND), abs=0.02)


def test_it_is_printed_only_when_asked() -> None:
    """`part weights: {print: yes}`."""
    with pytest.raises(AssertionError, match="no section"):
        made().section("Weights")
    (table,) = made("shop: A\nsettings: {part weights: {print: yes}}\n").section("Weights")
    assert isinstance(table, Table)
    assert ("3.7 lb", "7.3 lb") == table.groups[0].rows[0][-2:]
