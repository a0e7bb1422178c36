"""Exploded drawings: the whole piece taken apart along its joints, then each different sub-assembly."""

from compiler.api import Plugin, hook

from .pages import exploded_pages


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, sections=(exploded_pages,))
