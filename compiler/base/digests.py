"""The digest of a value: equal values, equal digests, in any process.

In: frozen dataclasses, tuples, texts, numbers, Fractions, bytes, enums, None. Out: a hex text.
Nothing here depends on memory addresses, hash seeds or the order of a set.
"""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Iterator
from enum import Enum
from fractions import Fraction
from typing import Any


def digest(value: object) -> str:
    """SHA-256 over an unambiguous writing of the value.

    Raises TypeError for what has no stable writing (sets, objects with identity).
    """
    h = hashlib.sha256()
    for piece in _write(value):
        h.update(piece)
    return h.hexdigest()


def _write(value: Any) -> Iterator[bytes]:
    if value is None or isinstance(value, bool):
        yield f"{value};".encode()
    elif isinstance(value, Enum):
        yield f"e{type(value).__name__}.{value.name};".encode()
    elif isinstance(value, int):
        yield f"i{value};".encode()
    elif isinstance(value, Fraction):
        yield f"q{value.numerator}/{value.denominator};".encode()
    elif isinstance(value, float):
        yield f"f{value.hex()};".encode()
    elif isinstance(value, str):
        raw = value.encode()
        yield f"s{len(raw)}:".encode() + raw
    elif isinstance(value, bytes):
        yield f"b{len(value)}:".encode() + value
    elif isinstance(value, (tuple, list)):
        yield f"t{len(value)}(".encode()
        for item in value:
            yield from _write(item)
        yield b")"
    elif isinstance(value, dict):
        yield f"d{len(value)}(".encode()
        for key in sorted(value, key=repr):
            yield from _write(key)
            yield from _write(value[key])
        yield b")"
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        yield f"c{type(value).__qualname__}(".encode()
        for item in dataclasses.fields(value):
            if item.compare:
                yield item.name.encode() + b"="
                yield from _write(getattr(value, item.name))
        yield b")"
    else:
        raise TypeError(f"{type(value).__name__} has no digest")
