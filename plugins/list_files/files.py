"""Lists → files beside the PDF, as the shop asks for them: `list files: {spreadsheet: yes, values: no}`.

Comma-separated values as RFC 4180 writes them: CRLF, quotes doubled, one head line; sizes as decimal numbers, so that any program reads them.
"""

from __future__ import annotations

from fractions import Fraction

from compiler.api import CutList, Edition, HardwareList, Materials, Model, Settings, ask, export
from plugins.bits_and_cutters.listing import BitsAndCutters
from plugins.edge_banding.listing import EdgeBanding
from plugins.part_weights.weighing import PartWeights

from . import lists
from .lists import List, Size, Value


class FileSettings(Settings):
    """Which files are written."""

    key = "list files"
    spreadsheet: str = ask.word("yes", "yes: one workbook with all lists", of=("no", "yes"))
    values: str = ask.word("no", "yes: each list as comma-separated values", of=("no", "yes"))


@export(".lists.xlsx")
def spreadsheet(model: Model, edition: Edition, cut_list: CutList, hardware: HardwareList, materials: Materials, found: PartWeights, tapes: EdgeBanding,
                bits: BitsAndCutters, settings: FileSettings) -> bytes:
    """All lists in one workbook."""
    if settings.spreadsheet == "no":
        return b""
    from .workbook import workbook

    tables = (lists.cut_list(cut_list, edition), lists.materials(materials, edition), lists.hardware(hardware), lists.bits(bits, edition),
              lists.tapes(tapes, edition), lists.weights(found, edition))
    return workbook(tuple(table for table in tables if table.rows), f"{model.plan.title}, plan {model.plan.number}, issue {model.plan.issue}", edition.units)


@export(".cut-list.csv")
def cut_list_values(cut_list: CutList, edition: Edition, settings: FileSettings) -> str:
    """The cut list."""
    return values(lists.cut_list(cut_list, edition), settings)


@export(".hardware.csv")
def hardware_values(hardware: HardwareList, settings: FileSettings) -> str:
    """Hardware and supplies."""
    return values(lists.hardware(hardware), settings)


@export(".materials.csv")
def material_values(materials: Materials, edition: Edition, settings: FileSettings) -> str:
    """What to buy."""
    return values(lists.materials(materials, edition), settings)


@export(".weights.csv")
def weight_values(found: PartWeights, edition: Edition, settings: FileSettings) -> str:
    """Weights by kind."""
    return values(lists.weights(found, edition), settings)


def values(table: List, settings: FileSettings) -> str:
    """One head line, then the rows; nothing when files of values are not asked for."""
    if settings.values == "no":
        return ""
    lines = [table.heads, *table.rows]
    return "".join(",".join(_field(value) for value in line) + "\r\n" for line in lines)


def _field(value: Value) -> str:
    if value is None:
        return ""
    if isinstance(value, Size):
        value = value.number
    if isinstance(value, Fraction):
        return f"{float(value):.6f}".rstrip("0").rstrip(".")
    text = str(value)
    return '"' + text.replace('"', '""') + '"' if any(mark in text for mark in ',"\r\n') else text
