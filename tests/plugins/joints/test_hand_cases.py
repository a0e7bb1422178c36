"""Every bundled joint in a small case of its own, worked out by hand: cut sizes, the wood left in each part, the faces that touch.

The cases are those of the makers' manual (compiler/manual/joint_words.py). What a part loses is the housing cut from it, what it gains the
tongue that grew, each by the volume of its block; where two parts share a corner their wood together is the corner's, once. Areas are those
of the block's faces that have wood behind them. Geometry, no source needed; where a default is used it is named.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import pi, sqrt

import pytest

from compiler.manual.joint_words import EXAMPLES, design
from compiler.solid import build, collisions, contacts
from compiler.testing import Plan, plan
from plugins.joints import plugin


@dataclass(frozen=True)
class Case:
    """Rows of the cut list, cubic inches of each solid (loose pieces too), square inches that each pair shares."""

    cut: tuple[str, ...]
    wood: dict[str, float]
    touch: dict[tuple[str, str], float]


PINE = "white pine 4/4"
BOARD, SHELF, LEG, RAIL = 8 * 5 * 0.75, 9.25 * 5 * 0.75, 8 * 1.75**2, 8.25 * 2.5 * 0.75
"""As written, between shoulders: a side 8 x 5 x 3/4, a shelf 9 1/4 long, a leg 8 x 1 3/4 x 1 3/4, a rail 8 1/4 x 2 1/2 x 3/4."""
SLANT = sqrt(1 + 1 / 49)
"""How much longer a cheek is than its tail, at a slope of 1 in 7."""

CASES = {
    # A dado 1/4 deep, 3/4 wide, right through 5 in: floor and two walls touch.
    "dado": Case((f"1 side 8 x 5 x 3/4 {PINE}", f"1 shelf 9 1/2 x 5 x 3/4 {PINE}"),
                 {"side": BOARD - 0.25 * 0.75 * 5, "shelf": SHELF + 0.25 * 0.75 * 5}, {("side", "shelf"): 0.75 * 5 + 2 * 0.25 * 5}),
    # 3/8 deep at the upper edge: floor and one wall.
    "rabbet": Case((f"1 side 8 x 5 x 3/4 {PINE}", f"1 top 9 5/8 x 5 x 3/4 {PINE}"),
                   {"side": BOARD - 0.375 * 0.75 * 5, "top": SHELF + 0.375 * 0.75 * 5}, {("side", "top"): 0.75 * 5 + 0.375 * 5}),
    # A panel of 7/32 in a groove 3/8 deep with 1/8 of room: 1/4 goes in and touches with its two faces, never the floor.
    "groove": Case((f"1 stile 8 x 2 x 3/4 {PINE}", "1 panel 8 x 8 1/4 x 7/32 birch plywood 1/4"),
                   {"stile": 8 * 2 * 0.75 - 0.375 * 7 / 32 * 8, "panel": 8.25 * 8 * 7 / 32}, {("stile", "panel"): 2 * 0.25 * 8}),
    # 1/4 deep, 3/8 thick, 1/32 of room by default: shoulders of 3/8 in all, two faces of 7/32.
    "tongue": Case((f"1 side 8 x 5 x 3/4 {PINE}", f"1 shelf 9 15/32 x 5 x 3/4 {PINE}"),
                   {"side": BOARD - 0.25 * 0.375 * 5, "shelf": SHELF + 7 / 32 * 0.375 * 5}, {("side", "shelf"): 0.375 * 5 + 2 * 7 / 32 * 5}),
    # 1 1/4 long, 2 1/2 less two shoulders of 1/4 wide, a third of 3/4 thick by default: end, four faces, shoulders.
    "tenon": Case(("1 leg 8 x 1 3/4 x 1 3/4 white pine 8/4", f"1 rail 9 1/2 x 2 1/2 x 3/4 {PINE}"),
                  {"leg": LEG - 1.25 * 2 * 0.25, "rail": RAIL + 1.25 * 2 * 0.25},
                  {("leg", "rail"): 2 * 0.25 + 1.25 * 2 * (2 + 0.25) + (2.5 * 0.75 - 2 * 0.25)}),
    # Slots 1/4 thick, 3/4 and 1/32 of room deep, 2 1/2 less 5/16 at each end wide (an eighth, by default).
    "loose tongue": Case(("1 leg 8 x 1 3/4 x 1 3/4 white pine 8/4", f"1 rail 8 1/4 x 2 1/2 x 3/4 {PINE}"),
                         {"leg": LEG - 25 / 32 * 0.25 * 1.875, "rail": RAIL - 25 / 32 * 0.25 * 1.875, "rail loose tongue 1": 2 * 0.75 * 0.25 * 1.875},
                         {("leg", "rail"): 2.5 * 0.75 - 0.25 * 1.875, ("leg", "rail loose tongue 1"): 0.75 * 2 * (0.25 + 1.875),
                          ("rail", "rail loose tongue 1"): 0.75 * 2 * (0.25 + 1.875)}),
    # 1 long, slope 1 in 8 and shoulders of 1/8 + 1/16 by default: 7/8 wide at its root, 1 1/8 at its end, flush with the leg's top.
    "lap dovetail": Case(("1 leg 8 x 1 3/4 x 1 3/4 white pine 8/4", f"1 rail 9 1/4 x 1 1/4 x 3/4 {PINE}"),
                         {"leg": LEG - 1 * 1 * 0.75, "rail": 8.25 * 1.25 * 0.75 + 1 * 1 * 0.75},
                         {("leg", "rail"): (1.25 - 0.875) * 0.75 + 1.125 * 0.75 + 2 * sqrt(1 + 1 / 64) * 0.75 + 1 * 1}),
    # Nothing is cut; the end of the shelf touches.
    "butt": Case((f"1 side 8 x 5 x 3/4 {PINE}", f"1 shelf 9 1/4 x 5 x 3/4 {PINE}"), {"side": BOARD, "shelf": SHELF}, {("side", "shelf"): 0.75 * 5}),
    # Two dowels 3/8 x 1 1/2: holes 3/4 and 1/32 deep in each.
    "dowels": Case(("1 leg 8 x 1 3/4 x 1 3/4 white pine 8/4", f"1 rail 8 1/4 x 2 1/2 x 3/4 {PINE}"),
                   {"leg": LEG - 2 * pi * 0.1875**2 * 25 / 32, "rail": RAIL - 2 * pi * 0.1875**2 * 25 / 32}, {("leg", "rail"): 2.5 * 0.75 - 2 * pi * 0.1875**2}),
    # Pockets are bored by a jig and stand in no solid.
    "pocket screws": Case((f"1 stile 8 x 2 x 3/4 {PINE}", f"1 rail 8 x 2 x 3/4 {PINE}"), {"stile": 12.0, "rail": 12.0}, {("stile", "rail"): 2 * 0.75}),
    # A groove 1/4 wide, 3/8 deep along the rail; its upper edge touches the top.
    "buttons": Case((f"1 top 16 x 8 x 3/4 {PINE}", f"1 rail 14 x 3 x 3/4 {PINE}"),
                    {"top": 16 * 8 * 0.75, "rail": 14 * 3 * 0.75 - 14 * 0.25 * 0.375}, {("top", "rail"): 14 * 0.75}),
    # Each loses half of the corner: one cheek, two shoulders.
    "half-lap": Case((f"1 stile 8 x 2 x 3/4 {PINE}", f"1 rail 8 x 2 x 3/4 {PINE}"),
                     {"stile": 12 - 2 * 2 * 0.375, "rail": 12 - 2 * 2 * 0.375}, {("stile", "rail"): 2 * 2 + 2 * 2 * 0.375}),
    # A third stands on the rail, two thirds on the stile: two cheeks, two shoulders, the bottom of the slot.
    "bridle": Case((f"1 stile 8 x 2 x 3/4 {PINE}", f"1 rail 8 x 2 x 3/4 {PINE}"),
                   {"stile": 12 - 2 * 2 * 0.25, "rail": 12 - 2 * 2 * 0.5}, {("stile", "rail"): 2 * 2 * 2 + 2 * 2 * 0.25 + 2 * 0.25}),
    # Each loses half of the corner, and half of a slot for a spline 1/8 thick, an inch square across the outer corner.
    "mitre": Case((f"1 stile 8 x 2 x 3/4 {PINE}", f"1 rail 8 x 2 x 3/4 {PINE}"),
                  {"stile": 12 - 2 * 2 * 0.75 / 2 - 1 / 16, "rail": 12 - 2 * 2 * 0.75 / 2 - 1 / 16, "rail spline 1": 1 / 8},
                  {("stile", "rail"): 2 * sqrt(2) * 0.75 - sqrt(2) / 8, ("stile", "rail spline 1"): 2 * 0.5 + 1 / 8, ("rail", "rail spline 1"): 2 * 0.5 + 1 / 8}),
    # Five fingers of 3/5 in 3 in (about 3/4, an odd number): three are the front's, two the side's.
    "box joint": Case((f"1 side 8 x 3 x 3/4 {PINE}", f"1 front 10 x 3 x 3/4 {PINE}"),
                      {"side": 18 - 3 * 0.6 * 0.75**2, "front": 22.5 - 2 * 0.6 * 0.75**2}, {("side", "front"): 4 * 0.75**2 + 5 * 0.6 * 0.75}),
    # Three tails 2/3 wide in their middle (a pin is a third of the pitch), 3/4 long: six cheeks, the pins on the side's shoulder, the tails' backs.
    "dovetail": Case((f"1 side 8 x 3 x 3/4 {PINE}", f"1 front 10 x 3 x 3/4 {PINE}"),
                     {"side": 18 - (3 - 2) * 0.75**2, "front": 22.5 - 2 * 0.75**2},
                     {("side", "front"): 6 * 0.75**2 * SLANT + 0.75 * (3 - 3 * (2 / 3 - 0.75 / 7)) + 2 * 0.75}),
    # The same, 1/2 long, with their ends against the lap.
    "half-blind dovetail": Case((f"1 side 7 3/4 x 3 x 3/4 {PINE}", f"1 front 10 x 3 x 3/4 {PINE}"),
                                {"side": 7.75 * 3 * 0.75 - (3 - 2) * 0.5 * 0.75, "front": 22.5 - 2 * 0.5 * 0.75},
                                {("side", "front"): 6 * 0.5 * 0.75 * SLANT + 0.75 * (3 - 3 * (2 / 3 - 0.5 / 7)) + 2 * 0.5 + 0.75 * 3 * (2 / 3 + 0.5 / 7)}),
    # Nothing is cut.
    "hang": Case((f"1 rail 12 x 2 x 3/4 {PINE}", f"1 back 12 x 3 x 3/4 {PINE}"), {"rail": 18.0, "back": 27.0}, {("rail", "back"): 12 * 2}),
    "rest": Case((f"1 cleat 12 x 1 1/2 x 3/4 {PINE}", f"1 shelf 12 x 6 x 3/4 {PINE}"), {"cleat": 13.5, "shelf": 54.0}, {("cleat", "shelf"): 12 * 0.75}),
}


@cache
def made(word: str) -> Plan:
    found = plan(design(word))
    assert () == found.errors
    return found


def test_every_bundled_joint_has_its_case() -> None:
    """None is forgotten, none is of a joint that isn't there."""
    assert {kind.kind for kind in plugin().joint_kinds} == set(CASES) == set(EXAMPLES)


@pytest.mark.parametrize("word", CASES)
def test_cut_sizes(word: str) -> None:
    """As the saw needs them, tongues included."""
    found = made(word)
    assert CASES[word].cut == tuple(found.cut(kind.name) for kind in found.model.kinds)


@pytest.mark.parametrize("word", CASES)
def test_wood_is_neither_lost_nor_made(word: str) -> None:
    """Each solid holds its board less its housings, with its tongues."""
    model = made(word).model
    solids = build((*model.parts, *model.pieces), quality="fine")
    assert CASES[word].wood == pytest.approx({name: solids[name].body.volume for name in solids.names}, rel=2e-4 if word == "dowels" else 1e-9)


@pytest.mark.parametrize("word", CASES)
def test_it_fits(word: str) -> None:
    """No two parts fill the same place, and they touch where they should: no gap but the room that was asked for."""
    model = made(word).model
    solids = build((*model.parts, *model.pieces), quality="fine")
    assert () == collisions(solids)
    assert CASES[word].touch == pytest.approx({(each.first, each.second): each.area for each in contacts(solids)}, rel=1e-4 if word == "dowels" else 1e-6)
