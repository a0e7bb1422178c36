"""Ctrl-C, at any moment.

In: nothing. Out: KeyboardInterrupt, as ever, but not out of an import: libraries in C turn one that reaches them while they are read in into
errors of their own. Nothing is being written then, so the process ends at once.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

STOPPED = "Stopped. What was published before is as it was."


@contextmanager
def stoppable() -> Iterator[None]:
    """While this lasts Ctrl-C is heard so; only the main thread hears it."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, _stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def run_silently(work: Callable[[], object]) -> None:
    """Do the work in a process that builds for another one: when it is stopped, that one tells."""
    signal.signal(signal.SIGINT, _stop_silently)
    try:
        work()
    except KeyboardInterrupt:
        os._exit(1)


def _stop(number: int, frame: FrameType | None) -> None:
    if _importing(frame):
        show_the_cursor = "\r\x1b[K\x1b[?25h" if sys.stderr.isatty() else ""
        os.write(2, f"{show_the_cursor}{STOPPED}\n".encode())
        os._exit(1)
    raise KeyboardInterrupt


def _stop_silently(number: int, frame: FrameType | None) -> None:
    if _importing(frame):
        os._exit(1)
    raise KeyboardInterrupt


def _importing(frame: FrameType | None) -> bool:
    while frame is not None:
        if frame.f_code.co_filename.startswith("<frozen importlib"):
            return True
        frame = frame.f_back
    return False
