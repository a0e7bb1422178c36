"""The stage itself: a design and the kinds of joint in, the model out.

Order: parts as they stand, joints made contact by contact, workings cut, sizes read off, equal parts found and lettered,
hardware and finishes counted, then the checks of the whole. All faults of a run are reported together; a model is given
even when there are some, so that later stages can find theirs, and the report says that it can't be built from.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from compiler.base.measures import Length
from compiler.base.report import Findings, Outcome, Spot
from compiler.stages.assemble.coverage import covered, touching
from compiler.stages.assemble.finishing import finish_uses
from compiler.stages.assemble.growth import grown_box, joined_features
from compiler.stages.assemble.hardware import HoleRow, count_hardware, hole_row
from compiler.stages.assemble.holding import judge_holding, judge_overlaps, judge_tapers
from compiler.stages.assemble.items import Items
from compiler.stages.assemble.joints import Made, make_joints
from compiler.stages.assemble.kinds import kinds_of, rows_of
from compiler.stages.assemble.letters import lettered
from compiler.stages.assemble.operations import operations_of
from compiler.stages.assemble.pieces import loose_pieces
from compiler.stages.assemble.placing import Standing, standing
from compiler.stages.assemble.shaping import fitted_ends, fitted_workings, shape_features
from compiler.stages.assemble.traces import size_traces
from compiler.stages.assemble.workings import make_workings
from compiler.values.contributions import Brought
from compiler.values.design import Design, DesignPart
from compiler.values.joinery import Joint
from compiler.values.model import AXES, Axis, Box, Model, Part, Working
from compiler.values.settings import Shop
from compiler.values.shapes import Feature
from compiler.values.source import Library


def assemble(design: Design, joint_kinds: Sequence[Brought[type[Joint]]], shop: Shop, library: Library = Library(())) -> Outcome[Model]:  # noqa: B008
    """The model of one edition, with everything that is wrong with it."""
    findings = Findings()
    units = design.edition.units
    items = Items(design, library)
    stands = {part.name: standing(part, units) for part in design.parts}
    made = make_joints(items, joint_kinds, stands, shop, findings)
    joined = joined_features(stands, made)
    workings = _workings(items, stands, findings)
    parts = tuple(_part(stand, made, joined[name], workings[name], items, findings) for name, stand in stands.items())
    rows = lettered(rows_of([(part, part.kind) for part in parts]), design.letters, design.letters_at, findings)
    kinds = kinds_of(rows)
    letter_of = {part.name: (row.name, letter) for row, letter in rows for part in row.parts}
    hands = {part.name: row.hand(part) for row, _ in rows for part in row.parts}
    parts = tuple(replace(part, kind=letter_of[part.name][0], letter=letter_of[part.name][1],
                          hand=hands[part.name]) for part in parts)
    by_name = {part.name: part for part in parts}
    uses = tuple(joint.use for joint in made)
    hole_rows = _hole_rows(stands, by_name)
    hardware = count_hardware(items, stands, hole_rows, findings)
    pairs = touching(stands, units)
    finishes = finish_uses(design.finishes, stands, covered(pairs), findings)
    judge_overlaps(stands, by_name, design.joints, units, findings)
    judge_holding(stands, design.joints, uses, hardware, pairs, findings)
    judge_tapers(((joint.meeting, joint.use.kind, joint.use.at or design.parts[0].at) for joint in made if joint.use.family in ("into", "to")),
                 by_name, units, findings)
    model = Model(
        plan=design.plan, edition=design.edition, parts=parts, kinds=kinds, assemblies=design.assemblies, joints=uses,
        hardware=hardware, finishes=finishes,
        operations=operations_of(parts, [step for joint in made for step in joint.operations], uses, hardware, finishes),
        runs_of_figure=tuple(names for names, _ in design.match), measures=_measures(design), middles=design.middles,
        views=_texts(design.views), explode=_texts(design.explode),
        traces=(*design.traces, *size_traces(parts, kinds, stands, made, units)), pieces=loose_pieces(made, units),
        hazards=tuple(dict.fromkeys((name, joint.use.at) for joint in made for name in joint.hazards)))
    return Outcome(model, findings.report())


def _workings(items: Items, stands: Mapping[str, Standing], findings: Findings) -> dict[str, tuple[Working, ...]]:
    """The workings of each part, numbered through the plan."""
    found: dict[str, tuple[Working, ...]] = {}
    seen: set[tuple[str, Spot | None]] = set()
    number = 1
    for name, stand in stands.items():
        mine = Findings()
        found[name] = make_workings(items, stand, number, mine)
        number += len(found[name])
        for fault in mine.report():
            # Copies have the same working at the same place in the file: the first is named.
            if (fault.code, fault.at) not in seen:
                findings.add(fault)
            seen.add((fault.code, fault.at))
    return found


def _part(stand: Standing, made: Sequence[Made], joined: tuple[Feature, ...], workings: tuple[Working, ...], items: Items,
          findings: Findings) -> Part:
    """A part with its features in the order of making: outline, shape, workings, joints; and its finished sizes.

    Joints come last, so that a tenon grows from an end that is cut slanting and isn't cut with it.
    """
    source = stand.part
    meetings = tuple(joint.meeting for joint in made)
    workings = fitted_workings(workings, fitted_ends(stand, meetings))
    outlines = tuple(feature for working in workings if working.kind == "outline" for feature in working.features)
    rest = tuple(feature for working in workings if working.kind != "outline" for feature in working.features)
    shape = shape_features(stand, meetings, items.design.edition.units, findings)
    features = (*outlines, *shape, *rest, *joined)
    box = grown_box(stand, features)
    along, across = _finished_axes(source, box)
    return Part(
        name=source.name, kind=source.kind, letter="", assembly=source.assembly, component=source.component, stock=source.stock,
        box=source.box, pose=source.pose, grain=source.grain, thickness_axis=source.thickness_axis, features=features, workings=workings,
        length=_size(box, along), width=_size(box, across), thickness=_size(box, source.thickness_axis), strips=source.strips,
        band=source.band, hand=source.hand, note=source.note, at=source.at)


def _finished_axes(part: DesignPart, box: Box) -> tuple[Axis, Axis]:
    """The axes of length (the grain's, or the longer side) and width."""
    rest = [axis for axis in AXES if axis != part.thickness_axis]
    along = part.grain if part.grain != "any" else max(rest, key=lambda axis: box.span(axis).size)
    if along == part.thickness_axis:
        along = max(rest, key=lambda axis: box.span(axis).size)
    return along, next(axis for axis in rest if axis != along)


def _size(box: Box, axis: Axis) -> Length:
    return box.span(axis).size


def _hole_rows(stands: Mapping[str, Standing], parts: Mapping[str, Part]) -> dict[str, tuple[HoleRow, ...]]:
    rows = {name: tuple(row for working in part.workings if (row := hole_row(stands[name], working)) is not None) for name, part in parts.items()}
    return {name: row for name, row in rows.items() if row}


def _measures(design: Design) -> tuple[tuple[str, Length], ...]:
    """All named lengths of the plan and of its uses."""
    found: list[tuple[str, Length]] = []
    for scope in design.scopes:
        prefix = f"{scope.id}." if scope.id else ""
        found.extend((prefix + name, value) for name, value in scope.values if isinstance(value, Length))
    return tuple(found)


def _texts(wishes: Sequence[tuple[str, object]]) -> tuple[tuple[str, str], ...]:
    found: list[tuple[str, str]] = []
    for name, written in wishes:
        value = getattr(written, "value", written)
        if isinstance(value, str):
            found.append((name, value))
    return tuple(found)
