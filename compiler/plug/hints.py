"""Annotations of an author's function or class, resolved.

In: a function, or a class of fields. Out: the types by name, as `typing.get_type_hints` gives them. Most annotations are one plain name or a tuple of
such; looking those up is ten times as fast as compiling each, and a shop with forty plugins has hundreds.
"""

from __future__ import annotations

import builtins
import inspect
import re
import sys
import typing
from typing import Any

_TUPLE = re.compile(r"tuple\[(\w+), \.\.\.\]")


def hints_of(thing: Any) -> dict[str, Any]:
    """The resolved annotations. Raises NameError, AttributeError, TypeError, SyntaxError as `typing` does."""
    names = vars(sys.modules[thing.__module__]) if isinstance(thing, type) else thing.__globals__
    written = _written(thing)
    found = {}
    for name, text in written.items():
        value = _looked_up(text, names)
        if value is None:
            return typing.get_type_hints(thing, names if isinstance(thing, type) else None)
        found[name] = value
    return found


def _written(thing: Any) -> dict[str, Any]:
    """The annotations as they stand there; of a class those of its bases, too."""
    if not isinstance(thing, type):
        return dict(thing.__annotations__)
    return {name: text for base in reversed(thing.__mro__) for name, text in inspect.get_annotations(base).items()}


def _looked_up(text: Any, names: dict[str, Any]) -> Any:
    """The type that a plain annotation names; None when it has to be worked out."""
    if isinstance(text, type):
        return text
    if not isinstance(text, str):
        return None
    if text.isidentifier():
        value = names.get(text, getattr(builtins, text, None))
        return value if isinstance(value, type) or typing.get_origin(value) is not None else None
    many = _TUPLE.fullmatch(text)
    inside = names.get(many[1], getattr(builtins, many[1], None)) if many else None
    return tuple[inside, ...] if isinstance(inside, type) else None  # type: ignore[valid-type]  # made from its name
