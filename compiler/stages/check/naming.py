"""All names of a scope with their values, for joints, hardware and notes that come later.

In: a scope whose pieces are unfolded. Out: a `Scope` value: sizes, numbers, middles, materials, faces, extents and thicknesses, of pieces
and, where all copies agree, of parts. What can't be asked for by one name (copies that differ) is left out.
"""

from __future__ import annotations

from compiler.base.measures import Length
from compiler.language import Unsolved
from compiler.stages.check.scope import HIGH, LOW, OWN, Piece, Scope
from compiler.values import design
from compiler.values.design import DesignPart, Known
from compiler.values.library import Item, Stock
from compiler.values.model import AXES, FACES, Axis, Face


def scope_values(scope: Scope, parts: list[DesignPart]) -> design.Scope:
    """The scope's names and values, sorted."""
    found: dict[str, Known] = {}
    for name in scope.rules.sizes:
        found[name] = scope.size(name)
    for name in scope.rules.numbers:
        found[name] = scope.number(name)
    for axis in scope.rules.middle:
        found[f"middle.{axis}"] = scope.middle(axis)
    if scope.use is not None:
        for name in OWN:
            found[name] = scope.own(name)
    for each in (scope.plan, scope):
        for name in each.rules.materials:
            material = each.material(name)
            found.update(_measures(name, material))
            if isinstance(material, Item):
                found.setdefault(name, material.key)
    thickness = {part.name: part.box.span(part.thickness_axis).size for part in parts}
    _pieces(scope, scope, (), thickness, found)
    return design.Scope(id=scope.id, values=tuple(sorted(found.items())), units=scope.rules.units)


def _measures(name: str, material: Stock | Item | None) -> dict[str, Known]:
    if isinstance(material, Item):
        return {f"{name}.{measure}": length for measure, length in material.measures}
    if isinstance(material, Stock):
        sizes = {"thickness": material.thickness, "rough": material.rough, "width": material.width, "widest": material.widest}
        return {f"{name}.{measure}": length for measure, length in sizes.items() if length is not None}
    return {}


def _pieces(asker: Scope, scope: Scope, path: tuple[str, ...], thickness: dict[str, Length], found: dict[str, Known]) -> None:
    """Faces and sizes of every piece in a scope and in its uses, under each name the asker may use."""
    for rule in scope.rules.parts.values():
        copies = scope.copies(rule)
        mine: list[dict[str, Known]] = []
        for copy in copies:
            piece = Piece(scope, rule, copy)
            values = _values(asker, piece, thickness)
            mine.append(values)
            if len(copies) > 1:
                name = copy.called(scope.flipped) if scope is not asker else copy.name
                found.update({".".join([*path, name, key]): value for key, value in values.items()})
            if rule.component is not None:
                inner = scope.inside(rule, copy)
                called = copy.name if scope is asker else copy.called(scope.flipped)
                before = (*path, called)
                for size in inner.rules.sizes:
                    found[".".join([*before, size])] = inner.size(size)
                _pieces(asker, inner, before, thickness, found)
        agreed = {key: value for key, value in mine[0].items() if all(values.get(key) == value for values in mine[1:])}
        found.update({".".join([*path, rule.name, key]): value for key, value in agreed.items()})
        if scope is asker and len(copies) > 1:
            for key in agreed:
                scope.work.agree(f"{scope.prefix}{rule.name}.{key}", f"{scope.prefix}{copies[0].called(scope.flipped)}.{key}")
        if rule.component is not None and len(copies) > 1:
            _plain_uses(asker, scope, rule.name, path, found)


def _plain_uses(asker: Scope, scope: Scope, name: str, path: tuple[str, ...], found: dict[str, Known]) -> None:
    """`drawer.overlay`, `drawer.side.up`: what all uses of a component agree in."""
    rule = scope.rules.parts[name]
    heads = [".".join([*path, copy.name if scope is asker else copy.called(scope.flipped)]) + "." for copy in scope.copies(rule)]
    first = {key.removeprefix(heads[0]): value for key, value in found.items() if key.startswith(heads[0])}
    for key, value in first.items():
        if all(found.get(head + key) == value for head in heads[1:]):
            found.setdefault(".".join([*path, name, key]), value)


def _values(asker: Scope, piece: Piece, thickness: dict[str, Length]) -> dict[str, Known]:
    faces: dict[Face, Length] = {}
    try:
        for face in FACES:
            faces[face] = asker.face_of(piece, face)
    except Unsolved:
        return {}
    values: dict[str, Known] = dict(faces.items())
    axis: Axis
    for axis in AXES:
        values[axis] = faces[HIGH[axis]] - faces[LOW[axis]]
    if piece.name in thickness:
        values["thickness"] = thickness[piece.name]
    return values
