"""A small shop in a folder of its own: one plan that is made in a moment, as often as a test wants."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, field
from pathlib import Path

from compiler import build
from compiler.build import Published, Wishes, Workshop

ROOT = Path(__file__).resolve().parents[1]

SHOP = """shop: Pinwheel Lane Woodshop
kerf: {inch: 1/8, mm: 3}
theme: standard
prices: {poplar 4/4: 4.10 per board foot}
"""
LEAN = """name = "lean"
contract = 1
says = "Few pages, for tests"
parent = "standard"
leave_out = ["cover", "at a glance", "how to read", "shopping list", "words"]

[set]
accent = "#1d4f7c"
"""
DESIGN = """plan: Wall rail
number: 7
issue: 1
date: 2026-11-02
units: inch
editions: [inch letter, metric a4]
sizes: {width: {inch: 24, mm: 610}, rail: {inch: 3, mm: 76}}
materials: {wood: poplar 4/4}
parts:
  rail: {stock: wood, across: 0 to width, deep: from 0, up: 0 to rail, grain: across}
  shelf: {stock: wood, across: 0 to width, deep: rail.back for 5, up: from 1, grain: across}
joints:
  - {butt: shelf, to: rail, screws: No. 8 x 1 1/4}
"""
NOTES = """# Wall rail
A rail with a shelf.

## Cut the rail
:adds: rail
:time: 10 min

- Cut {{ part("rail") }} to {{ rail.length }}.

## Set the shelf
:adds: shelf
:time: 10 min

- Screw {{ part("shelf") }} to {{ part("rail") }}.
"""


@dataclass
class Small:
    """The shop: its folder of plans and everything else that a plan is made from, copied only when a test changes it."""

    home: Path
    plan: Path = field(init=False)
    workshop: Workshop = field(init=False)

    def __post_init__(self) -> None:
        projects = self.home / "projects"
        self.plan = projects / "wall-rail"
        self.plan.mkdir(parents=True)
        (projects / "shop.yaml").write_text(SHOP)
        (self.plan / "design.yaml").write_text(DESIGN)
        (self.plan / "notes.md").write_text(NOTES)
        self.workshop = Workshop(store=self.home / "store", installed=False)

    def own(self, name: str) -> Path:
        """A copy of the library, the themes or the plugins that the test may change; the shop uses it from now on."""
        where = {"library": "shared", "themes": "themes", "plugins": "plugins"}[name]
        copy = self.home / where
        if not copy.exists():
            shutil.copytree(ROOT / where, copy, ignore=shutil.ignore_patterns("__pycache__"))
        kept = {"library": self.workshop.library, "themes": self.workshop.themes, "plugins": self.workshop.plugins, name: copy}
        self.workshop = Workshop(store=self.workshop.store, installed=False, **kept)  # type: ignore[arg-type]
        return copy

    def lean(self) -> None:
        """Dress the shop in a theme of its own with few pages, which are set in a moment."""
        theme = self.plan.parent / "themes" / "lean"
        theme.mkdir(parents=True)
        (theme / "theme.toml").write_text(LEAN)
        self.edit("../shop.yaml", "theme: standard", "theme: lean")

    def publish(self, wishes: Wishes | None = None, out: Path | None = None) -> Published:
        """Publish the plan; the out folder is the plan's own."""
        return build.publish(self.plan, wishes or Wishes(), out=out, workshop=self.workshop)

    def edit(self, file: str, old: str, new: str) -> None:
        """Replace a text in one of the plan's files (or in `../shop.yaml`)."""
        path = self.plan / file
        text = path.read_text()
        assert old in text, f"{file} has no {old!r}"
        path.write_text(text.replace(old, new))

    @property
    def pdf(self) -> bytes:
        """The PDF as it was published."""
        return (self.plan / "out" / "wall-rail.pdf").read_bytes()
