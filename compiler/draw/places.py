"""Places on a picture as exact lengths: the floats of a view find back to the sizes they come from.

In: exact places (inches) that may occur on each axis. Out: the exact length between two coordinates of a view. Where no exact
place is within a hair (tilted parts), the length is the coordinate to 1/1024 in. It must not know views or paper.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from fractions import Fraction

from compiler.base.measures import Length
from compiler.values.model import AXES, Part
from compiler.values.shapes import Block, Bore, Feature, OutlinePoint, Prism

HAIR = 2e-4
FINE = 1024


class Places:
    """Exact places on one axis."""

    def __init__(self, places: Iterable[Fraction]) -> None:
        self._exact = sorted(set(places))
        self._floats = [float(place) for place in self._exact]

    def exact(self, value: float) -> Fraction:
        """The exact place of a coordinate."""
        at = bisect_left(self._floats, value)
        near = [i for i in (at - 1, at) if 0 <= i < len(self._floats)]
        if near:
            best = min(near, key=lambda i: abs(self._floats[i] - value))
            if abs(self._floats[best] - value) <= HAIR:
                return self._exact[best]
        return Fraction(round(value * FINE), FINE)

    def knows(self, value: float) -> bool:
        """True when a square part or working starts or ends there."""
        at = bisect_left(self._floats, value)
        return any(0 <= i < len(self._floats) and abs(self._floats[i] - value) <= HAIR for i in (at - 1, at))

    def turned(self, sign: int) -> Places:
        """The same places counted the other way for sign -1."""
        return Places(sign * place for place in self._exact)

    def between(self, start: float, end: float) -> Length:
        """The exact length from one coordinate to another."""
        return Length(self.exact(end) - self.exact(start))


def of_parts(parts: Iterable[Part], axis: int) -> Places:
    """All places on a plan axis where a square part or one of its workings starts or ends."""
    found: set[Fraction] = {Fraction(0)}
    for part in parts:
        if not part.pose.square:
            continue
        span = part.box.span(AXES[axis])
        found |= {span.start.inches, span.end.inches}
        for feature in part.features:
            found |= set(feature_places(feature, axis))
    return Places(found)


def feature_places(feature: Feature, axis: int) -> Iterable[Fraction]:
    """Where a feature in a square frame starts and ends on a plan axis."""
    frame = feature.frame
    if not frame.square:
        return
    axes = (frame.along, frame.across, frame.into)
    which = next(i for i in range(3) if axes[i][axis] != 0)
    origin = frame.origin[axis].inches
    if axes[which][axis] > 0:
        yield from (origin + place for place in own_places(feature.shape, which))
    else:
        yield from (origin - place for place in own_places(feature.shape, which))


def own_places(shape: Block | Bore | Prism, which: int) -> Iterable[Fraction]:
    """A shape's own coordinates on its axis 0 (along), 1 (across) or 2 (into)."""
    if isinstance(shape, Block):
        span = (shape.along, shape.across, shape.into)[which]
        yield from (span[0].inches, span[1].inches)
        if shape.toward is not None:
            names = ("along", "across", "into")
            if names[which] != shape.toward:
                others = [name for name in names if name != shape.toward]
                widening = shape.flare[others.index(names[which])]
                yield from (span[0].inches - widening.low.inches, span[1].inches + widening.high.inches)
    elif isinstance(shape, Bore):
        names = ("along", "across", "into")
        if names[which] == shape.toward:
            yield from (shape.span[0].inches, shape.span[1].inches)
        else:
            others = [name for name in names if name != shape.toward]
            yield shape.at[others.index(names[which])].inches
    elif which == 2:
        yield from (shape.span[0].inches, shape.span[1].inches)
    else:
        for point in shape.outline:
            yield _coordinate(point, which)


def _coordinate(point: OutlinePoint, which: int) -> Fraction:
    return (point.x if which == 0 else point.y).inches
