"""How a part lies on the bench, and the cameras of its drawing.

In: a part and the views that tell of it. Out: cameras with what they see. Length lies across the sheet; a view of an edge next to the face
that shows it. It must not know paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from compiler.draw.part_sizes import PartView, main_face
from compiler.draw.views import Camera, Seen, look
from compiler.draw.workings import Blank, blank, shapings
from compiler.solid.building import Solids
from compiler.values.figure import Point
from compiler.values.model import Part
from compiler.values.shapes import Pose, Vector


@dataclass(frozen=True, slots=True)
class Turned:
    """A view with its camera and the signs of its directions on the picture."""

    view: PartView
    camera: Camera
    right: int
    up: int
    seen: Seen

    def point(self, along: float, across: float) -> Point:
        """Places in the view's two directions on the picture's plane."""
        return self.right * along, self.up * across


def flat(part: Part) -> Part:
    """The part as it lies on the bench: untilted, shapes as sawn."""
    features = tuple(feature if feature.sawn is None else replace(feature, shape=feature.sawn) for feature in part.features)
    return replace(part, pose=Pose(), features=features)


def _unit(axis: int, sign: int = 1) -> Vector:
    values = [0.0, 0.0, 0.0]
    values[axis] = float(sign)
    return values[0], values[1], values[2]


def _hand(axes: tuple[int, int, int]) -> int:
    """1 when length, width, thickness are right-handed in the plan, else -1."""
    return 1 if axes in ((0, 1, 2), (1, 2, 0), (2, 0, 1)) else -1


def cameras(within: Blank, views: Sequence[PartView], solids: Solids) -> list[Turned]:
    length, wide, thick = within.axes
    hand = _hand(within.axes)
    main = views[0].side[1] * hand
    result = []
    for view in views:
        direction, sign = view.side
        if direction == 2:
            up = sign * hand
            camera = Camera(_unit(thick, sign), _unit(length), _unit(wide, up))
            right = 1
        elif direction == 1:
            up = -sign * hand
            # Third angle: the edge that is seen lies next to the face that shows it.
            camera = Camera(_unit(wide, sign), _unit(length), _unit(thick, up))
            right = 1
        else:
            up, right = main, -main * sign * hand
            camera = Camera(_unit(length, sign), _unit(thick, right), _unit(wide, up))
        result.append(Turned(view, camera, right, up, look(solids, camera, fills=False)))
    return result


def main_camera(part: Part) -> Camera:
    """The camera that looks square at the face which the part's drawing shows first."""
    within = blank(part)
    sign, hand = main_face(within, shapings(part, within))[1], _hand(within.axes)
    length, wide, thick = within.axes
    return Camera(_unit(thick, sign), _unit(length), _unit(wide, sign * hand))
