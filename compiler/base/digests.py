"""The digest of a value: equal values, equal digests, in any process.

In: frozen dataclasses, tuples, texts, numbers, Fractions, bytes, enums, None. Out: a hex text.
Nothing here depends on memory addresses, hash seeds or the order of a set.
"""

from __future__ import annotations

import dataclasses
import hashlib
import struct
from collections.abc import Hashable
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import Any, cast

_POINT = struct.Struct(">c2d").pack


def digest(value: object) -> str:
    """SHA-256 over an unambiguous writing of the value.

    Raises TypeError for what has no stable writing (sets, objects with identity).
    """
    return hashlib.sha256(_written(value, {})).hexdigest()


def _written(value: Any, known: dict[int, bytes]) -> bytes:
    """The writing. `known` holds that of each dataclass met in this call: a stock that forty parts share is written out once."""
    kind = type(value)
    if kind is str:
        raw = value.encode()
        return b"s%d:%b" % (len(raw), raw)
    if kind is tuple and len(value) == 2 and type(value[0]) is float and type(value[1]) is float:
        return _POINT(b"p", *value)  # most of what is in a drawing
    if kind is tuple or kind is list:
        return b"t%d(%b)" % (len(value), b"".join([_written(item, known) for item in value]))
    if kind is float:
        return f"f{value.hex()};".encode()
    if kind is Fraction:
        return b"q%d/%d;" % (value.numerator, value.denominator)
    if value is None or kind is bool:
        return f"{value};".encode()
    if kind is int:
        return b"i%d;" % value
    heads = _heads(cast("Hashable", kind))
    if heads is not None:
        found = known.get(id(value))
        if found is None:
            inside = b"".join([head + _written(getattr(value, name), known) for name, head in heads])
            found = known[id(value)] = b"c%b(%b)" % (kind.__qualname__.encode(), inside)
        return found
    return _rare(value, known)


@cache
def _heads(kind: object) -> tuple[tuple[str, bytes], ...] | None:
    """The fields of a dataclass that count when two are compared, each with its written name."""
    if not isinstance(kind, type) or not dataclasses.is_dataclass(kind) or issubclass(kind, Enum):
        return None
    return tuple((item.name, item.name.encode() + b"=") for item in dataclasses.fields(kind) if item.compare)


def _rare(value: Any, known: dict[int, bytes]) -> bytes:
    if isinstance(value, Enum):
        return f"e{type(value).__name__}.{value.name};".encode()
    if isinstance(value, bytes):
        return b"b%d:%b" % (len(value), value)
    if isinstance(value, dict):
        pairs = [_written(key, known) + _written(value[key], known) for key in sorted(value, key=repr)]
        return b"d%d(%b)" % (len(value), b"".join(pairs))
    for plain in (str, tuple, list, float, Fraction, int):
        if isinstance(value, plain):
            return _written(plain(value), known)  # type: ignore[arg-type]  # a subclass is written as what it is
    raise TypeError(f"{type(value).__name__} has no digest")
