"""Part weights: what each kind of part weighs, finished. Printed only when the shop asks for it."""

from compiler.api import Plugin, hook

from .weighing import part_weights, weight_table


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, uses=("loads_and_movement",), tasks=(part_weights,), sections=(weight_table,))
