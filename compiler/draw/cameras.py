"""Where the reader looks from: view words and the plane of the picture.

In: view words (`front`, `left side`, `front left top`, `isometric`). Out: a Camera, which projects plan points to
the picture's plane. It must not know about parts, solids or paper.

All views are parallel projections. Plan axes: x across (left to right), y deep (front to back), z up.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from compiler.values.shapes import Vector

# A corner seen flatter than isometric: the front shows most, heights least shortened, as furniture is seen.
PICTORIAL: Vector = (0.62, 0.85, 0.5)
_SIGN = {"left": (0, -1), "right": (0, 1), "front": (1, -1), "back": (1, 1), "bottom": (2, -1), "top": (2, 1)}
_FILLERS = {"from", "the", "side", "view", "corner", "and"}


@dataclass(frozen=True, slots=True)
class Camera:
    """A parallel view. `toward` points from the piece to the reader; `right` and `up` lie in the picture (unit vectors)."""

    toward: Vector
    right: Vector
    up: Vector
    words: str = ""

    def project(self, point: Vector) -> tuple[float, float]:
        """Where a plan point (inches) stands in the picture: inches right and up of the plan's origin."""
        return _dot(self.right, point), _dot(self.up, point)

    def depth(self, point: Vector) -> float:
        """How near a plan point is to the reader, in inches; larger is nearer."""
        return _dot(self.toward, point)

    @property
    def square_on(self) -> bool:
        """Whether the view is along one of the plan's axes, so that its lengths are true."""
        return sorted(abs(value) for value in self.toward) == [0.0, 0.0, 1.0]


def camera(words: str) -> Camera:
    """The camera of some view words.

    One face word is a square view (`front`, `left side`, `from the right`, `top`, `side` = the right one). Two or three name
    a corner (`front left top`; top is meant when neither top nor bottom is named), seen in the flatter pictorial
    direction. `isometric` alone is the front right top corner; before a corner it makes that one isometric.
    Raises ValueError for other words.
    """
    text = words.lower().replace(",", " ").split()
    names = [word for word in text if word not in _FILLERS and word not in ("isometric", "pictorial")]
    if not names and ("isometric" in text or "pictorial" in text):
        names = ["front", "right", "top"]
    if not names and "side" in text:
        names = ["right"]
    axes = [_SIGN[word][0] for word in names if word in _SIGN]
    if not names or len(axes) < len(names) or len(set(axes)) < len(axes):
        raise ValueError(
            f"“{words}” is no view; write front, back, left side, right side, top, bottom, a corner such as "
            "“front left top”, or isometric."
        )
    signs = [0, 0, 0]
    for word in names:
        axis, sign = _SIGN[word]
        signs[axis] = sign
    if len(names) == 1:
        return look_from((float(signs[0]), float(signs[1]), float(signs[2])), words)
    sizes = (1.0, 1.0, 1.0) if "isometric" in text else PICTORIAL
    if len(names) == 2 and not signs[2]:
        signs[2] = 1
    return look_from((signs[0] * sizes[0], signs[1] * sizes[1], signs[2] * sizes[2]), words)


def look_from(toward: Vector, words: str = "") -> Camera:
    """The camera that looks from a direction, heights upright.

    Seen from straight above the back is up, from straight below the front is (third-angle projection).
    Raises ValueError for no direction.
    """
    size = sqrt(_dot(toward, toward))
    if size < 1e-12:
        raise ValueError("A view needs a direction.")
    w = (toward[0] / size, toward[1] / size, toward[2] / size)
    above = abs(w[0]) < 1e-9 and abs(w[1]) < 1e-9
    upright: Vector = (0.0, 1.0 if w[2] > 0 else -1.0, 0.0) if above else (0.0, 0.0, 1.0)
    u = _cross(upright, w)
    length = sqrt(_dot(u, u))
    # Adding 0.0 turns a negative zero into a zero.
    right = (u[0] / length + 0.0, u[1] / length + 0.0, u[2] / length + 0.0)
    v = _cross(w, right)
    return Camera(w, right, (v[0] + 0.0, v[1] + 0.0, v[2] + 0.0), words)


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
