"""Cost sheet: what everything costs, by whose price. For the shop; printed only when it asks for it."""

from compiler.api import Plugin, hook

from .costing import cost_sheet


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(cost_sheet,))
