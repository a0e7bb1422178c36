"""How large a solid looks from a direction, by itself.

In: a part's body and the directions of a picture. Out: an area. It must not know about cameras, other parts or paper.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from compiler.solid.building import Body
from compiler.values.shapes import Vector


@lru_cache(maxsize=4096)
def shadow_area(body: Body, right: Vector, up: Vector, toward: Vector) -> float:
    """The area in square inches of a body's shadow on the plane of `right` and `up`, cast along `toward` (unit vectors, square)."""
    turned = body.manifold.transform(np.column_stack([np.array([right, up, toward]), np.zeros(3)]))
    return float(turned.project().area())
