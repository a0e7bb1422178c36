"""Loads and movement: one section for what the finished piece carries, how its wood moves, and how to lift it."""

from compiler.api import Plugin, hook

from .pages import loads_and_movement


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(loads_and_movement,))
