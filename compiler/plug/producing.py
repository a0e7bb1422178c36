"""What a task makes: a frozen dataclass of exact, unchangeable values.

In: a task's annotations. Out: the type it makes and whether it is one of many makers. Types of the compiler's own
are known to be sound; an author's are looked into, field by field.
"""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Callable
from typing import Any

from compiler.plug.hints import hints_of

_CHANGEABLE = (list, dict, set, bytearray)


def read_product(run: Callable[..., object], hints: dict[str, Any], called: str,
                 refuse: Callable[[str], None]) -> tuple[type | None, bool]:
    """The type that a task makes, and whether there may be several makers of it."""
    made = hints.get("return")
    many = False
    if typing.get_origin(made) is tuple:
        inside = typing.get_args(made)
        if len(inside) == 2 and inside[1] is Ellipsis:
            made, many = inside[0], True
    if "return" not in hints or made is type(None):
        refuse(f"Task `{called}` does not say what it makes; write -> and the type of its product.")
        return None, False
    if not isinstance(made, type) or not dataclasses.is_dataclass(made):
        shown = made.__name__ if isinstance(made, type) else str(made)
        refuse(f"Task `{called}` makes {shown}; a product is a class with @dataclass(frozen=True).")
        return None, False
    for says in faults_of(made):
        refuse(f"Task `{called}`: {says}")
    return made, many


def faults_of(kind: type, seen: frozenset[type] = frozenset()) -> list[str]:
    """What is wrong with a product's type, in sentences."""
    if kind in seen or kind.__module__.startswith("compiler."):
        return []
    if not kind.__dataclass_params__.frozen:  # type: ignore[attr-defined]
        return [f"`{kind.__name__}` can be changed after it is made; write @dataclass(frozen=True)."]
    found = []
    try:
        hints = hints_of(kind)
    except (NameError, AttributeError, TypeError, KeyError) as problem:
        return [f"the types of the fields of `{kind.__name__}` can't be read: {problem}."]
    for name, hint in hints.items():
        for inner in _types_in(hint):
            if inner is float:
                found.append(f"`{kind.__name__}.{name}` is a float; a length is a Length, any other number an int or a Fraction.")
            elif inner in _CHANGEABLE:
                found.append(f"`{kind.__name__}.{name}` is a {inner.__name__}, which can be changed; use a tuple.")
            elif dataclasses.is_dataclass(inner):
                found += faults_of(inner, seen | {kind})
    return found


def _types_in(hint: Any) -> list[type]:
    origin = typing.get_origin(hint)
    if origin is typing.Literal or origin is typing.ClassVar:
        return []
    inside = [inner for argument in typing.get_args(hint) if argument is not Ellipsis for inner in _types_in(argument)]
    if origin in (typing.Union, types.UnionType, tuple):
        return inside
    if isinstance(origin, type):
        return [origin, *inside]
    return [hint] if isinstance(hint, type) else []
