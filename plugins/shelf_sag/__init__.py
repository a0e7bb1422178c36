"""Shelf sag: how far shelves bend under load, by wood, thickness and span."""

from compiler.api import Plugin, hook

from .judging import sagging_shelf, shelf_loads, shelf_notes


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, uses=("loads_and_movement",), tasks=(shelf_loads, shelf_notes), checks=(sagging_shelf,))
