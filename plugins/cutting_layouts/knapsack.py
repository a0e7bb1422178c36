"""Lengths out of one length, exactly: the most valuable lengths that fit, kerfs counted.

In: the length to saw from, blocks of which only the lengths matter, the kerf. Out: how many of each. Dynamic programming over
the length that is left; exact, so that it needs no search.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .packing import Block


def best_lengths(length: int, blocks: Sequence[Block], kerf: int) -> tuple[int, ...]:
    """How many of each block to saw, for the highest total value. n pieces and n kerfs fit in `length` + one kerf."""
    room = length + kerf
    best = np.zeros(room + 1)
    steps: list[tuple[int, int, np.ndarray]] = []
    for number, block in enumerate(blocks):
        size, left, many = block.length + kerf, min(block.count, room // (block.length + kerf)), 1
        while left > 0:
            many = min(many, left)
            left -= many
            whole = size * many
            if whole > room:
                break
            taken = np.zeros(room + 1, dtype=bool)
            offer = best[: room + 1 - whole] + block.value * many
            better = offer > best[whole:] + 1e-9
            taken[whole:] = better
            best[whole:] = np.where(better, offer, best[whole:])
            steps.append((number, many, taken))
            many *= 2
    counts, at = [0] * len(blocks), int(np.argmax(best))
    for number, many, taken in reversed(steps):
        if taken[at]:
            counts[number] += many
            at -= (blocks[number].length + kerf) * many
    return tuple(counts)


def most_value(length: int, blocks: Sequence[Block], prices: Sequence[int], kerf: int) -> int:
    """The highest total price of lengths that fit, in whole numbers."""
    room = length + kerf
    best = np.zeros(room + 1, dtype=np.int64)
    for block, price in zip(blocks, prices, strict=True):
        left, many = min(block.count, room // (block.length + kerf)), 1
        while left > 0:
            many = min(many, left)
            left -= many
            whole = (block.length + kerf) * many
            if whole <= room:
                best[whole:] = np.maximum(best[whole:], best[: room + 1 - whole] + price * many)
            many *= 2
    return int(best[-1])
