"""Which rules of a style sheet say something of an element, found once for all elements of its kind: a short cut through cssselect2, with the same result.

Most selectors look at nothing but what an element is and what it stands in: `.list td`. What these say is kept for the path to the element: names,
classes and attributes from the root down. The others (`:last-child`, `p + p`) are tried on each element. tests/stages/test_shortcuts.py holds
documents made this way against the engine's own.
"""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from types import CodeType
from typing import Any, NamedTuple

from compiler.draw.swapping import Swap

_Matcher: Any = importlib.import_module("cssselect2").Matcher
_match = _Matcher.match

_OF_THE_PATH = frozenset((
    "ancestors", "any", "attrib", "classes", "endswith", "etree_element", "get", "id", "in_html_document", "local_name", "lower", "namespace_url", "next",
    "parent", "split_whitespace", "startswith", "tag",
))
"""All that a selector's test may name that looks at the path alone."""


class _Parted(NamedTuple):
    """The selectors of a sheet that look at the path alone, and the rest; the attributes that are looked at; what is known of paths.

    An element keeps the number of its path under `name`.
    """

    name: str
    made_of: tuple[int, int]
    by_path: Any
    rest: Any
    attributes: frozenset[str]
    paths: dict[Any, int]
    known: dict[int, list[Any]]


def _quick_match(self: Any, element: Any) -> list[Any]:
    """In place of `Matcher.match`."""
    parted: _Parted | None = self.__dict__.get("kept_parted")
    if parted is None or parted.made_of != (id(self), self.order):  # a copy of a sheet brings what was kept for the first
        parted = self.__dict__["kept_parted"] = _part(self)
    path = _path(parted, element)
    found = parted.known.get(path)
    if found is None:
        found = parted.known[path] = _match(parted.by_path, element)
    more = _match(parted.rest, element)
    return sorted(found + more) if more else found


def _path(parted: _Parted, element: Any) -> int:
    """The number of the path to an element, kept with the element."""
    told = element.__dict__
    number: int | None = told.get(parted.name)
    if number is not None:
        return number
    parent, attributes = element.parent, parted.attributes
    own = element.etree_element
    key = (-1 if parent is None else _path(parted, parent), own.tag, *[each for each in own.items() if each[0] in attributes])
    number = told[parted.name] = parted.paths.setdefault(key, len(parted.paths))
    return number


def _part(matcher: Any) -> _Parted:
    by_path, rest = _Matcher(), _Matcher()
    attributes: set[str] = set()
    for table in ("id_selectors", "class_selectors", "lower_local_name_selectors", "namespace_selectors"):
        for name, entries in getattr(matcher, table).items():
            for entry in entries:
                getattr(_side(entry, by_path, rest, attributes), table).setdefault(name, []).append(entry)
    attributes |= {"lang"} if matcher.lang_attr_selectors else set()
    for table in ("lang_attr_selectors", "other_selectors"):
        for entry in getattr(matcher, table):
            getattr(_side(entry, by_path, rest, attributes), table).append(entry)
    return _Parted(f"path in {id(by_path)}", (id(matcher), matcher.order), by_path, rest, frozenset(attributes), {}, {})


def _side(entry: Any, by_path: Any, rest: Any, attributes: set[str]) -> Any:
    codes = list(_codes(entry[0].__code__))
    if not all(name in _OF_THE_PATH for code in codes for name in code.co_names):
        return rest
    for code in codes:
        attributes.update(each for each in code.co_consts if isinstance(each, str))
        attributes.update(attribute for name, attribute in (("classes", "class"), ("id", "id")) if name in code.co_names)
    return by_path


def _codes(code: CodeType) -> Iterator[CodeType]:
    """A test's code, and that of the generators in it."""
    yield code
    for each in code.co_consts:
        if isinstance(each, CodeType):
            yield from _codes(each)


SWAPS = (Swap(_Matcher, "match", _match, _quick_match),)
