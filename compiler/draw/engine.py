"""The import of the layout engine (WeasyPrint 70) without what it does for other uses; 0.3 s of the processor less in every process.

* It looks for system libraries under several names, for which Python runs compilers and linkers. On Linux its list holds the right name too, so that
  the search is left out, and made after all when that fails.
* It makes three network fetchers, each of which reads all certificates of the system. Nothing is ever fetched here: they get none.
* It reads style sheets for forms and for HTML's own attributes of looks; our pages have neither.
* It imports the tools for variable fonts and for cutting fonts down without HarfBuzz: they come when they are asked for.
"""

from __future__ import annotations

import ctypes.util
import importlib
import importlib.util
import ssl
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from types import ModuleType
from typing import Any

import tinycss2  # type: ignore[import-untyped]

_UNUSED_SHEETS = ("html5_ua_form.css", "html5_ph.css")
_SUBSET = "fontTools.subset"
_INSTANCER = "fontTools.varLib.instancer"


def import_engine() -> None:
    """Import WeasyPrint. Raises OSError when its libraries are not there."""
    with suppress(OSError), ExitStack() as left_out:
        left_out.enter_context(_without_certificates())
        left_out.enter_context(_without_unused_sheets())
        left_out.enter_context(_without_variable_fonts())
        if sys.platform == "linux":
            left_out.enter_context(_instead(ctypes.util, "find_library", lambda name: None))
        importlib.import_module("weasyprint")
    importlib.import_module("weasyprint")


@contextmanager
def _instead(owner: Any, name: str, new: Any) -> Iterator[None]:
    before = getattr(owner, name)
    setattr(owner, name, new)
    try:
        yield
    finally:
        setattr(owner, name, before)


def _without_certificates() -> Any:
    return _instead(ssl, "_create_default_https_context", lambda: ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT))


def _without_unused_sheets() -> Any:
    found = importlib.util.find_spec("weasyprint")
    homes = found.submodule_search_locations if found else None
    unused = {(Path(home) / "css" / name).read_text(encoding="utf-8") for home in homes or () for name in _UNUSED_SHEETS}
    parse: Callable[..., Any] = tinycss2.parse_stylesheet
    return _instead(tinycss2, "parse_stylesheet", lambda text, *more, **named: [] if text in unused else parse(text, *more, **named))


@contextmanager
def _without_variable_fonts() -> Iterator[None]:
    subset, instancer = ModuleType(_SUBSET), ModuleType(_INSTANCER)
    with _standing_in(subset), _standing_in(instancer):
        subset.__dict__["__getattr__"] = lambda name: getattr(importlib.import_module(_SUBSET), name)
        instancer.__dict__["instantiateVariableFont"] = lambda *given, **named: importlib.import_module(_INSTANCER).instantiateVariableFont(*given, **named)
        yield


@contextmanager
def _standing_in(module: ModuleType) -> Iterator[None]:
    """For a while this is what an import of its name gives; unless the real one is there."""
    if module.__name__ in sys.modules:
        yield
        return
    sys.modules[module.__name__] = module
    try:
        yield
    finally:
        del sys.modules[module.__name__]
