"""Parts of cases that come together: a drawer box."""

from compiler.api import Plugin, hook

from .drawer_box import DrawerBox


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, components=(DrawerBox,))
