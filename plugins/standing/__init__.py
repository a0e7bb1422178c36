"""Standing: when the piece tips, whether it is held to the wall, what it weighs and who can lift it."""

from compiler.api import Plugin, hook

from .cautions import RULES
from .judging import standing, standing_notes, tips_over


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, uses=("loads_and_movement",), tasks=(standing, standing_notes), checks=(tips_over,), safety_rules=RULES)
