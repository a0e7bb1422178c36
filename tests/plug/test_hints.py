"""Annotations looked up by name are what the standard library makes of them."""

from __future__ import annotations

import dataclasses
import typing
from typing import Any

import pytest

from compiler.plug import load
from compiler.plug.hints import hints_of
from compiler.values.contributions import Contributions
from compiler.values.model import Model


@pytest.fixture(scope="module")
def bundled() -> Contributions:
    found = load(installed=False).value
    assert found is not None
    return found


def test_all_that_is_bundled(bundled: Contributions) -> None:
    """Every function and every product, held against typing.get_type_hints."""
    things: list[Any] = [entry.thing.run for entry in (*bundled.tasks, *bundled.checks, *bundled.sections, *bundled.exports, *bundled.views)]
    things += [entry.makes for entry in bundled.tasks if entry.makes is not None]
    assert len(things) > 60
    assert [] == [thing for thing in things if hints_of(thing) != typing.get_type_hints(thing)]


def test_what_is_no_plain_name() -> None:
    """Unions, nested tuples, None: worked out as ever."""

    def run(model: Model, other: Model | None, pairs: tuple[tuple[str, int], ...] = ()) -> None:
        """Nothing."""

    @dataclasses.dataclass(frozen=True)
    class Made:
        models: tuple[Model, ...]
        word: str | None = None

    assert {"model": Model, "other": Model | None, "pairs": tuple[tuple[str, int], ...], "return": type(None)} == hints_of(run)
    assert {"models": tuple[Model, ...], "word": str | None} == hints_of(Made)


def test_a_name_that_is_not_there_is_told() -> None:
    """As typing tells it."""
    def run(model: Modle) -> None:  # type: ignore[name-defined]  # noqa: F821
        """Nothing."""

    with pytest.raises(NameError, match="Modle"):
        hints_of(run)
