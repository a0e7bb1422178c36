"""Safety notes: cautions that follow from what is done, with what, on which wood, and from the piece itself."""

from compiler.api import Plugin, hook

from .cautions import safety_notes
from .page import work_safely
from .tools import tools_by_need


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(safety_notes, tools_by_need), sections=(work_safely,))
