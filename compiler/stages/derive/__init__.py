"""Model → products: tasks in the order of their needs, checks, sections and exports of all plugins."""

from compiler.stages.derive.deriving import derive, explain
from compiler.stages.derive.running import Keep

__all__ = ["Keep", "derive", "explain"]
