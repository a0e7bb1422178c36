"""Straight and tilted ways into a place (geometry)."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from plugins.assembly_order.ways import FINE, Solid, _passes, straight, tilted


def box(across: tuple[float, float], deep: tuple[float, float], up: tuple[float, float]) -> Solid:
    return Solid(tuple((round(low * FINE), round(high * FINE)) for low, high in (across, deep, up)))  # type: ignore[arg-type]


CASE = [box((0, 1), (0, 12), (0, 30)), box((35, 36), (0, 12), (0, 30)), box((1, 35), (0, 12), (0, 1)), box((1, 35), (0, 12), (29, 30)),
        box((1, 35), (12, 12.25), (0, 30))]
FRAME = [box((0, 2), (-1, 0), (0, 30)), box((34, 36), (-1, 0), (0, 30)), box((2, 34), (-1, 0), (0, 2)), box((2, 34), (-1, 0), (28, 30))]
SHELF = box((1.1, 34.9), (1, 11), (15, 15.75))


def test_an_open_case_lets_a_shelf_in() -> None:
    """From the front, straight."""
    assert straight([SHELF], CASE)


def test_behind_a_frame_a_shelf_is_tilted_in() -> None:
    """The opening is 32 in wide and 26 in high, the shelf 33.8 in long: no straight way, but one at a slant."""
    assert not straight([SHELF], CASE + FRAME)
    assert tilted([SHELF], CASE + FRAME)


def test_a_low_opening_does_not_let_it_in() -> None:
    """8 in high, the same shelf would have to rise 10 in."""
    low = [*FRAME, box((2, 34), (-1, 0), (2, 12)), box((2, 34), (-1, 0), (20, 28))]
    assert not tilted([SHELF], CASE + low)


def test_a_shelf_without_end_room_does_not_lie_down() -> None:
    """Its diagonal is longer than the room between the sides."""
    tight = box((1, 35), (1, 11), (15, 15.75))
    assert not tilted([tight], CASE + FRAME)


@given(st.integers(1, 40), st.integers(1, 4), st.integers(1, 40), st.integers(1, 40))
def test_what_passes_at_an_angle_really_does(long: int, thick: int, wide: int, high: int) -> None:
    """Against sines and cosines at a thousand angles."""
    if _passes(long, thick, wide, high):
        angles = [math.pi / 2 * number / 1000 for number in range(1001)]
        assert any(long * math.cos(a) + thick * math.sin(a) <= wide + 0.05 and long * math.sin(a) + thick * math.cos(a) <= high + 0.05 for a in angles)
