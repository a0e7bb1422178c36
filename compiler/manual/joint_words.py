"""An example of each bundled joint (two parts and the line that joins them) and component (its place): for its picture and to be tried.

In: nothing. Out: designs. Tests hold that every bundled kind has one, and that each is made without an error.
"""

from __future__ import annotations

HEAD = """plan: Joints
number: 1
issue: 1
date: 2026-01-01
units: inch
editions: [inch letter]
middle: {across: 7}
materials: {pine: white pine 4/4, heavy: white pine 8/4, thin: birch plywood 1/4}
parts:
"""

_SIDE = "  side: {stock: pine, across: from 0, deep: 0 to 5, up: 0 to 8, grain: up}\n"
_POST = "  leg: {stock: heavy, across: 0 for 1 3/4, deep: 0 for 1 3/4, up: 0 to 8, grain: up}\n"
_RAIL = "  rail: {stock: pine, across: leg.right to 10, deep: 1/2 for 3/4, up: 3 for 2 1/2}\n"
_STILE = "  stile: {stock: pine, across: 0 for 2, deep: from 0, up: 0 to 8, grain: up}\n"
_CROSS = "  rail: {stock: pine, across: 0 to 8, deep: from 0, up: 0 for 2}\n"
_FRONT = "  front: {stock: pine, across: 0 to 10, deep: from 0, up: 0 to 3}\n"
_CORNER = "  side: {stock: pine, across: from 0, deep: 0 to 8, up: 0 to 3}\n"

EXAMPLES: dict[str, tuple[str, str]] = {
    "dado": (_SIDE + "  shelf: {stock: pine, across: side.right to 10, deep: 0 to 5, up: from 3}\n", "{dado: shelf, into: side, depth: 1/4}"),
    "rabbet": (_SIDE + "  top: {stock: pine, across: side.right to 10, deep: 0 to 5, up: to 8}\n", "{rabbet: top, into: side, depth: 3/8}"),
    "groove": (_STILE + "  panel: {stock: thin, across: stile.right to 10, deep: from 1/4, up: 0 to 8, grain: up}\n",
               "{groove: panel, into: stile, depth: 3/8, room: 1/8}"),
    "tongue": (_SIDE + "  shelf: {stock: pine, across: side.right to 10, deep: 0 to 5, up: from 3}\n",
               "{tongue: shelf, into: side, depth: 1/4, thickness: 3/8}"),
    "tenon": (_POST + _RAIL, "{tenon: rail, into: leg, length: 1 1/4, shoulders: 1/4}"),
    "loose tongue": (_POST + _RAIL, "{loose tongue: rail, into: leg, depth: 3/4}"),
    "lap dovetail": (_POST + "  rail: {stock: pine, across: leg.right to 10, deep: 1/4 for 1 1/4, up: to 8}\n", "{lap dovetail: rail, into: leg, length: 1}"),
    "butt": (_SIDE + "  shelf: {stock: pine, across: side.right to 10, deep: 0 to 5, up: from 3}\n",
             "{butt: shelf, to: side, screws: No. 8 x 1 1/2, count: 2}"),
    "dowels": (_POST + _RAIL, "{dowels: rail, to: leg, count: 2}"),
    "pocket screws": (_STILE + "  rail: {stock: pine, across: stile.right to 10, deep: from 0, up: 0 for 2}\n", "{pocket screws: rail, to: stile, count: 2}"),
    "buttons": ("  top: {stock: pine, across: 0 to 16, deep: 0 to 8, up: to 8}\n  rail: {stock: pine, across: 1 to 15, deep: from 2, up: to top.bottom for 3}\n",
                "{buttons: top, to: rail, every: 6}"),
    "half-lap": (_STILE + _CROSS, "{half-lap: rail, with: stile}"),
    "bridle": (_STILE + _CROSS, "{bridle: rail, with: stile}"),
    "mitre": (_STILE + _CROSS, "{mitre: rail, with: stile, spline: 1/8}"),
    "box joint": (_CORNER + _FRONT, "{box joint: front, with: side}"),
    "dovetail": (_CORNER + _FRONT, "{dovetail: side, with: front, tails: 3, slope: 1 in 7}"),
    "half-blind dovetail": ("  side: {stock: pine, across: from 0, deep: 1/4 to 8, up: 0 to 3}\n" + _FRONT,
                            "{half-blind dovetail: side, with: front, tails: 3, slope: 1 in 7}"),
    "hang": ("  rail: {stock: pine, across: 0 to 12, deep: from 1, up: 0 for 2}\n  back: {stock: pine, across: 0 to 12, deep: from 1/4, up: 0 to 3}\n",
             "{hang: back, on: rail}"),
    "rest": ("  cleat: {stock: pine, across: 0 to 12, deep: 0 for 3/4, up: 0 for 1 1/2}\n  shelf: {stock: pine, across: 0 to 12, deep: 0 to 6, up: from cleat.top}\n",
             "{rest: shelf, on: cleat}"),
}

COMPONENTS: dict[str, str] = {
    "drawer box": """drawer:
  component: drawer box
  across: 0 to 14
  deep: 0 to 12
  up: 0 to 5
  with: {wood: white pine 4/4, groove: 3/8}
""",
}


def component_design(word: str) -> str:
    """The whole design.yaml of a component's example."""
    return HEAD + "".join(f"  {line}\n" for line in COMPONENTS[word].splitlines())


def design(word: str) -> str:
    """The whole design.yaml of an example."""
    parts, joint = EXAMPLES[word]
    return f"{HEAD}{parts}joints:\n  - {joint}\n"
