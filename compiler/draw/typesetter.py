"""The names of the layout engine (WeasyPrint 70) that are used here, and what it complains of."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from compiler.draw.engine import import_engine

import_engine()

from compiler.draw.quick_lines import SWAPS  # noqa: E402 - after the engine
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
