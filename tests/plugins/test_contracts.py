"""What must hold of every bundled plugin's products and files, tried on a demo plan in both editions."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest

from compiler.base.digests import digest
from compiler.base.showing import Units
from compiler.testing import Plan, plan
from compiler.testing.contracts import _inside, _value

HOME = Path(__file__).resolve().parents[2]
SETTINGS = ("shop: A\nsettings: {part labels: {sheet: a4}, list files: {values: yes}, part weights: {print: yes}, cost sheet: {print: yes}}\n")


def made(units: Units) -> Plan:
    return plan((HOME / "projects" / "low-bookcase" / "design.yaml").read_text(encoding="utf-8"), units=units, settings=SETTINGS)


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_products_are_exact_steady_and_can_be_kept(units: Units) -> None:
    """No float, nothing that can change, the same twice, equal after being kept."""
    first, again = made(units).outcome.value, made(units).outcome.value
    assert first is not None and again is not None
    for one, two in zip(first.products, again.products, strict=True):
        assert digest(one) == digest(two)
        assert pickle.loads(pickle.dumps(one)) == one
        for product in one if isinstance(one, tuple) else (one,):
            assert [] == [says for path, value in _inside(product, type(product).__name__) for says in _value(path, value)]
    assert first.exports == again.exports


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_the_demo_leaves_nothing_doubtful(units: Units) -> None:
    """Engineering checks say nothing of a sound plan."""
    assert () == made(units).messages
