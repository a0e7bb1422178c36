"""How much of straight lines lies in an area.

In: an area of polygons, lines from point to point. Out: lengths. It must not know what is drawn.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from compiler.solid.meshes import Floats


class Inside:
    """An area, its borders read once for any number of lines."""

    def __init__(self, area: BaseGeometry) -> None:
        rings = shapely.get_rings(shapely.get_parts(shapely.orient_polygons(area)))
        points, ring = shapely.get_coordinates(rings, return_index=True)
        self._points = points
        self._borders = np.flatnonzero(ring[1:] == ring[:-1])

    def lengths(self, starts: Floats, ends: Floats) -> Floats:
        """How much of each line from `starts` to `ends` ((n, 2)) lies inside.

        A line enters where a border runs from its left to its right, as outer rings are counterclockwise, and leaves where one
        runs the other way; whatever is entered counts from there to the line's end, whatever is left is taken off again.
        """
        way = ends - starts
        long = np.hypot(way[:, 0], way[:, 1])
        away = self._points[None] - starts[:, None]
        aside = way[:, 0, None] * away[:, :, 1] - way[:, 1, None] * away[:, :, 0]
        left = aside > 0
        line, border = np.nonzero(left[:, self._borders] != left[:, self._borders + 1])
        first = self._borders[border]
        one, two = aside[line, first], aside[line, first + 1]
        before, after = ((away[line, end] * way[line]).sum(axis=1) for end in (first, first + 1))
        share = (before + (after - before) * (one / (one - two))) / np.maximum(long[line], 1e-300) ** 2
        rest = np.where(one > 0, 1.0, -1.0) * (1.0 - np.clip(share, 0.0, 1.0))
        found: Floats = np.bincount(line, rest, len(starts)) * long
        return found
