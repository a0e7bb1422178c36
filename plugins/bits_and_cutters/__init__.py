"""Bits and cutters: the sizes to have at hand, from holes, screws, edges and grooves."""

from compiler.api import Plugin, hook

from .listing import bits_and_cutters
from .pages import bits_table


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(bits_and_cutters,), sections=(bits_table,))
