"""The cut list: every kind of part once, with finished and rough sizes."""

from compiler.api import Plugin, hook

from .listing import cut_list
from .pages import cut_list_pages


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(cut_list,), sections=(cut_list_pages,))
