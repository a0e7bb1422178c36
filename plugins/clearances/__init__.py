"""Clearances: room round drawers and doors, and what slides and hinges ask for."""

from compiler.api import Plugin, hook

from .judging import tight_or_loose


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, uses=("loads_and_movement", "seasonal_movement"), checks=(tight_or_loose,))
