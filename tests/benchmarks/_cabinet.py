"""A cabinet of 120 parts as a design: four bays of five drawers on slides, shelves in dadoes, a top that moves.

Out: the text of a design.yaml, for benchmarks that time the whole check and the engineering checks in it.
"""

from __future__ import annotations

BAYS, DRAWERS, PARTS = 4, 5, 120

HEAD = """\
plan: Cabinet of twenty drawers
number: 1
issue: 1
date: 2026-11-02
units: inch
editions: [inch letter]
sizes: {width: 96, height: 50, depth: 18}
numbers: {bays: 4, drawers: 5}
middle: {across: width / 2}
materials: {ply: birch plywood 3/4, thin: birch plywood 1/4, half: birch plywood 1/2, oak: white oak 4/4, pine: poplar 4/4, pin: shelf pin, slide: drawer slide 16}
assemblies:
  case:
    stock: ply
    parts:
      side: {across: from 0, deep: 0 to depth, up: 0 to top.bottom, grain: up, copies: mirror across}
      bottom: {across: between left side and right side, deep: side.front to back.front, up: from 4, grain: across}
      stretcher: {across: as bottom, deep: from side.front for 4, up: to top.bottom, grain: across}
      back stretcher: {across: as bottom, deep: to back.front for 4, up: to top.bottom, grain: across}
      divider: {deep: side.front to back.front, up: between bottom and stretcher, grain: up, copies: bays - 1 across evenly between left side and right side}
      back: {stock: thin, across: left side.right to right side.left, deep: to side.back, up: bottom.bottom to top.bottom, grain: across}
      kick: {across: as bottom, deep: from side.front + 3, up: 0 to bottom.bottom, grain: across}
      edging: {stock: pine, across: left side.left to right side.right, deep: to side.front, up: 0 to 3, grain: across}
parts:
  top: {stock: oak, across: -1 to width + 1, deep: -1 to depth, up: to height, grain: across}
"""
DRAWER = """\
components:
  drawer:
    stock: half
    middle: {across: width / 2}
    parts:
      side: {across: from slide.clearance, deep: 0 for slide.length, up: 1/2 to height - 1/2, grain: deep, copies: mirror across}
      front: {across: between left side and right side, deep: from side.front, up: as side, grain: across}
      back: {across: between left side and right side, deep: to side.back, up: bottom.top to side.top, grain: across}
      bottom: {stock: thin, across: between left side and right side, deep: front.back to side.back, up: from side.bottom + 1/2}
    joints:
      - {rabbet: [front, back], into: side, depth: 1/4, brads: 1 1/4, every: 2}
      - {groove: bottom, into: [side, front], depth: 1/4, room: 1/32}
      - {butt: bottom, to: back, screws: No. 6 x 5/8, count: 4}
    hardware:
      - {item: slide, count: 1}
"""
JOINTS = """\
joints:
  - {dado: bottom, into: side, depth: 1/4}
  - {rabbet: [stretcher, back stretcher], into: side, depth: 1/4, screws: No. 8 x 1 5/8, count: 2}
  - {dado: divider, into: bottom, depth: 1/4}
  - {butt: divider, to: [stretcher, back stretcher], screws: No. 8 x 1 5/8, count: 2}
  - {rabbet: back, into: side, depth: 3/8}
  - {butt: back, to: [bottom, divider, back stretcher], brads: 3/4, every: 4}
  - {pocket screws: kick, to: side, count: 2}
  - {butt: kick, to: bottom}
  - {butt: edging, to: [side], brads: 1 1/4, every: 8}
  - {butt: top, to: [stretcher, back stretcher], screws: No. 8 x 1 1/4, every: 8, slotted: back stretcher}
"""


def design() -> str:
    """The whole text."""
    walls = ["left side.right", *(f"divider {number}.right" for number in range(1, BAYS))]
    ends = [*(f"divider {number}.left" for number in range(1, BAYS)), "right side.left"]
    lines = []
    for bay, (start, end) in enumerate(zip(walls, ends, strict=True)):
        for row in range(DRAWERS):
            name = f"bay {'abcd'[bay]} {'klmno'[row]} drawer"
            lines.append(f"  {name}: {{component: drawer, across: {start} to {end}, deep: 0 to back.front, up: bottom.top + {row * 7} to bottom.top + {row * 7 + 6}}}\n")
    shelves = []
    for bay, (start, end) in enumerate(zip(walls, ends, strict=True)):
        for name, up in (("low", 36), ("high", 40)):
            shelves.append(f"  {'abcd'[bay]} {name} shelf: {{stock: ply, across: {start} to {end}, deep: 1 to back.front, up: from bottom.top + {up}, grain: across}}\n")
    more = "".join(f"  - {{dado: [{'abcd'[bay]} low shelf, {'abcd'[bay]} high shelf], into: [{_wall(bay)}, {_wall(bay + 1)}], depth: 1/8}}\n" for bay in range(BAYS))
    return HEAD + "".join((*lines, *shelves)) + DRAWER + JOINTS + more


def _wall(number: int) -> str:
    return "left side" if number == 0 else "right side" if number == BAYS else f"divider {number}"
