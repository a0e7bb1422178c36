"""Which rules of a style sheet hold of an element, found once for all of its kind: short cuts through cssselect2 and WeasyPrint 70, with the same result.

Most selectors look at nothing but what an element is and what it stands in: `.list td`. What these say is kept for the path to the element: names,
classes and attributes from the root down. The others (`:last-child`, `p + p`) are tried on each element. tests/stages/test_shortcuts.py holds
documents made this way against the engine's own.
"""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from math import inf
from types import CodeType
from typing import Any, NamedTuple

from compiler.draw.swapping import Swap

_Matcher: Any = importlib.import_module("cssselect2").Matcher
_css: Any = importlib.import_module("weasyprint.css")
_match, _styles = _Matcher.match, _css.StyleFor.__init__

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


def _quick_styles(self: Any, html: Any, sheets: Any, presentational_hints: bool, font_config: Any, target_collector: Any) -> None:
    """In place of `StyleFor.__init__`: rules are weighed once for all elements that share parent style, rules and a `style` of their own."""
    if presentational_hints:
        _styles(self, html, sheets, presentational_hints, font_config, target_collector)
        return
    self._cascaded_styles, self._computed_styles = {}, {}
    self.initial_page_sizes, self._sheets, self.font_config = {"box": None, "area": None}, sheets, font_config
    computed, root = self._computed_styles, html.etree_element
    own = {element: (tuple(declarations), specificity, base_url)
           for specificity, element, declarations, base_url in _css.find_style_attributes(root, False, html.base_url)}
    known: dict[Any, tuple[Any, list[tuple[str, Any]]]] = {}
    for element in html.wrapper_element.iter_subtree():
        node, parent = element.etree_element, element.parent.etree_element if element.parent else None
        matches = [(sheet, origin, least, selector) for sheet, origin, least in sheets for selector in sheet.matcher.match(element)]
        said = own.get(node)
        above = id(computed[parent, None]) if element.parent else None
        key = (above, said and said[0], *[(id(sheet), selector[0], id(selector[3][0]), selector[3][1]) for sheet, _, _, selector in matches])
        if key in known:
            computed[node, None], pseudo = known[key]
            self._cascaded_styles.update(((node, kind), style) for kind, style in pseudo)
            continue
        weighed = _weighed(matches, said)
        self._cascaded_styles.update(((node, kind), style) for kind, style in weighed.items())
        self.set_computed_styles(node, root=root, parent=parent, base_url=html.base_url, target_collector=target_collector)
        known[key] = computed[node, None], [(kind, style) for kind, style in weighed.items() if kind]
    for node, kind in self._cascaded_styles:
        if kind:
            self.set_computed_styles(node, pseudo_type=kind, root=root, parent=node, base_url=html.base_url, target_collector=target_collector)
    self._cascaded_styles.clear()


def _weighed(matches: list[Any], said: Any) -> dict[str | None, dict[str, Any]]:
    """What holds of an element, and of what stands before or after it in its name: for each property the declaration of the greatest weight."""
    styles: dict[str | None, dict[str, Any]] = {}
    if said is not None:
        declarations, specificity, base_url = said
        _weigh(styles.setdefault(None, {}), "author", inf, specificity, _css.preprocess_declarations(base_url, declarations))
    for sheet, origin, least, (specificity, _, kind, (declarations, layer)) in matches:
        order = inf if layer is None else sheet.layers.index(layer)
        _weigh(styles.setdefault(kind, {}), origin, order, least or specificity, declarations)
    return styles


def _weigh(style: dict[str, Any], origin: str, order: float, specificity: Any, declarations: Any) -> None:
    for name, values, importance in declarations:
        weight = (_css.declaration_precedence(origin, importance), order, specificity)
        before = style.get(name)
        if before is None or before[1] <= weight:
            style[name] = values, weight


SWAPS = (Swap(_Matcher, "match", _match, _quick_match), Swap(_css.StyleFor, "__init__", _styles, _quick_styles))
