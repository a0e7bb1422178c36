"""Sample plugin: a file beside the PDF, the parts as comma-separated values (RFC 4180)."""

import csv
import io

from compiler.api import CutList, Edition, Plugin, export, hook


@export(".sample-plugin.csv")
def sample_plugin(cut_list: CutList, edition: Edition) -> str:
    """One line a row of the cut list, in the units of the edition."""
    text = io.StringIO()
    lines = csv.writer(text, lineterminator="\r\n")
    lines.writerow(("part", "pieces", f"length {edition.units}", f"width {edition.units}", "stock"))
    for row in cut_list.rows:
        lines.writerow((row.name, row.number, edition.show(row.length), edition.show(row.width), row.stock.name))
    return text.getvalue()


@hook
def plugin() -> Plugin:
    """All that this plugin brings."""
    return Plugin(contract=1, exports=(sample_plugin,))
