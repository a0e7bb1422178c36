"""The record of an edition: what the PDF was made from, with what, and what its lists say.

In: the model, products, the finished PDF and the digests of the inputs. Out: plain data, written as JSON beside the PDF
and read again when a later issue is compared with this one. No clock: the date is the plan's own.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from fractions import Fraction
from pathlib import Path
from typing import Any

from compiler.base.measures import Length
from compiler.base.showing import Style, show
from compiler.values.model import Model
from compiler.values.products import CutList, HardwareList

FORMAT = 1
"""The number of this record's form. A record with a higher one is from a newer version and is not touched."""

Record = dict[str, Any]


class NewerRecord(Exception):
    """The record was written by a newer version; raised by `read`, caught by the command."""


def make(
    *,
    model: Model,
    step: Fraction,
    pdf: bytes,
    pages: int,
    theme: tuple[str, ...],
    inputs: tuple[tuple[str, str], ...],
    versions: tuple[tuple[str, str], ...],
    cut_list: CutList | None,
    hardware: HardwareList | None,
    changes: tuple[str, ...] = (),
    files: tuple[tuple[str, bytes], ...] = (),
) -> Record:
    """The record of one edition. `changes` are those since the issue before, `files` what is written beside the PDF."""
    return {
        "format": FORMAT,
        "plan": model.plan.number,
        "title": model.plan.title,
        "issue": model.plan.issue,
        "date": model.plan.date,
        "edition": model.edition.name,
        "theme": list(theme),
        "pages": pages,
        "pdf": hashlib.sha256(pdf).hexdigest(),
        "inputs": dict(inputs),
        "versions": dict(versions),
        "letters": {row.letter: row.name for row in model.kinds},
        "lists": record_lists(cut_list, hardware, model, step),
        "changes": list(changes),
        "files": {suffix: hashlib.sha256(content).hexdigest() for suffix, content in files},
    }


def record_lists(cut_list: CutList | None, hardware: HardwareList | None, model: Model, step: Fraction) -> Record:
    """The lists as they are printed, row by row."""
    style = Style(model.edition.units, step)
    return {
        "cut list": _cut_list(cut_list, style) if cut_list else [],
        "hardware": _hardware(hardware) if hardware else [],
    }


def _cut_list(cut_list: CutList, style: Style) -> list[Record]:
    def size(length: Length) -> str:
        return show(length, style).text

    return [
        {
            "row": f"{row.letter} {row.name}",
            "cells": {
                "number": row.number,
                "length": size(row.length),
                "width": size(row.width),
                "thickness": size(row.thickness),
                "stock": row.stock.name,
            },
        }
        for row in cut_list.rows
    ]


def _hardware(hardware: HardwareList) -> list[Record]:
    return [{"row": row.item.name, "cells": {"number": row.count}} for row in hardware.rows]


def write(record: Record) -> bytes:
    """The record's text: the same for the same record."""
    return (json.dumps(record, indent=1, sort_keys=True, ensure_ascii=False) + "\n").encode()


def read(content: bytes) -> Record | None:
    """The record in a file; None when it can't be read. Raises NewerRecord."""
    try:
        record = json.loads(content)
    except ValueError:
        return None
    if not isinstance(record, dict) or not isinstance(record.get("format"), int):
        return None
    if record["format"] > FORMAT:
        raise NewerRecord(f"format {record['format']}; this version knows {FORMAT}")
    return record


def file_of_issue(issue: int, edition: str) -> str:
    """The name of the file in `issues/` that keeps the record of an issue: `1.inch-letter.json`."""
    return f"{issue}.{edition.replace(' ', '-')}.json"


def earlier_files(folder: Path, issue: int | None) -> tuple[tuple[str, bytes], ...]:
    """The records of a plan's earlier issues: (`issues/1.inch-letter.json`, bytes). All of them when the issue is not known."""
    found = []
    for path in sorted((folder / "issues").glob("*.*.json")):
        number = path.name.split(".")[0]
        if number.isdigit() and (issue is None or int(number) < issue):
            with contextlib.suppress(OSError):
                found.append((f"issues/{path.name}", path.read_bytes()))
    return tuple(found)
