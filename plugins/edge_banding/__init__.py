"""Edge banding: which edges get tape, how much of it, and how many rolls."""

from compiler.api import Plugin, hook

from .listing import edge_banding, narrow_tape
from .pages import edge_tape


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(edge_banding,), checks=(narrow_tape,), sections=(edge_tape,))
