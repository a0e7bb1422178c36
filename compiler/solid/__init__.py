"""Parts as true solids: built, weighed, and checked against each other. Inches as floats.

- `build(parts, quality="coarse" | "fine") -> Solids`
"""

from compiler.solid.building import Body, PartSolid, Problem, Solids, build

__all__ = ["Body", "PartSolid", "Problem", "Solids", "build"]
