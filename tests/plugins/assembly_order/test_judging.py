"""Advice where a loose part is added too late."""

from __future__ import annotations

from compiler.api import Notes, NoteStep
from compiler.testing import plan

CASE = """
materials: {pine: white pine 4/4, ply: birch plywood 3/4, thin: birch plywood 1/4}
parts:
  side: {stock: ply, across: from 0, deep: 0 to 12, up: 0 to 12, grain: up, copies: mirror across}
  bottom: {stock: ply, across: between left side and right side, deep: 0 to 12, up: from 0}
  top: {stock: ply, across: between left side and right side, deep: 0 to 12, up: to 12}
  back: {stock: thin, across: left side.left to right side.right, deep: from 12, up: 0 to 12, grain: across}
  front: {stock: thin, across: left side.left to right side.right, deep: to 0, up: 0 to 12, grain: across}
  tray: {stock: ply, across: between left side and right side with 1/16 clear, deep: 1 to 11, up: from bottom.top}
middle: {across: 10}
joints:
  - {rabbet: [bottom, top], into: side, depth: 1/4}
  - {butt: [back, front], to: side}
  - {rest: tray, on: bottom}
"""


def told(*steps: tuple[str, ...]) -> int:
    notes = Notes(title="A test", steps=tuple(NoteStep(key=f"Step {number}", title=(f"Step {number}",), content=(), adds=adds)
                                              for number, adds in enumerate(steps)))
    made = plan(CASE, notes=notes)
    assert () == made.errors
    return sum(entry.code == "no-way-in" for entry in made.outcome.report)


SHELL = ("left side", "right side", "bottom", "top", "back")


def test_a_closed_box_takes_nothing_in() -> None:
    """The tray after the front."""
    assert 1 == told((*SHELL, "front"), ("tray",))


def test_an_open_box_does() -> None:
    """The tray before the front."""
    assert 0 == told(SHELL, ("tray",), ("front",))
