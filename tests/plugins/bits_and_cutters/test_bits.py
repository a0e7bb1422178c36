"""Sizes of bits and cutters; those of screws are the library's (FAS-17 for pilots)."""

from __future__ import annotations

from compiler.api import Edition, inch, mm
from compiler.testing import plan
from plugins.bits_and_cutters.listing import BitsAndCutters
from plugins.bits_and_cutters.pages import exact

TEXT = """
materials: {oak: white oak 4/4, ply: birch plywood 3/4}
parts:
  side: {stock: ply, across: from 0, deep: 0 to 10, up: 0 to 30, grain: up, workings: [{hole: right, at: centre, diameter: 1/4, depth: 3/8}]}
  shelf: {stock: ply, across: side.right to 20, deep: 0 to 10, up: from 10}
  rail: {stock: oak, across: side.right to 20, deep: from 0, up: 11 to 13, grain: across, workings: [{round-over: [front top], radius: 1/8}]}
joints:
  - {dado: shelf, into: side, depth: 1/4}
  - {butt: rail, to: side, screws: No. 8 x 2, count: 2}
"""


def sizes() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    edition = Edition(units="inch", paper="letter")
    for bit in plan(TEXT).make(BitsAndCutters).bits:
        found.setdefault(bit.called, []).append(exact(bit.size, edition))
    return found


def test_every_size_once() -> None:
    """Pilot 1/8 in hardwood (FAS-17), clearance 11/64, the hole of the working; a cutter for the edge, one for the dado."""
    assert {"drill bit": ["1/8", "11/64", "1/4"], "round-over": ["1/8"], "straight cutter or stack": ["23/32"]} == sizes()


def test_bits_are_shown_finer_than_sizes() -> None:
    """64ths stay 64ths; a plan's sizes go to 32nds."""
    edition = Edition(units="inch", paper="letter")
    assert ["7/64", "1 1/64", "2"] == [exact(inch(text), edition) for text in ("7/64", "1 1/64", "2")]
    assert "2.5" == exact(mm("2.5"), Edition(units="mm", paper="a4"))
