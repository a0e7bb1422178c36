"""The account of one run: what was used again, what was made again, and because of what.

In: a store, and a name for what is being made (a plan's edition). Out: values, each from the store or made now. What things were made
from is itself kept, so that the next run can name what changed; losing that costs the reasons and nothing else.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from compiler.base.digests import digest
from compiler.store.deciding import Ingredients, decide, key_of
from compiler.store.memo import Store
from compiler.store.watching import Watched, seen

MOST_WAYS = 6
"""A function may read other fields for other inputs; so many ways of reading are remembered."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing of a run: made again for `reasons`, or used again."""

    name: str
    made: bool
    reasons: tuple[str, ...] = ()

    def __str__(self) -> str:
        """A line for `publish -v`."""
        return f"made    {self.name}: {', '.join(self.reasons)}" if self.made else f"reused  {self.name}"


@dataclass(slots=True)
class Account:
    """One edition of one plan in one run. `home` names it from run to run."""

    store: Store
    home: str
    entries: list[Entry] = field(default_factory=list)
    _last: dict[str, Ingredients] | None = None
    _now: dict[str, Ingredients] = field(default_factory=dict)

    def keep[T](
        self, name: str, made_from: Ingredients, make: Callable[[], T], worth: Callable[[T], bool] = lambda value: True
    ) -> T:
        """The value made from these ingredients: kept, else made now and (when it is worth it) kept."""
        key = key_of(name, made_from)
        found: T | None = self.store.get(key)
        self._note(name, made_from, at_hand=found is not None)
        if found is not None:
            return found
        value = make()
        if worth(value):
            self.store.put(key, value)
        return value

    def foresee(self, name: str, made_from: Ingredients, value: object) -> None:
        """Keep a value also as made from what it will be made from next time, where that is known to give an equal one."""
        if self.store.put(key_of(name, made_from), value):
            self._now[name] = made_from

    def keep_by_reads[T](
        self, name: str, made_from: Ingredients, watched: tuple[Watched, ...], make: Callable[[], T], worth: Callable[[T], bool]
    ) -> T:
        """Like `keep`, for what also reads fields of large values: only the fields that it really read count.

        Which fields those are is known from the last time; a new way of reading is added to the ways that are known.
        """
        home = key_of(f"ways of {name}", made_from)
        ways: tuple[tuple[str, ...], ...] = self.store.get(home) or ()
        for way in ways:
            ingredients = (*made_from, *_fields(watched, way))
            found: T | None = self.store.get(key_of(name, ingredients))
            if found is not None:
                self._note(name, ingredients, at_hand=True)
                return found
        with seen(watched) as reads:
            value = make()
        way = tuple(sorted(reads))
        ingredients = (*made_from, *_fields(watched, way))
        self._note(name, ingredients, at_hand=False)
        if worth(value) and self.store.put(key_of(name, ingredients), value):
            self.store.put(home, (way, *(other for other in ways if other != way))[:MOST_WAYS])
        return value

    def _note(self, name: str, ingredients: Ingredients, *, at_hand: bool) -> None:
        if self._last is None:
            self._last = self.store.get(digest(("account", self.home))) or {}
        self._now[name] = ingredients
        decision = decide(ingredients, self._last.get(name), at_hand=at_hand)
        self.entries.append(Entry(name, not decision.reuse, decision.reasons))

    def close(self) -> None:
        """Keep what things were made from, for the reasons of the next run."""
        if self._now and self._last != (merged := {**(self._last or {}), **self._now}):
            self.store.put(digest(("account", self.home)), merged)


def _fields(watched: tuple[Watched, ...], way: tuple[str, ...]) -> Ingredients:
    return tuple(pair for value in watched for pair in value.digests(way))
