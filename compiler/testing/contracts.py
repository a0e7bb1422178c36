"""Contract tests: what must hold of any plugin, tried on one plan in both editions.

In: a plan's text, plugins. Out: sentences, none when all is well: the same twice, exact numbers only, no lists that can change,
nothing of this machine, values that can be kept, no clock and no chance in its imports.
"""

from __future__ import annotations

import ast
import dataclasses
import pickle
from collections.abc import Iterator
from enum import Enum
from fractions import Fraction
from pathlib import Path
from types import ModuleType
from typing import Any

from compiler.base.digests import digest
from compiler.base.report import Diagnostic
from compiler.base.showing import Units
from compiler.plug import load
from compiler.testing.plans import Plan, plan
from compiler.values.contributions import Plugin
from compiler.values.document import Figure, Photo, Section
from compiler.values.figure import Drawing

EDITIONS: tuple[Units, ...] = ("inch", "mm")

UNSTEADY = ("time", "datetime", "random", "secrets", "uuid", "os", "locale", "threading", "asyncio", "socket", "subprocess", "urllib", "http")
"""Modules whose answers change from run to run or from machine to machine."""


def faults(text: str, *plugins: Plugin | ModuleType) -> tuple[str, ...]:
    """Everything about the plugins that breaks the contract, on this plan. An error of the plan is a fault, too.

    A bundled plugin is there already and is judged where it stands. `differences` tells more, in processes of their own.
    """
    found: list[str] = []
    given = tuple(plugin for plugin in plugins if not _is_bundled(plugin))
    mine, names = _mine(plugins, given)
    for units in EDITIONS:
        first, again = plan(text, *given, units=units), plan(text, *reversed(given), units=units)
        found += [f"in the {units} edition: {fault.says}" for fault in first.outcome.report.errors if not _elsewhere(fault, names)]
        if first.outcome.value is not None and again.outcome.value is not None:
            found += _judge(first, again, mine, units)
    for plugin in plugins:
        if isinstance(plugin, ModuleType):
            found += _imports(plugin)
    return tuple(dict.fromkeys(found))


def _judge(first: Plan, again: Plan, mine: tuple[str, ...], units: Units) -> Iterator[str]:
    one, two = first.outcome.value, again.outcome.value
    assert one is not None
    assert two is not None
    products = [each for product in one.products for each in (product if isinstance(product, tuple) else (product,))]
    others = [each for product in two.products for each in (product if isinstance(product, tuple) else (product,))]
    seconds = {type(product).__qualname__: product for product in others}
    for product in products:
        name = type(product).__name__
        if not type(product).__module__.startswith(mine):
            continue
        for path, value in _inside(product, name):
            yield from _value(path, value)
        if len([each for each in products if type(each) is type(product)]) == 1:
            yield from _same(name, product, seconds.get(type(product).__qualname__))
    theirs = {section.name: section for _, section in two.sections}
    for _, section in one.sections:
        yield from _same(f"section '{section.name}' ({units})", section, theirs.get(section.name))
        for path, value in _inside(section, f"section '{section.name}'"):
            yield from _value(path, value)
    for (suffix, raw), (_, other) in zip(one.exports, two.exports, strict=False):
        if digest(raw) != digest(other):
            yield f"export {suffix} differs from run to run"
        if not isinstance(raw, bytes):
            for path, value in _inside(raw, f"export {suffix}"):
                yield from _value(path, value)
            continue
        for word in (str(Path.home()), str(Path.cwd())):
            if word.encode() in raw and len(word) > 1:
                yield f"export {suffix} names a folder of this machine"


def _same(name: str, one: object, two: object) -> Iterator[str]:
    try:
        if digest(one) != digest(two):
            yield f"{name} differs from run to run"
    except TypeError as problem:
        yield f"{name} can't be compared: {problem}"
    try:
        if pickle.loads(pickle.dumps(one)) != one:
            yield f"{name} is another value after it was kept"
    except Exception as problem:
        yield f"{name} can't be kept: {type(problem).__name__}: {problem}"


def _value(path: str, value: object) -> Iterator[str]:
    if isinstance(value, float):
        yield f"{path} is a float, {value!r}; a length is a Length, any other number an int or a Fraction"
    elif isinstance(value, (list, dict, set, bytearray)):
        yield f"{path} is a {type(value).__name__}, which can be changed; use a tuple"
    elif isinstance(value, str) and any(len(word) > 1 and word in value for word in (str(Path.home()), str(Path.cwd()))):
        yield f"{path} names a folder of this machine"


def _inside(value: Any, path: str) -> Iterator[tuple[str, object]]:
    """Every value in a value with the way to it. Drawings are of paper and may hold floats."""
    yield path, value
    if isinstance(value, (Drawing, Photo, str, bytes, int, float, Fraction, Enum, type(None))):
        return
    if isinstance(value, (tuple, list, set, frozenset)):
        for number, each in enumerate(value):
            yield from _inside(each, f"{path}[{number}]")
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _inside(each, f"{path}[{key!r}]")
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        if isinstance(value, Figure) and isinstance(value.drawing, Drawing):
            return
        for field in dataclasses.fields(value):
            yield from _inside(getattr(value, field.name, None), f"{path}.{field.name}" if not isinstance(value, Section) else path)


def _is_bundled(plugin: Plugin | ModuleType) -> bool:
    return isinstance(plugin, ModuleType) and plugin.__name__.startswith("plugins.")


def _mine(plugins: tuple[Plugin | ModuleType, ...], given: tuple[Plugin | ModuleType, ...]) -> tuple[tuple[str, ...], set[str]]:
    """The modules that the plugins' products are defined in, and the plugins' names."""
    loaded = load(installed=False, given=given).value
    assert loaded is not None
    modules = {entry.makes.__module__ for entry in loaded.tasks if entry.makes is not None and entry.author.found == "test"}
    bundled = {plugin.__name__ for plugin in plugins if isinstance(plugin, ModuleType) and _is_bundled(plugin)}
    names = {author.plugin for author in loaded.plugins if author.found == "test"} | {name.partition(".")[2] for name in bundled}
    return tuple(sorted(modules | bundled)), names


def _elsewhere(fault: Diagnostic, names: set[str]) -> bool:
    """True for the trouble of another plugin, which is not for these tests to tell."""
    return fault.code.startswith("plugin-") and fault.plugin not in names


def _imports(plugin: ModuleType) -> Iterator[str]:
    """Imports of what changes from run to run, in any file of the plugin."""
    if plugin.__file__ is None:
        return
    home = Path(plugin.__file__)
    for file in sorted(home.parent.rglob("*.py")) if home.name == "__init__.py" else [home]:
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                names, line = [alias.name for alias in node.names], node.lineno
            elif isinstance(node, ast.ImportFrom) and not node.level:
                names, line = [node.module or ""], node.lineno
            else:
                continue
            for name in names:
                if name.partition(".")[0] in UNSTEADY:
                    yield f"{file.name}:{line} imports {name}: what it tells changes from run to run"
