"""Racking: an open case with nothing in its plane that keeps it square."""

from compiler.api import Plugin, hook

from .judging import racks


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, checks=(racks,))
