"""Parts as true solids: built, weighed, and checked against each other. Inches and cubic inches as floats.

- `build(parts, quality="coarse" | "fine") -> Solids`: coarse for drawings, fine for volumes and checks;
  `solids[name]`, `solids.names`, `solids.problems`, `solids.only(names)`; each solid has `volume`, `low`, `high`,
  `geometry` (arrays) and `problems` (with the feature that did it)
- `collisions(solids) -> tuple[Collision, ...]`: parts that run into each other: where, volume, depth
- `contacts(solids) -> tuple[Contact, ...]`: parts that touch: patches with area, normal, box
- `weights(solids) -> tuple[Weight, ...]`: volume, kilograms, pounds for each part
- `gap(solids, first, second) -> float`: least distance between two parts
- `Section(normal, at)`, `across_axis(axis, at, toward_high)`: a cutting plane for views
"""

from compiler.solid.building import Body, PartSolid, Problem, Solids, build
from compiler.solid.checking import Collision, Weight, collisions, gap, near_pairs, weights
from compiler.solid.contacts import Contact, ContactPatch, contacts
from compiler.solid.sections import Section, across_axis

__all__ = [
    "Body", "Collision", "Contact", "ContactPatch", "PartSolid", "Problem", "Section", "Solids", "Weight",
    "across_axis", "build", "collisions", "contacts", "gap", "near_pairs", "weights",
]
