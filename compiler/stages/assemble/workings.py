"""Workings as written become workings as made: each with its values and the cuts that it is.

In: a part as it stands, its working wishes. Out: `Working`s with features in the part's own coordinates. One table says
which kind takes faces, which edges; a fault leaves that working out and is reported at its text.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from compiler.base.report import Findings
from compiler.language import Refused, diagnostic, did_you_mean, house_spelling, listed, parse_edge
from compiler.stages.assemble import edges, faces, holes, outlines
from compiler.stages.assemble.edges import Edge, edge_of, edges_round
from compiler.stages.assemble.items import Items
from compiler.stages.assemble.placing import Standing
from compiler.stages.assemble.site import Site
from compiler.values.design import WorkingWish
from compiler.values.model import Face, Working
from compiler.values.shapes import Feature


@dataclass(frozen=True, slots=True)
class Where:
    """What a working names: faces, edges (a face's four for `all round`), corners of three faces."""

    faces: tuple[Face, ...] = ()
    edges: tuple[Edge, ...] = ()
    groups: tuple[tuple[Face, ...], ...] = ()


_FACES: dict[str, Callable[[Site, Face], list[Feature]]] = {
    "hole": holes.hole, "holes": holes.holes, "dado": faces.trench, "groove": faces.trench, "arc": faces.arc,
    "cut-out": faces.cut_out, "outline": outlines.outline, "mitre": edges.mitre,
}
_EDGES: dict[str, Callable[[Site, Edge], list[Feature]]] = {
    "rabbet": edges.rabbet, "bevel": edges.bevel, "profile": edges.profile,
}
_MANY: dict[str, Callable[[Site, tuple[Edge, ...]], list[Feature]]] = {
    "chamfer": edges.chamfer, "round-over": edges.round_over, "cove": edges.cove,
}
KINDS = (*_FACES, *_EDGES, *_MANY, "taper", "notch")


def make_workings(items: Items, standing: Standing, first: int, findings: Findings) -> tuple[Working, ...]:
    """The workings of one part, numbered from `first`."""
    made: list[Working] = []
    for wish in standing.part.workings:
        by = f"working {first + len(made)}"
        site = Site(items=items, standing=standing, wish=wish, by=by, findings=findings)
        kind = house_spelling(wish.kind)
        if kind not in KINDS:
            near = did_you_mean(kind, KINDS)
            findings.error("unknown-working", f"There is no working called `{wish.kind}`.", wish.at,
                           f"Did you mean {near}?" if near else f"Workings are {listed(KINDS)}.")
            continue
        where = _where(site)
        if where is None:
            continue
        features = _features(kind, site, where)
        if features:
            made.append(Working(id=by, kind=kind, where=", ".join(wish.where), values=tuple(site.values.items()),
                                features=tuple(features), at=wish.at))
    return tuple(made)


def _features(kind: str, site: Site, where: Where) -> list[Feature]:
    if kind == "taper":
        return edges.taper(site, where.faces) if where.faces and not where.edges else _wrong(site, "faces: right")
    if kind == "notch":
        groups = where.groups or where.edges
        return [feature for group in groups for feature in edges.notch(site, group)] if groups else _wrong(site, "an edge: bottom front")
    if kind in _FACES:
        if not where.faces or where.edges:
            return _wrong(site, "a face: right")
        return [feature for face in where.faces for feature in _FACES[kind](site, face)]
    if not where.edges or where.faces:
        return _wrong(site, "an edge: top front")
    if kind in _MANY:
        return _MANY[kind](site, where.edges)
    return [feature for edge in where.edges for feature in _EDGES[kind](site, edge)]


def _wrong(site: Site, wanted: str) -> list[Feature]:
    site.error("wrong-side", f"A {site.wish.kind} is made at {wanted}; `{', '.join(site.wish.where)}` is not.")
    return []


def _where(site: Site) -> Where | None:
    """The faces and edges that a working names; what can't be read is reported."""
    wish: WorkingWish = site.wish
    found_faces: list[Face] = []
    found_edges: list[Edge] = []
    groups: list[tuple[Face, ...]] = []
    for text in wish.where:
        words = text.split()
        if len(words) == 3 and "all" not in words and all(word in _CORNER for word in words):
            groups.append(tuple(_CORNER[word] for word in words))
            continue
        try:
            tree = parse_edge(text)
        except Refused as fault:
            site.findings.add(diagnostic(fault, wish.at))
            return None
        if tree.all_round:
            found_edges.extend(edges_round(tree.faces[0]))
        elif len(tree.faces) == 1:
            found_faces.append(tree.faces[0])
        else:
            edge = edge_of(tree.faces)
            if edge is None:
                site.error("no-edge", f"`{tree.faces[0]}` and `{tree.faces[1]}` don't meet: an edge is two neighbouring faces.", hint="Write top front.")
                return None
            found_edges.append(edge)
    return Where(tuple(found_faces), tuple(found_edges), tuple(groups))


_CORNER: dict[str, Face] = {"left": "left", "right": "right", "front": "front", "back": "back", "bottom": "bottom", "top": "top"}
