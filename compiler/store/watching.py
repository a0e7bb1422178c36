"""Which fields of a large value a function really reads.

In: frozen values (a model, the shop, the library). Out: the same values as their own kind, that remember the names of fields as they are
read. A product is then made again when a field that it read changes, and not when any other does. Of a field of many items (the parts of a
model) each item may be watched for itself: `model.parts` then means which items there are, `model.parts/left side` one of them.
What is worked out of many items may be watched as a question: `model.overall`, `model.measure('width',)`; then its answer is what was read.
"""

from __future__ import annotations

from ast import literal_eval
from collections.abc import Callable, Hashable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cache
from typing import Any, cast

from compiler.base.digests import digest
from compiler.store.deciding import Ingredients

Outline = tuple[str, ...]
"""Names of an item's fields that tell which item it is, the first of them its own name: reading these is reading the field that holds all items."""


@dataclass(slots=True)
class Watched:
    """A value under watch: `plain` is the value itself, `value` the one to hand out. `by_item` are its fields of many items.

    `answers` are functions that answer questions about it in its place, by name; their arguments are texts, numbers and tuples of these.
    """

    plain: Any
    value: Any
    by_item: Mapping[str, Outline] = field(default_factory=dict)
    answers: dict[str, Callable[..., Any]] = field(default_factory=dict)
    _digests: dict[str, str] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The value's kind, for reasons."""
        return type(self.plain).__name__.lower()

    def digests(self, way: tuple[str, ...]) -> Ingredients:
        """The digests of those fields and items of a way of reading (`shop.prices`, `model.parts/shelf`) that are this value's."""
        names = [each.partition(".")[2] for each in way if each.partition(".")[0] == self.name]
        for name in names:
            if name not in self._digests:
                self._digests[name] = digest(self._read(name))
        return tuple((f"{self.name}.{name}", self._digests[name]) for name in names)

    def made_of(self, item: str, value: Any, **known: Any) -> Any:
        """A twin of what is made from one item alone (`parts/shelf`): to read it is to read that item. `known` are fields that tell nothing new."""
        return _twin_of(value, _reads(self), item, known)

    def ask(self, question: str, *about: Any) -> Any:
        """The answer to one of the questions of `answers`; it counts as read."""
        _reads(self).add(f"{question}{about!r}")
        return self.answers[question](*about)

    def _read(self, name: str) -> Any:
        question, asked, about = name.partition("(")
        if asked:
            answer = self.answers.get(question) or getattr(self.plain, question)
            return answer(*literal_eval(f"({about}"))
        home, _, key = name.partition("/")
        items = getattr(self.plain, home, None)
        outline = self.by_item.get(home)
        if outline is None:
            return items
        if key:
            return next((item for item in items or () if getattr(item, outline[0]) == key), None)
        return tuple(tuple(getattr(item, known) for known in outline) for item in items or ())


def watch(value: Any, by_item: Mapping[str, Outline] | None = None, questions: tuple[str, ...] = ()) -> Watched:
    """The value, with a twin that tells what is read of it. `questions` are properties and methods whose answers are watched, not what they read."""
    if not is_dataclass(value) or isinstance(value, type):
        raise TypeError(f"{type(value).__name__} has no fields to watch")
    reads: set[str] = set()
    parts = {
        home: tuple(_twin_of(item, reads, f"{home}/{getattr(item, outline[0])}", {known: getattr(item, known) for known in outline})
                    for item in getattr(value, home))
        for home, outline in (by_item or {}).items()
    }
    twin = _twin_of(value, reads, "", parts, every=True, questions=questions)
    object.__setattr__(twin, "_plain", value)
    return Watched(value, twin, by_item or {})


def _twin_of(value: Any, reads: set[str], mark: str, given: Mapping[str, Any], *, every: bool = False,
             questions: tuple[str, ...] = ()) -> Any:
    """The twin. Reading one of its fields adds `mark`, or the field's own name when there is none; fields that are given tell only if `every`."""
    kind, names = _twin(cast("Hashable", type(value)), frozenset() if every else frozenset(given), questions)
    twin: Any = object.__new__(kind)
    object.__setattr__(twin, "_reads", reads)
    object.__setattr__(twin, "_mark", mark)
    for name in names:
        object.__setattr__(twin, name, given[name] if name in given else getattr(value, name))
    return twin


@cache
def _twin(kind: Any, known: frozenset[str], questions: tuple[str, ...]) -> tuple[type, tuple[str, ...]]:
    names = frozenset(item.name for item in fields(kind))
    telling = names - known
    get = object.__getattribute__

    def read(self: Any, name: str) -> Any:
        if name in questions:
            with suppress(AttributeError):
                return answered(get(self, "_plain"), name, get(self, "_reads"))
        if name in telling:
            with suppress(AttributeError):  # a copy made of it is not under watch
                get(self, "_reads").add(get(self, "_mark") or name)
        return get(self, name)

    def answered(plain: Any, name: str, reads: set[str]) -> Any:
        answer = getattr(plain, name)
        if not callable(answer):
            reads.add(name)
            return answer

        def reply(*about: Any) -> Any:
            reads.add(f"{name}{about!r}")
            return answer(*about)

        return reply

    def refuse(self: Any, protocol: object) -> Any:
        raise TypeError("a value under watch is not kept; what was read of it is")

    def same(self: Any, other: object) -> bool:
        return isinstance(other, kind) and all(getattr(self, name) == getattr(other, name) for name in sorted(names))

    twin = type(kind.__name__, (kind,), {
        "__slots__": ("_reads", "_mark", "_plain"), "__getattribute__": read, "__reduce_ex__": refuse, "__eq__": same, "__hash__": kind.__hash__,
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
