"""Loose pieces that joints bring along: wedges, splines, loose tongues, each a part of its own.

In: joints as made. Out: parts without a letter, standing where they are driven in. Equal pieces share a name.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.base.measures import Length
from compiler.base.showing import Units
from compiler.stages.assemble.growth import block_feature, bounds_of
from compiler.stages.assemble.joints import Made
from compiler.stages.assemble.placing import made_exact
from compiler.values.model import AXES, Axis, Part
from compiler.values.shapes import Feature


def loose_pieces(made: Sequence[Made], units: Units) -> tuple[Part, ...]:
    """All pieces in the order of their joints: `stretcher wedge 1`, `stretcher wedge 2` …"""
    counts: dict[str, int] = {}
    found: list[Part] = []
    for joint in made:
        for piece in joint.pieces:
            frame = joint.use.frame
            bounds = bounds_of(piece.shape, frame)
            if bounds is None:
                continue
            owner = joint.meeting.acting.part
            kind = f"{owner.kind} {piece.called}"
            counts[kind] = counts.get(kind, 0) + 1
            grain = _axis_of(joint, piece.grain)
            thickness = min((axis for axis in AXES if axis != grain), key=lambda axis: bounds.span(axis).size)
            width: Axis = next(axis for axis in AXES if axis not in (grain, thickness))
            features: tuple[Feature, ...] = ()
            if piece.shape.toward is not None:
                # Nothing but the flared shape itself is left of the box round it.
                features = (block_feature("cut", piece.called, bounds, joint.use.id),
                            Feature("grow", piece.called, piece.shape, frame, joint.use.id))
            found.append(Part(name=f"{kind} {counts[kind]}", kind=kind, letter="", assembly=owner.assembly, component=owner.component,
                              stock=piece.stock, box=bounds, grain=grain, thickness_axis=thickness, features=features,
                              length=_cut_size(bounds.span(grain).size, units), width=_cut_size(bounds.span(width).size, units),
                              thickness=_cut_size(bounds.span(thickness).size, units), at=joint.use.at))
    return tuple(found)


def _cut_size(length: Length, units: Units) -> Length:
    """A size that can be cut: a divided flare gives fractions that no rule has."""
    return made_exact(float(length), units)


def _axis_of(joint: Made, name: str) -> Axis:
    """The plan's axis nearest to one of the contact's."""
    frame = joint.use.frame
    direction = {"along": frame.along, "across": frame.across, "into": frame.into}[name]
    return max(AXES, key=lambda axis: abs(direction[AXES.index(axis)]))
