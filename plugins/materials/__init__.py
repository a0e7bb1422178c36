"""Materials: all that must be bought, with its cost where the shop knows the price."""

from compiler.api import Plugin, hook

from .listing import materials
from .pages import shopping_list


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, uses=("board_feet",), tasks=(materials,), sections=(shopping_list,))
