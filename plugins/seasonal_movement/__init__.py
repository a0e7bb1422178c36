"""Seasonal movement: how much solid wood moves across its grain, against the room that its joints leave."""

from compiler.api import Plugin, hook

from .judging import held_across, movements
from .telling import movement_notes


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, uses=("loads_and_movement",), tasks=(movements, movement_notes), checks=(held_across,))
