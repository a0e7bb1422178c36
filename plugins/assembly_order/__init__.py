"""Assembly order: whether what is only laid into the piece can still be got in at its step."""

from compiler.api import Plugin, hook

from .judging import no_way_in


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, checks=(no_way_in,))
