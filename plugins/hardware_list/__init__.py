"""The hardware list: fasteners and fittings by piece, glue and finish by the area they cover."""

from compiler.api import Plugin, hook

from .listing import hardware_list
from .pages import hardware_pages


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(hardware_list,), sections=(hardware_pages,))
