"""Builders for tests of reading and checking: a draft from texts, a design from a plan's text, the project's library."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from compiler.base.measures import Length
from compiler.base.report import Outcome
from compiler.language import say
from compiler.stages.check import check
from compiler.stages.parse import parse
from compiler.stages.read import read, read_library
from compiler.values.design import Design, DesignPart
from compiler.values.draft import Draft
from compiler.values.model import AXES, Edition
from compiler.values.source import Library, Source, SourceFile

ROOT = Path(__file__).parents[2]
INCH = Edition(units="inch", paper="letter")
METRIC = Edition(units="mm", paper="a4")
HEAD = "plan: Test\nnumber: 1\nissue: 1\ndate: 2026-11-25\nunits: {units}\n"


@cache
def library() -> Library:
    """The project's own."""
    found = read_library(ROOT / "shared").value
    assert found is not None
    return found


def draft(**files: str) -> Draft:
    """A draft of texts: `draft(design="…", letters="…")`."""
    sources = tuple(SourceFile(f"{name}.yaml", text, "") for name, text in files.items())
    found = parse(Source(folder="test", files=sources)).value
    assert found is not None
    return found


def checked(body: str, edition: Edition = INCH, units: str = "inch") -> Outcome[Design]:
    """A plan's body, checked; the head is written for it."""
    return check(draft(design=HEAD.format(units=units) + body), library(), edition)


def design(body: str, edition: Edition = INCH, units: str = "inch") -> Design:
    """A design without faults."""
    outcome = checked(body, edition, units)
    assert outcome.value is not None, outcome.report.diagnostics
    return outcome.value


@cache
def plan(folder: str, edition: Edition = INCH) -> Design:
    """A plan or starter of the project."""
    source = read(ROOT / folder).value
    assert source is not None
    tree = parse(source).value
    assert tree is not None
    outcome = check(tree, library(), edition)
    assert outcome.value is not None, outcome.report.diagnostics
    return outcome.value


def part(found: Design, name: str) -> DesignPart:
    """A piece by its name."""
    return next(each for each in found.parts if each.name == name)


def sizes(found: Design, name: str) -> tuple[str, str, str]:
    """A piece's three extents in words: across, deep, up."""
    box = part(found, name).box
    first, second, third = (say(box.span(axis).size, found.edition.units) for axis in AXES)
    return first, second, third


def place(found: Design, name: str, face: str) -> str:
    """The place of a face in words."""
    length: Length = part(found, name).box.face(face)  # type: ignore[arg-type]  # a test's literal
    return say(length, found.edition.units)


def codes(outcome: Outcome[Design]) -> list[str]:
    """The codes of what was found."""
    return [each.code for each in outcome.report.diagnostics]
