"""Lists → one workbook (Office Open XML, ECMA-376), the same bytes for the same lists.

openpyxl writes the parts; they are packed here, stored, with one fixed date, since it stamps the hour of writing and compression differs from machine to machine.
Inch sizes are numbers shown as fractions of 32; heads stay in view.
"""

from __future__ import annotations

import io
import re
import zipfile
from fractions import Fraction
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.writer.excel import ExcelWriter

from .lists import List, Size, Value

FIRST_DAY = (1980, 1, 1, 0, 0, 0)
"""The earliest date that the ZIP format holds."""
NARROW, WIDE = 7, 46


def workbook(tables: tuple[List, ...], title: str, units: str) -> bytes:
    """A sheet a list, in their order."""
    book = Workbook()
    book.remove(book.active)
    book.properties.title, book.properties.creator = title, ""
    for table in tables:
        _fill(book.create_sheet(table.name), table, units)
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w") as archive:
        _InMemory(book, archive).write_data()
    return _packed(raw.getvalue())


def _fill(sheet: Any, table: List, units: str) -> None:
    head, shade = Font(bold=True), PatternFill("solid", fgColor="FFE8EAED")
    for row, line in enumerate((table.heads, *table.rows), start=1):
        for column, value in enumerate(line, start=1):
            cell = sheet.cell(row=row, column=column, value=_plain(value))
            if row == 1:
                cell.font, cell.fill, cell.alignment = head, shade, Alignment(wrap_text=True, vertical="top")
            elif isinstance(value, Size):
                cell.number_format = "# ?/32" if units == "inch" else "0.0"
            elif isinstance(value, Fraction):
                cell.number_format = "0.00##"
    for column in range(1, len(table.heads) + 1):
        longest = max((len(_shown(line[column - 1])) for line in table.rows), default=0)
        sheet.column_dimensions[get_column_letter(column)].width = min(max(longest + 2, NARROW), WIDE)
    sheet.freeze_panes = "A2"


def _plain(value: Value) -> str | int | float | None:
    if isinstance(value, Size):
        return float(value.number)
    return float(value) if isinstance(value, Fraction) else value


def _shown(value: Value) -> str:
    if value is None:
        return ""
    return "00 00/00" if isinstance(value, Size) else "0000.00" if isinstance(value, Fraction) else str(value)


class _InMemory(ExcelWriter):  # type: ignore[misc]  # openpyxl has no types
    """Writes sheets without the temporary files that openpyxl takes for them: plugins open no files."""

    def write_worksheet(self, ws: Any) -> None:
        """One sheet, without drawings."""
        out = io.BytesIO()
        writer = WorksheetWriter(ws, out)
        writer.write()
        ws._rels = writer._rels
        ws._drawing = None
        self._archive.writestr(ws.path[1:], out.getvalue())
        self.manifest.append(ws)


def _packed(raw: bytes) -> bytes:
    """The same parts by name, stored, with one date in the archive and none inside."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as new:
        first = "[Content_Types].xml"
        for name in sorted(old.namelist(), key=lambda name: (name != first, name)):
            content = old.read(name)
            if name == "docProps/core.xml":
                content = re.sub(rb"<dcterms:(created|modified)[^>]*>[^<]*</dcterms:\1>", b"", content)
            entry = zipfile.ZipInfo(name, date_time=FIRST_DAY)
            entry.create_system = 3
            new.writestr(entry, content)
    return out.getvalue()
