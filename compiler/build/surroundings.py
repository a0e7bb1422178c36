"""What all plans of one run share, read once: library, plugins' code, the compiler's own code, versions of what can change a byte.

In: where everything lies. Out: texts and digests. One reading serves a whole run, so that a file replaced while it lasts changes either
everything or nothing.
"""

from __future__ import annotations

import contextlib
import hashlib
import sys
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from compiler import __version__
from compiler.base.digests import digest
from compiler.base.report import Outcome
from compiler.build.wishes import ROOT, Workshop
from compiler.plug.finding import find
from compiler.plug.importing import of_a_plugin
from compiler.stages.read import read_library
from compiler.store.deciding import Ingredients
from compiler.store.memo import Store
from compiler.values.source import Library

LIBRARIES = ("weasyprint", "pydyf", "manifold3d", "shapely", "numpy", "jinja2", "packingsolver", "pillow", "fonttools", "markdown-it-py", "segno")
"""The packages whose version can change a byte of an output."""


@dataclass(slots=True)
class Surroundings:
    """What is the same for every plan of a run."""

    workshop: Workshop
    store: Store
    _library: Outcome[Library] | None = None
    _plugins: dict[Path, Ingredients] = field(default_factory=dict)
    _files: dict[str, str | None] = field(default_factory=dict)

    @property
    def library(self) -> Outcome[Library]:
        """The library's texts."""
        if self._library is None:
            self._library = read_library(self.workshop.library)
        return self._library

    def plugins(self, folder: Path) -> Ingredients:
        """The code of every plugin that may take part in the plan of this folder."""
        for home, where in ((ROOT, None), (folder.parent, folder.parent)):
            if home not in self._plugins:
                self._plugins[home] = plugin_code(self.workshop, shop=where, plan=None, every=where is None)
        return self._plugins[ROOT] + self._plugins[folder.parent] + plugin_code(self.workshop, shop=None, plan=folder)

    def file(self, place: str) -> str | None:
        """The digest of a theme's file as it was when this run first looked; None when it isn't there."""
        if place not in self._files:
            found = None
            with contextlib.suppress(OSError):
                found = hashlib.sha256(Path(place).read_bytes()).hexdigest()
            self._files[place] = found
        return self._files[place]


def surroundings(workshop: Workshop) -> Surroundings:
    """For one run."""
    return Surroundings(workshop, Store(workshop.store, lambda module: module.startswith(("compiler.", "plugins.")) or of_a_plugin(module)))


def plugin_code(workshop: Workshop, *, shop: Path | None, plan: Path | None, every: bool = False) -> Ingredients:
    """(plugin, digest of its code): those of a shop's folder, a plan's, or of everybody."""
    found = find(bundled=workshop.plugins if every else None, installed=every and workshop.installed, shop=shop, plan=plan)
    return tuple((f"plugin {candidate.name}", candidate.digest) for candidate in found)


@cache
def code() -> str:
    """The digest of the compiler's own code: another compiler makes everything again."""
    whole = hashlib.sha256(__version__.encode())
    for path in sorted((ROOT / "compiler").rglob("*")):
        if path.suffix in (".py", ".lark") and "__pycache__" not in path.parts:
            whole.update(path.relative_to(ROOT).as_posix().encode() + b"\0" + path.read_bytes())
    return whole.hexdigest()


@cache
def versions() -> tuple[tuple[str, str], ...]:
    """The program, Python, the packages and the text engine that can change a byte."""
    from importlib.metadata import version

    named = _installed()
    found = [("kerfolio", __version__), ("python", ".".join(map(str, sys.version_info[:3])))]
    for name in LIBRARIES:
        with contextlib.suppress(Exception):
            found.append((name, named.get(name.replace("-", "_")) or version(name)))
    return (*found, ("pango", _pango()))


def _installed() -> dict[str, str]:
    """Versions by the names of the packages' folders: one listing, where asking for each reads its whole description."""
    found: dict[str, str] = {}
    for place in reversed(sys.path):
        with contextlib.suppress(OSError):
            for entry in Path(place or ".").glob("*.dist-info"):
                name, _, number = entry.name.removesuffix(".dist-info").partition("-")
                found[name.lower()] = number
    return found


def tools() -> Ingredients:
    """Code and versions as ingredients."""
    return (("the compiler's code", code()), ("versions of its tools", digest(versions())))


def _pango() -> str:
    """The version of the text engine, which no package names; it breaks the lines."""
    import ctypes

    for name in ("libpango-1.0.so.0", "libpango-1.0.0.dylib", "libpango-1.0-0.dll"):
        with contextlib.suppress(OSError, AttributeError):
            number = int(ctypes.CDLL(name).pango_version())
            return f"{number // 10000}.{number // 100 % 100}.{number % 100}"
    return "unknown"
