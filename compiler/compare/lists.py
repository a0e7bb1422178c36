"""The lists of two edition records, row by row.

In: two records as plain data (see `compiler.record`). Out: `RowChange`s and plain sentences: part, old size, new size.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

Record = dict[str, Any]


@dataclass(frozen=True, slots=True)
class RowChange:
    """One row of one list. `cells` are (head, before, after) of what differs; a row that came or went has one side empty."""

    of: str
    row: str
    kind: str
    cells: tuple[tuple[str, str, str], ...] = ()

    @property
    def sentence(self) -> str:
        """`cut list, B bottom: length 35 1/16 → 35 5/16`."""
        if self.kind == "changed":
            told = "; ".join(f"{head} {before} → {after}" for head, before, after in self.cells)
            return f"{self.of}, {self.row}: {told}"
        return f"{self.of}: {self.row} {self.kind}"

    @property
    def told(self) -> str:
        """For a buyer: `Cut list, B bottom: length was 35 1/16, is 35 5/16`."""
        of = self.of.capitalize()
        if self.kind == "changed":
            return f"{of}, {self.row}: " + "; ".join(f"{head} was {before}, is {after}" for head, before, after in self.cells)
        return f"{of}: {self.row} {self.kind}"


def compare_lists(before: Record, after: Record) -> tuple[RowChange, ...]:
    """Every row that differs, list by list in the order of the new record."""
    changes: list[RowChange] = []
    old_lists, new_lists = before.get("lists", {}), after.get("lists", {})
    for name in [*new_lists, *(name for name in old_lists if name not in new_lists)]:
        old = {row["row"]: row["cells"] for row in old_lists.get(name, [])}
        new = {row["row"]: row["cells"] for row in new_lists.get(name, [])}
        for row, cells in new.items():
            if row not in old:
                changes.append(RowChange(name, row, "is new"))
            elif old[row] != cells:
                heads = [*cells, *(head for head in old[row] if head not in cells)]
                told = tuple(
                    (head, str(old[row].get(head, "")), str(cells.get(head, "")))
                    for head in heads
                    if old[row].get(head, "") != cells.get(head, "")
                )
                changes.append(RowChange(name, row, "changed", told))
        changes.extend(RowChange(name, row, "is gone") for row in old if row not in new)
    return tuple(changes)
