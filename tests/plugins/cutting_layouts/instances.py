"""Public and invented instances as jobs: bins of the literature, cutting stock, and the workshop's own.

In: the tables in tests/data/nesting, whose README names their sources. Out: `Job`s, and the best values known for them.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from plugins.cutting_layouts.job import Job, Piece, Stock, Trims

HOME = Path(__file__).resolve().parents[2] / "data" / "nesting"


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """A job with the best cost known for it (1 a bin where it is bins that count) and, for the workshop's, the fewest cuts."""

    name: str
    job: Job
    best: int
    linear: bool = False
    cuts: int = 0

    @property
    def parts(self) -> int:
        return sum(piece.count for piece in self.job.pieces)


def bins(turned: bool) -> Iterator[Instance]:
    """The 100 public instances in two dimensions: one size of bin, as many as needed, no kerf."""
    column = "best_3stage_guillotine_rotated" if turned else "best_3stage_guillotine_oriented"
    best = {row["instance"]: int(row[column]) for row in _rows("bp2d_best.csv")}
    for name, rows in _by_instance("bp2d_items.csv"):
        stock = Stock(id="bin", length=int(rows[0]["bin_w"]), width=int(rows[0]["bin_h"]), cost=1)
        pieces = tuple(
            Piece(id=str(number), length=int(row["item_w"]), width=int(row["item_h"]), count=int(row["copies"]), turnable=turned)
            for number, row in enumerate(rows)
        )
        yield Instance(name=f"{name} {'turned' if turned else 'oriented'}", job=Job(pieces=pieces, stocks=(stock,), kerf=0), best=best[name])


def lengths() -> Iterator[Instance]:
    """The public instances in one dimension, optima proven."""
    best = {row["instance"]: int(row["optimum"]) for row in _rows("csp1d_best.csv")}
    for name, rows in _by_instance("csp1d_items.csv"):
        stock = Stock(id="bar", length=int(rows[0]["capacity"]), width=1, cost=1)
        pieces = tuple(
            Piece(id=str(number), length=int(row["length"]), width=1, count=int(row["copies"])) for number, row in enumerate(rows)
        )
        yield Instance(name=name, job=Job(pieces=pieces, stocks=(stock,), kerf=0), best=best[name], linear=True)


def workshop() -> Iterator[Instance]:
    """The eight invented workshop jobs, costs in cents."""
    for path in sorted((HOME / "workshop").glob("ws??_*.json")):
        if path.name.endswith(".best.json"):
            continue
        task = json.loads(path.read_text(encoding="utf-8"))
        best = json.loads(path.with_suffix(".best.json").read_text(encoding="utf-8"))
        yield Instance(
            name=task["name"], job=_workshop_job(task), best=round(best["cost"] * 100), linear=task["kind"] == "linear", cuts=best["cuts"]
        )


def _workshop_job(task: dict[str, Any]) -> Job:
    edges = task["trim"] if isinstance(task["trim"], dict) else dict.fromkeys(("left", "right", "bottom", "top"), task["trim"])
    stocks = tuple(
        Stock(
            id=one["id"], length=one["w"], width=one["h"], cost=round(one["cost"] * 100), count=one["qty"], trims=Trims(**edges),
            offcut=one["id"].startswith("offcut"),
        )
        for one in task["stock"]
    )  # fmt: skip
    pieces = tuple(
        Piece(id=part["id"], length=part["w"], width=part["h"], count=part["qty"], turnable=not part["grain"] and task["kind"] != "linear")
        for part in task["parts"]
    )
    return Job(pieces=pieces, stocks=stocks, kerf=task["kerf"])


def _by_instance(file: str) -> Iterator[tuple[str, list[dict[str, str]]]]:
    for name, rows in groupby(_rows(file), key=lambda row: row["instance"]):
        yield name, list(rows)


def _rows(file: str) -> list[dict[str, str]]:
    with (HOME / file).open(encoding="utf-8", newline="") as text:
        return list(csv.DictReader(text))
