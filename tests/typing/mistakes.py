"""Mistakes that the type checker must find: each ignore is an error if there is nothing to ignore."""

from fractions import Fraction

from compiler.api import (
    Contact,
    CutList,
    Joint,
    Length,
    Model,
    Plugin,
    Settings,
    Work,
    ask,
    check,
    inch,
    section,
    task,
)


class Spline(Joint):
    """A loose spline."""

    kind = "spline"
    depth: Length = ask.count(1, "a count is no length")  # type: ignore[assignment]

    def make(self, c: Contact) -> Work:
        c.block(into=0.25)  # type: ignore[arg-type]
        c.block(into=inch("1/4")).wider("up", by=self.depth)  # type: ignore[arg-type]
        self.depth + 1  # type: ignore[operator]
        self.depth = inch(1)  # type: ignore[misc]
        return Work()


class Wishes(Settings):
    """Settings."""

    key = "wishes"
    waste: Fraction = ask.ratio("1.25", "times")


@task
def labels(model: Model) -> CutList:
    """A task."""
    inch(0.25)  # type: ignore[arg-type]
    return 1  # type: ignore[return-value]


@check  # type: ignore[arg-type]
def forgets_to_yield(model: Model) -> None:
    """A check."""


@section("Labels", after="steps")  # type: ignore[arg-type]
def words(model: Model) -> str:
    """A section."""
    return ""


Spline(depht=inch(1))  # type: ignore[call-arg]
Wishes(waste="1")  # type: ignore[arg-type]
labels("model")  # type: ignore[arg-type]
Plugin(contract=1, checks=(labels,))  # type: ignore[arg-type]
Plugin(contract=1, tasks=[labels])  # type: ignore[arg-type]
