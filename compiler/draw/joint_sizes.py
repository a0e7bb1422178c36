"""The sizes of a joint that is cut through.

In: the cut. Out: dimensions in paper millimetres, not yet placed. What the entering part fills comes first; of steps that add up
to the whole the largest is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise, zip_longest
from typing import Literal

import shapely
from shapely.geometry.base import BaseGeometry

from compiler.base.showing import Style, show
from compiler.draw.bounds import Bounds
from compiler.draw.dimensions import Dimension
from compiler.draw.joint_cuts import Cut
from compiler.draw.joint_measures import level
from compiler.draw.lettering import size_runs
from compiler.draw.places import Places, of_parts
from compiler.values.model import JointUse, Model


def sizes_of_cut(model: Model, joint: JointUse, cut: Cut, places: Sequence[Places], scale: float, style: Style, most: int,
                 named: Sequence[Dimension] = ()) -> list[Dimension]:
    """At most so many sizes: what the joint names itself, the whole, then the steps between corners that say something new.

    `places` are the exact ones on both axes of the picture, see `places_of`.
    """
    faces: dict[str, BaseGeometry] = {}
    for name, face in cut.faces:
        faces[name] = faces[name].union(face) if name in faces else face
    # The corners of a joint that leans stand at places that nobody measures to: its notes tell its sizes.
    if joint.acting not in faces or joint.receiver not in faces or not level(model, joint):
        return []
    overall: list[Dimension] = []
    found: tuple[list[Dimension], list[Dimension]] = ([], [])
    for i in (0, 1):
        coordinates: dict[float, tuple[float, float]] = {}
        for name in (joint.acting, joint.receiver):
            for x, y in shapely.get_coordinates(faces[name]):
                value, beside = (x, y) if i == 0 else (y, x)
                if abs(value - cut.window[i]) < 1e-6 or abs(value - cut.window[i + 2]) < 1e-6:
                    continue
                key = next((k for k in coordinates if abs(k - value) < 2e-3), round(float(value), 4))
                old = coordinates.get(key, (float(beside), float(beside)))
                coordinates[key] = (min(old[0], float(beside)), max(old[1], float(beside)))
        values = sorted(coordinates)
        if len(values) < 2:
            continue
        whole = (values[0], values[-1])
        axis: Literal["x", "y"] = "x" if i == 0 else "y"
        mine = [one for one in named if one.axis == axis]
        given: set[Fraction] = set()
        own = faces[joint.acting].bounds

        def rank(step: tuple[float, float], i: int = i, own: Bounds = own) -> tuple[bool, float, float]:
            """What the entering part fills comes first, then the small ones."""
            return not (own[i] - 1e-3 <= step[0] and step[1] <= own[i + 2] + 1e-3), step[1] - step[0], step[0]

        steps = sorted(pairwise(values), key=rank)
        if len(steps) > 1:
            # The last is told by the others and the overall one.
            steps = steps[:-1]
        for start, end in [*steps, whole] if len(values) > 2 else [whole]:
            length = places[i].between(start, end)
            runs = size_runs(length, style)
            if length.inches in given or show(length, style).text == "0" or any(one.runs == runs for one in mine):
                continue
            given.add(length.inches)
            reach = tuple((low * scale, high * scale) for low, high in (coordinates[start], coordinates[end]))
            place = overall if (start, end) == whole else found[i]
            place.append(Dimension(axis=axis, start=start * scale, end=end * scale, runs=runs,
                                    reach=(reach[0], reach[1]), outermost=(start, end) == whole and len(values) > 2,
                                    side="high" if (start, end) == whole and len(values) > 2 else "low"))
    steps_in_turn = [one for pair in zip_longest(*found) for one in pair if one is not None]
    return [*named, *overall, *steps_in_turn][:most]


def places_of(model: Model, cut: Cut, which: int) -> Places:
    """Exact places of the parts that the cut shows, on its axis 0 (across) or 1 (up); none when that leans."""
    camera = cut.camera
    direction = camera.right if which == 0 else camera.up
    axis = max(range(3), key=lambda k: abs(direction[k]))
    if abs(direction[axis]) < 1 - 1e-9:
        return Places(())
    return of_parts((part for part in model.parts if part.name in cut.seen.names), axis).turned(1 if direction[axis] > 0 else -1)
