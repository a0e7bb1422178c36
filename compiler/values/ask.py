"""What a maker may write for a joint, a component or a setting, as the author of a plugin asks for it.

In: a default and what it means, as texts. Out: an `Asked`, which the class it stands in keeps; at the class
the type checker sees the value that the maker's text becomes. Nothing is judged here: defaults and limits are
sizes in the grammar of design.yaml and are worked out where a joint is made, with the maker's own words at hand.

What a default or limit of a joint may name: `receiver.thickness`, `acting.thickness`, `receiver.depth`,
`acting.depth`, `contact.length`, `contact.width`, `contact.depth`, `shop.fit`, `shop.kerf` and the fields that stand
above it in its class (without an underscore: `edge distance`). Those of a component may name `width`, `depth` and
`height` of the place it stands in, and the fields above.
"""

from __future__ import annotations

import dataclasses
import sys
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal, cast, overload

from compiler.base.measures import Length
from compiler.values.library import Item, Stock
from compiler.values.shapes import Stopped

AskedKind = Literal["size", "count", "ratio", "angle", "word", "item", "stop", "fasteners", "stock"]


@dataclass(frozen=True, slots=True)
class Fasteners:
    """Screws, nails, dowels or the like in a joint, as its maker wants them.

    `count` is how many along the contact, or None when `every` says how far apart; both None = the joint's own rule.
    `slotted` names the parts that get slotted holes. `places` may put them by hand (along, across, from the
    contact's corner); empty = evenly along, both ends kept clear, at least two.
    """

    item: Item
    count: int | None = None
    every: Length | None = None
    slotted: tuple[str, ...] = ()
    places: tuple[tuple[Length, Length], ...] = ()

    def spread(self, length: Length, width: Length) -> tuple[tuple[Length, Length], ...]:
        """Where they stand along a contact of this length and width: `places`, or a row along its middle.

        `count` of them, or as many as stand no farther apart than `every` (at least two); evenly spaced, half a space
        clear at each end. Source: common practice, no source.
        """
        if self.places:
            return self.places
        number = self.count
        if number is None:
            number = 2 if self.every is None else max(2, -(-length.inches // self.every.inches))
        return tuple((length * Fraction(2 * place + 1, 2 * number), width / 2) for place in range(number))


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One field: its key as makers write it, what it takes, and the texts of its default and limits.

    `default` None = there is none: the maker must write it, or (when `optional`) the value is None.
    `metric` is the default of the metric edition where re-sizing would not do.
    """

    key: str = ""
    field: str = ""
    takes: AskedKind
    default: str | None = None
    says: str
    metric: str | None = None
    least: str = ""
    most: str = ""
    words: tuple[str, ...] = ()
    optional: bool = False
    line: int = dataclasses.field(default=0, compare=False)


def named(asked: Asked, name: str) -> Asked:
    """The field under the name it has in its class; makers write spaces where Python needs underscores."""
    return dataclasses.replace(asked, field=name, key=name.rstrip("_").replace("_", " "))


def _asked(takes: AskedKind, default: object, says: str, **more: Any) -> Any:
    text = None if default is None else str(default)
    return Asked(takes=takes, default=text, says=says, line=sys._getframe(2).f_lineno, **more)


def size(default: str | None, says: str, *, metric: str | None = None, least: str = "", most: str = "") -> Length:
    """A length. Default, least and most are sizes: `"receiver.thickness / 3 rounded to 1/16"`."""
    return cast(Length, _asked("size", default, says, metric=metric, least=least, most=most))


def count(default: int | str | None, says: str, *, least: str = "", most: str = "") -> int:
    """A whole number."""
    return cast(int, _asked("count", default, says, least=least, most=most))


def ratio(default: str | None, says: str, *, least: str = "", most: str = "") -> Fraction:
    """A number without a unit: `"1.25"`."""
    return cast(Fraction, _asked("ratio", default, says, least=least, most=most))


def angle(default: str | None, says: str, *, least: str = "", most: str = "") -> Fraction:
    """An angle in degrees: `"10 deg"`."""
    return cast(Fraction, _asked("angle", default, says, least=least, most=most))


def word(default: str | None, says: str, *, of: tuple[str, ...] = ()) -> str:
    """A word, one of some where they are given."""
    return cast(str, _asked("word", default, says, words=of))


@overload
def item(default: str, says: str) -> Item: ...
@overload
def item(default: None, says: str) -> Item | None: ...
def item(default: str | None, says: str) -> Item | None:
    """A piece of hardware, by its name in the library; without a default it may be left out."""
    return cast(Item | None, _asked("item", default, says, optional=default is None))


def stock(default: str, says: str) -> Stock:
    """What parts of a component are made of, by its name in the library; a maker gives another with `with:`."""
    return cast(Stock, _asked("stock", default, says))


def stop(says: str) -> Stopped:
    """Where it stops short: `stopped: 1/2 from front`. Not written, it runs right through."""
    return cast(Stopped, _asked("stop", "", says, optional=True))


@overload
def fasteners(default: str, says: str, *, every: str = "", count: str = "") -> Fasteners: ...
@overload
def fasteners(default: None, says: str, *, every: str = "", count: str = "") -> Fasteners | None: ...
def fasteners(default: str | None, says: str, *, every: str = "", count: str = "") -> Fasteners | None:
    """Screws, brads, dowels: the item, with the maker's `count:` or `every:` beside it.

    `count` and `every` are the joint's own rule, as sizes, for makers who write neither.
    """
    words = (every, count)
    return cast(Fasteners | None, _asked("fasteners", default, says, words=words, optional=default is None))
