"""What is said of screws in a plan; rules of common practice unless a row is named."""

from __future__ import annotations

import pytest

from compiler.testing import Plan, plan

HEAD = "materials: {pine: white pine 4/4, oak: white oak 4/4, thin: birch plywood 1/2}\nparts:\n"
POST = "  post: {stock: oak, across: from 0, deep: 0 to 4, up: 0 to 10, grain: up}\n"
RAIL = "  rail: {stock: oak, across: post.right to 12, deep: 1 to 4, up: from 3, grain: across}\n"
CLEAT = "  cleat: {stock: oak, across: from post.right, deep: 0 to 4, up: 0 to 10, grain: up}\n"


def made(parts: str, *joints: str, hardware: str = "") -> Plan:
    text = HEAD + parts + ("joints:\n" + "".join(f"  - {{{joint}}}\n" for joint in joints) if joints else "") + hardware
    found = plan(text)
    assert () == found.errors
    return found


def said(found: Plan) -> list[str]:
    return [entry.says for entry in found.outcome.report if entry.code == "doubtful-fastener"]


@pytest.mark.parametrize(("screw", "short"), [("No. 8 x 1 1/4", True), ("No. 8 x 2", False)])
def test_end_grain_wants_a_long_thread(screw: str, short: bool) -> None:
    """A rail screwed through a post into its end holds little (FAS-28)."""
    told = said(made(POST + RAIL, f"butt: rail, to: post, screws: {screw}, count: 2"))
    assert short == any("end grain" in says for says in told)


def test_hardware_screws_hold_by_their_thread_alone() -> None:
    """1/4 in of thread through a cleat is too little, 1/2 in will do."""
    def told(long: str) -> list[str]:
        return said(made(POST + CLEAT, "butt: cleat, to: post", hardware=f"hardware:\n  - {{screws: No. 8 x {long}, from: cleat, to: post, count: 2}}\n"))

    assert ["only 1/4 in" in says for says in told("1")] == [True]
    assert [] == told("1 1/4")


@pytest.mark.parametrize(("screw", "thick"), [("No. 10 x 1 1/2", True), ("No. 6 x 1 1/4", False)])
def test_the_edge_of_thin_sheets(screw: str, thick: bool) -> None:
    """No. 10 is over a third of 15/32 in, No. 6 is under it."""
    sheet = "  rail: {stock: thin, across: post.right to 12, deep: 1 to 4, up: from 3, grain: across}\n"
    assert thick == any("thick for the edge" in says for says in said(made(POST + sheet, f"butt: rail, to: post, screws: {screw}, count: 2")))


@pytest.mark.parametrize(("wide", "near"), [("1/2", True), ("3/4", False)])
def test_too_near_an_edge_of_solid_wood(wide: str, near: bool) -> None:
    """Two diameters from the edge of hardwood (FAS-52): No. 8 in the middle of 1/2 in is too near, of 3/4 in is not."""
    rail = RAIL.replace("from 3", f"3 for {wide}")
    told = said(made(POST + rail, "butt: rail, to: post, screws: No. 8 x 2, count: 2"))
    assert near == any("from an edge" in says for says in told)


@pytest.mark.parametrize(("long", "told"), [("1 1/4", ["warning"]), ("1", [])])
def test_hardware_screws_stay_inside(long: str, told: list[str]) -> None:
    """Front and false front: 15/32 + 3/4 less 1/8 in (FAS-47) takes 1 in, not 1 1/4 in."""
    parts = ("  front: {stock: thin, across: 0 to 12, deep: from 0, up: 0 to 5}\n"
             "  false front: {stock: pine, across: 0 to 12, deep: to 0, up: 0 to 5, grain: across}\n")
    found = made(parts, hardware=f"hardware:\n  - {{screws: No. 8 x {long}, from: front, to: false front, count: 4}}\n")
    assert told == [entry.severity for entry in found.outcome.report if entry.code == "doubtful-fastener"]


@pytest.mark.parametrize(("long", "right"), [("1 1/4", True), ("1 1/2", False)])
def test_pocket_screws_by_stock(long: str, right: bool) -> None:
    """3/4 in stock takes 1 1/4 in (FAS-48)."""
    assert right == (said(made(POST + RAIL, f"pocket screws: rail, to: post, screws: pocket screw {long} fine, count: 2")) == [])


def test_a_top_on_weak_screws() -> None:
    """Two short screws in pine under a heavy slab: 2850 G^2 D for each inch (FAS-21) against twice the weight."""
    parts = ("  slab: {stock: oak, across: 0 to 96, deep: 0 to 40, up: from 0, grain: across}\n"
             "  top: {stock: pine, across: 0 to 96, deep: 0 to 40, up: from slab.top, grain: across}\n")
    weak = made(parts, "butt: top, to: slab, screws: No. 6 x 1, count: 2, slotted: slab")
    strong = made(parts, "butt: top, to: slab, screws: No. 10 x 1, count: 40, slotted: slab")
    assert ["held-by-screws"] == [entry.code for entry in weak.outcome.report if entry.code == "held-by-screws"]
    assert [] == [entry.code for entry in strong.outcome.report if entry.code == "held-by-screws"]
