"""Which fields of a large value a function really reads.

In: frozen values (a model, the shop, the library). Out: the same values as their own kind, that remember the names of fields as they are
read. A product is then made again when a field that it read changes, and not when any other does.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Any, cast

from compiler.base.digests import digest
from compiler.store.deciding import Ingredients


@dataclass(slots=True)
class Watched:
    """A value under watch: `plain` is the value itself, `value` the one to hand out."""

    plain: Any
    value: Any
    _digests: dict[str, str]

    @property
    def name(self) -> str:
        """The value's kind, for reasons."""
        return type(self.plain).__name__.lower()

    def digests(self, way: tuple[str, ...]) -> Ingredients:
        """The digests of those fields of a way of reading (`shop.prices`) that are this value's."""
        names = [each.partition(".")[2] for each in way if each.partition(".")[0] == self.name]
        for name in names:
            if name not in self._digests:
                self._digests[name] = digest(getattr(self.plain, name, None))
        return tuple((f"{self.name}.{name}", self._digests[name]) for name in names)


def watch(value: Any) -> Watched:
    """The value, with a twin that tells what is read of it."""
    if not is_dataclass(value) or isinstance(value, type):
        raise TypeError(f"{type(value).__name__} has no fields to watch")
    kind, names = _twin(type(value))
    twin: Any = object.__new__(kind)
    object.__setattr__(twin, "_reads", set())
    for name in names:
        object.__setattr__(twin, name, getattr(value, name))
    return Watched(value, twin, {})


@cache
def _twin(kind: type) -> tuple[type, tuple[str, ...]]:
    names = frozenset(item.name for item in fields(kind))

    def read(self: Any, name: str) -> Any:
        if name in names:
            with suppress(AttributeError):  # a copy made of it is not under watch
                object.__getattribute__(self, "_reads").add(name)
        return object.__getattribute__(self, name)

    def refuse(self: Any, protocol: object) -> Any:
        raise TypeError("a value under watch is not kept; what was read of it is")

    def same(self: Any, other: object) -> bool:
        return isinstance(other, kind) and all(getattr(self, name) == getattr(other, name) for name in sorted(names))

    twin = type(kind.__name__, (kind,), {
        "__slots__": ("_reads",), "__getattribute__": read, "__reduce_ex__": refuse, "__eq__": same, "__hash__": kind.__hash__,
        "__qualname__": kind.__qualname__, "__module__": kind.__module__, "__doc__": kind.__doc__,
    })
    return twin, tuple(sorted(names))


@contextmanager
def seen(watched: tuple[Watched, ...]) -> Iterator[set[str]]:
    """What is read while this lasts: names such as `shop.prices`, complete when it ends."""
    found: set[str] = set()
    before = [set(_reads(each)) for each in watched]
    for each in watched:
        _reads(each).clear()
    try:
        yield found
    finally:
        for each, earlier in zip(watched, before, strict=True):
            found.update(f"{each.name}.{name}" for name in _reads(each))
            _reads(each).update(earlier)


def _reads(watched: Watched) -> set[str]:
    return cast("set[str]", object.__getattribute__(watched.value, "_reads"))
