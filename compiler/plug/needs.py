"""What a function needs, read from its annotations.

In: a function and its resolved annotations. Out: one `Need` per argument: a type that is given or made, all of a type
(`tuple[X, ...]`), or one that may be missing (`X | None`). Which types exist is judged in `agreeing`.
"""

from __future__ import annotations

import inspect
import types
import typing
from collections.abc import Callable
from typing import Any

from compiler.values.contributions import Need


def read_needs(run: Callable[..., object], hints: dict[str, Any], what: str, refuse: Callable[[str], None]) -> tuple[Need, ...]:
    """The needs in the order of the arguments; `refuse` is told of each that can't be met by a type."""
    needs = []
    code = run.__code__
    if code.co_flags & (inspect.CO_VARARGS | inspect.CO_VARKEYWORDS):
        refuse(f"{what} takes * or ** arguments; each need is an argument with a type.")
    for name in code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]:
        if name not in hints:
            refuse(f"{what}: the argument `{name}` has no type; a need is told by its type, as in {name}: Model.")
            continue
        need = _need(name, hints[name])
        if need is None:
            refuse(f"{what}: `{name}: {_shown(hints[name])}` is no type that a plugin can need.")
            continue
        needs.append(need)
    return tuple(needs)


def _need(name: str, hint: Any) -> Need | None:
    origin, inside = typing.get_origin(hint), typing.get_args(hint)
    if origin in (typing.Union, types.UnionType):
        rest = [kind for kind in inside if kind is not type(None)]
        if len(rest) == 1 and len(inside) == 2 and isinstance(rest[0], type):
            return Need(name, rest[0], optional=True)
        return None
    if origin is tuple:
        if len(inside) == 2 and inside[1] is Ellipsis and isinstance(inside[0], type):
            return Need(name, inside[0], many=True)
        return None
    plain = isinstance(hint, type) and hint.__module__ != "builtins" and origin is None
    return Need(name, hint) if plain else None


def _shown(hint: Any) -> str:
    return hint.__name__ if isinstance(hint, type) and not typing.get_args(hint) else str(hint)
