"""Fastening: whether screws stay inside, hold enough wood, and keep off edges and ends."""

from compiler.api import Plugin, hook

from .judging import doubtful_fastener, held_by_screws


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, uses=("loads_and_movement",), checks=(doubtful_fastener, held_by_screws))
