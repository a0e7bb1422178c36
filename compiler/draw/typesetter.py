"""The layout engine (WeasyPrint 70) and the names of it that are used here, imported without what its import does for other uses.

It looks for system libraries under several names, for which Python runs compilers and linkers; on Linux its list holds the right
name too, so that the search is left out, and made after all when that fails. And it makes three network fetchers, each of which reads all
certificates of the system; nothing is ever fetched here, so they get none. Together 0.2 s of the processor in every process.
"""

from __future__ import annotations

import ctypes.util
import importlib
import logging
import ssl
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
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

from compiler.draw.quick_lines import SWAPS  # noqa: E402 - after the libraries are found
from compiler.draw.swapping import swap  # noqa: E402

swap(SWAPS)

from weasyprint import CSS, HTML  # noqa: E402
from weasyprint.css.properties import KNOWN_PROPERTIES as PROPERTIES  # noqa: E402
from weasyprint.draw.text import draw_first_line  # noqa: E402
from weasyprint.matrix import Matrix  # noqa: E402
from weasyprint.text.fonts import FontConfiguration  # noqa: E402
from weasyprint.text.line_break import split_first_line  # noqa: E402
from weasyprint.urls import URLFetcher, URLFetcherResponse  # noqa: E402

__all__ = [
    "CSS", "HTML", "PROPERTIES", "Complaints", "FontConfiguration", "Matrix", "URLFetcher", "URLFetcherResponse", "draw_first_line", "listening",
    "split_first_line",
]


@dataclass(slots=True)
class Complaints:
    """WeasyPrint's log, kept as (level, sentence), each sentence once."""

    said: dict[tuple[int, str], None] = field(default_factory=dict)


@contextmanager
def listening(complaints: Complaints) -> Iterator[None]:
    """Hear WeasyPrint's log instead of letting it print; nothing else of the process is touched."""
    logger = logging.getLogger("weasyprint")
    before = (logger.handlers[:], logger.propagate, logger.level)

    class Ear(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            complaints.said[record.levelno, record.getMessage()] = None

    logger.handlers[:] = [Ear(logging.WARNING)]
    logger.propagate = False
    logger.setLevel(logging.WARNING)
    try:
        yield
    finally:
        logger.handlers[:], logger.propagate = before[0], before[1]
        logger.setLevel(before[2])
