"""Files of lists: read back by other programs, the same bytes every time, only what is asked for."""

from __future__ import annotations

import csv
import io
import zipfile
from fractions import Fraction

import pytest
from openpyxl import load_workbook

from compiler.api import CutList
from compiler.testing import Plan, plan
from plugins.list_files.files import FileSettings, values
from plugins.list_files.lists import List, Size

TEXT = """
materials: {ply: birch plywood 3/4}
parts:
  side: {stock: ply, across: from 0, deep: 0 to 10 1/32, up: 0 to 30, grain: up, copies: mirror across, note: 'Write "L", "R"'}
  shelf: {stock: ply, across: between left side and right side, deep: 0 to 10, up: from 10}
middle: {across: 12}
joints:
  - {dado: shelf, into: side, depth: 1/4}
"""
ALL = "shop: A\nsettings: {list files: {values: yes}}\n"


def made(settings: str = "", units: str = "inch") -> Plan:
    return plan(TEXT, settings=settings, units=units)  # type: ignore[arg-type]


def test_the_workbook_is_read_back() -> None:
    """By openpyxl: a sheet a list, the sizes of the cut list as numbers shown in 32nds."""
    found = made()
    book = load_workbook(io.BytesIO(found.export(".lists.xlsx")))
    assert "Cut list" == book.sheetnames[0]
    row = found.make(CutList).row("side")
    cells = [cell.value for cell in book["Cut list"][2]]
    assert [row.letter, "side", None, 2, float(row.thickness), float(row.width), float(row.length)] == cells[:7]
    assert "# ?/32" == book["Cut list"]["F2"].number_format


def test_values_are_read_back() -> None:
    """By Python's own reader: quotes and commas survive, sizes are exact decimals."""
    rows = list(csv.DictReader(io.StringIO(made(ALL).export(".cut-list.csv").decode(), newline="")))
    assert ('Write "L", "R"', "10.03125", "2") == (rows[0]["Note"], rows[0]["Wide (in)"], rows[0]["Quantity"])


def test_lines_end_as_the_standard_says() -> None:
    """CRLF after every line (RFC 4180)."""
    raw = made(ALL).export(".hardware.csv")
    assert raw.count(b"\n") == raw.count(b"\r\n") > 0


def test_fields_are_quoted_when_they_must_be() -> None:
    """Commas, quotes and line ends (RFC 4180, rules 6 and 7); numbers are plain."""
    table = List("T", ("a", "b"), (('5" x 3', "x,y"), (Size(Fraction(33, 32)), Fraction(1, 2))))
    assert 'a,b\r\n"5"" x 3","x,y"\r\n1.03125,0.5\r\n' == values(table, FileSettings(spreadsheet="no", values="yes"))


def test_only_what_is_asked_for() -> None:
    """The workbook by default, values when asked, nothing when neither."""
    with pytest.raises(AssertionError, match="no export"):
        made().export(".cut-list.csv")
    with pytest.raises(AssertionError, match="no export"):
        made("shop: A\nsettings: {list files: {spreadsheet: no}}\n").export(".lists.xlsx")


def test_the_same_bytes_and_no_hour() -> None:
    """Twice the same; every part stored, dated as the format's first day; no date inside."""
    raw = made().export(".lists.xlsx")
    assert raw == made().export(".lists.xlsx")
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        assert {((1980, 1, 1, 0, 0, 0), zipfile.ZIP_STORED)} == {(entry.date_time, entry.compress_type) for entry in archive.infolist()}
        assert b"dcterms:modified" not in archive.read("docProps/core.xml")


def test_metric_lists_are_in_millimetres() -> None:
    """Heads say so."""
    book = load_workbook(io.BytesIO(made(units="mm").export(".lists.xlsx")))
    assert "Long (mm)" in [cell.value for cell in book["Cut list"][1]]
