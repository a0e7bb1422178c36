"""What a cut face is made of: the piece it belongs to and the sign of its wood.

In: a part and a camera. Out: a sign with its direction on paper. It must not know paper or lines.
"""

from __future__ import annotations

from math import atan2, degrees

import numpy as np

from compiler.draw.views import Camera
from compiler.draw.woodsigns import Sign
from compiler.values.model import AXES, Model, Part
from compiler.values.shapes import Vector


def piece_of(model: Model, name: str) -> Part:
    """A part, or a loose piece that a joint brings along, by name. Raises KeyError."""
    return next((piece for piece in model.pieces if piece.name == name), None) or model.part(name)


def sign_of(part: Part, camera: Camera) -> tuple[Sign, float]:
    """Which sign a cut face of a part has, and its direction on paper."""
    rotation = np.array(part.pose.rotation)
    toward = np.array(camera.toward)

    def angle(axis: int) -> float:
        vector = rotation @ np.array(unit(axis))
        x, y = camera.project((float(vector[0]), float(vector[1]), float(vector[2])))
        return degrees(atan2(y, x))

    thick = AXES.index(part.thickness_axis)
    if part.stock.kind == "sheet":
        across = abs(float(rotation @ np.array(unit(thick)) @ toward))
        return ("face", 0.0) if across > 0.7 else ("edge", angle(thick) + 90.0)
    grain = AXES.index(part.length_axis)
    lengthwise = abs(float((rotation @ np.array(unit(grain))) @ toward))
    return ("end", 0.0) if lengthwise > 0.7 else ("along", angle(grain))


def unit(axis: int) -> Vector:
    """The unit vector of a plan axis (0 across, 1 deep, 2 up)."""
    values = [0.0, 0.0, 0.0]
    values[axis] = 1.0
    return values[0], values[1], values[2]
