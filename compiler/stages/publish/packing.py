"""A PDF made ready to be written: each stream compressed once, each object spelled out once.

The writer (pydyf 0.13) would do both twice, the second time for the file's identifier. What it asks thousands of times, the references of the pages
and the bytes of a word or number, is answered the short way; tests/stages/test_shortcuts.py holds that to be the same.
"""

from __future__ import annotations

import zlib
from functools import cache
from typing import Any

import pydyf

from compiler.draw.swapping import Swap

LEVEL = 6
"""zlib's level: 9 takes twice the time for 1 % less."""
_own_bytes, _own_dictionary = pydyf._to_bytes, pydyf.Dictionary.data
_own_references, _own_data = pydyf.PDF.page_references, pydyf.Stream.data


class _Spelled(pydyf.Object):  # type: ignore[misc]
    """An object whose bytes are known."""

    data = b""

    def __init__(self, thing: pydyf.Object) -> None:
        super().__init__()
        self.number, self.data = thing.number, thing.data


def pack(pdf: pydyf.PDF) -> None:
    """Compress the streams and spell out the rest, in place. Nothing may be changed after it."""
    for place, item in enumerate(pdf.objects):
        if not isinstance(item, pydyf.Stream):
            if item.free != "f":
                pdf.objects[place] = _Spelled(item)
        elif item.compress and "Filter" not in item.extra:
            raw = b"\n".join(part if isinstance(part, bytes) else pydyf._to_bytes(part) for part in item.stream)
            item.stream, item.compress = [zlib.compress(raw, LEVEL)], False
            item.extra["Filter"] = "/FlateDecode"


def _quick_bytes(item: Any) -> bytes:
    """In place of `pydyf._to_bytes`."""
    kind = type(item)
    if kind is bytes:
        return item  # type: ignore[no-any-return]
    if kind is str:
        return item.encode("ascii")  # type: ignore[no-any-return]
    if kind is float:
        return b"%d" % item if item.is_integer() else (b"%f" % item).rstrip(b"0")
    if kind is int:
        return b"%d" % item
    spelled: bytes = item.data if isinstance(item, pydyf.Object) else _own_bytes(item)
    return spelled


@cache
def _key(name: Any) -> bytes:
    return b"/%b " % _own_bytes(name)


def _quick_dictionary(self: Any) -> bytes:
    """In place of `Dictionary.data`."""
    return b"<<" + b"".join([_key(name) + _quick_bytes(value) for name, value in self.items()]) + b">>"


def _quick_references(self: Any) -> tuple[bytes, ...]:
    """In place of `PDF.page_references`: made anew only when a page was added."""
    told, kids = self.__dict__, self.pages["Kids"]
    kept: tuple[bytes, ...] = told.get("kept_references", ())
    if len(kept) * 3 != len(kids):
        kept = told["kept_references"] = _own_references.fget(self)
    return kept


def _quick_data(self: Any) -> bytes:
    """In place of `Stream.data`: what is compressed while the file is written is compressed once."""
    if not self.compress:
        return _own_data.fget(self)  # type: ignore[no-any-return]
    told = self.__dict__
    if "kept_data" not in told:
        told["kept_data"] = _own_data.fget(self)
    return told["kept_data"]  # type: ignore[no-any-return]


SWAPS = (
    Swap(pydyf, "_to_bytes", _own_bytes, _quick_bytes),
    Swap(pydyf.Dictionary, "data", _own_dictionary, property(_quick_dictionary)),
    Swap(pydyf.PDF, "page_references", _own_references, property(_quick_references)),
    Swap(pydyf.Stream, "data", _own_data, property(_quick_data)),
)
