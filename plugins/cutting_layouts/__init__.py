"""Cutting layouts: sheets, boards and lengths laid out for the least cost, in an order that a person can saw."""

from compiler.api import Plugin, hook


@hook
def plugin() -> Plugin:
    return Plugin(contract=1)
