"""The layout engine (WeasyPrint 70) and the names of it that are used here, imported without what its import does for other uses.

It looks for system libraries under several names, for which Python runs compilers and linkers; on Linux its list holds the right
name too, so that the search is left out, and made after all when that fails. And it makes three network fetchers, each of which reads all
certificates of the system; nothing is ever fetched here, so they get none. Together 0.2 s of the processor in every process.
"""

from __future__ import annotations

import ctypes.util
import importlib
import ssl
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any


@contextmanager
def _without_searches() -> Iterator[None]:
    libraries: Any = ctypes.util
    connections: Any = ssl
    before = libraries.find_library, connections._create_default_https_context
    libraries.find_library = lambda name: None
    connections._create_default_https_context = lambda: ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    try:
        yield
    finally:
        libraries.find_library, connections._create_default_https_context = before


if sys.platform == "linux":
    with _without_searches(), suppress(OSError):
        importlib.import_module("weasyprint")

from weasyprint import CSS, HTML  # noqa: E402 - after the libraries are found
from weasyprint.draw.text import draw_first_line  # noqa: E402
from weasyprint.matrix import Matrix  # noqa: E402
from weasyprint.text.fonts import FontConfiguration  # noqa: E402
from weasyprint.text.line_break import split_first_line  # noqa: E402
from weasyprint.urls import URLFetcher, URLFetcherResponse  # noqa: E402

__all__ = ["CSS", "HTML", "FontConfiguration", "Matrix", "URLFetcher", "URLFetcherResponse", "draw_first_line", "split_first_line"]
