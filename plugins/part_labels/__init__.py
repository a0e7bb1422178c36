"""Part labels: one label a piece, on standard label sheets, as a PDF of its own. Made only when the shop asks for it."""

from compiler.api import Plugin, hook

from .labels import part_labels


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, exports=(part_labels,))
