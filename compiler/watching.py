"""Rebuilding on save.

In: a plan's folder. Out: diagnostics at once, then the PDF, after every change of what the plan is made from. Files are looked at, not
listened to, so that it works on any disk. Each round runs in a process of its own, so that changed plugins are read anew.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from compiler import build
from compiler.preparing import forget, prepare
from compiler.stopping import run_silently

LOOK = 0.05
"""Seconds between looks."""
BURST = 0.1
"""A burst of saves is over when nothing changed for so many seconds."""

Seen = dict[str, tuple[int, int, int]]


def look(folder: Path, workshop: build.Workshop = build.BUNDLED) -> Seen:
    """Every file that the plan may be made from: its inode, time of change and size."""
    found: Seen = {}
    homes = [folder, folder.parent / "themes", folder.parent / "plugins", workshop.library, workshop.themes, workshop.plugins]
    alone = [folder.parent / name for name in ("shop.yaml", "mark.svg", "mark.png")]
    for path in (*(file for home in homes if home for file in _files(home, home == folder)), *map(str, alone)):
        try:
            state = os.stat(path)
        except OSError:
            continue
        found[path] = (state.st_ino, state.st_mtime_ns, state.st_size)
    return found


def _files(home: Path, plan: bool) -> Iterator[str]:
    """The files below a folder, without hidden ones and without what publishing writes itself."""
    own = ("out", "issues") if plan else ()
    for place, folders, files in os.walk(home):
        top = place == str(home)
        folders[:] = [name for name in folders if name[0] != "." and name != "__pycache__" and not (top and name in own)]
        yield from (os.path.join(place, name) for name in files if name[0] != "." and not (plan and top and name == "letters.yaml"))


def watch(
    folder: Path,
    work: Callable[[], None],
    *,
    workshop: build.Workshop = build.BUNDLED,
    rounds: int | None = None,
    told: Callable[[str], None] = lambda text: None,
) -> None:
    """Do the work now and after each burst of changes, until interrupted (or for so many rounds). `told` hears which files changed."""
    prepare(workshop.plugins, workshop.themes)
    before = look(folder, workshop)
    _apart(work)
    done = 1
    while rounds is None or done < rounds:
        time.sleep(LOOK)
        now = look(folder, workshop)
        if now == before:
            continue
        told(", ".join(sorted({Path(path).name for path, state in (now.items() ^ before.items())})))
        while True:
            time.sleep(BURST)
            later = look(folder, workshop)
            if later == now:
                break
            now = later
        if workshop.plugins and any(path.startswith(str(workshop.plugins)) for path, _ in now.items() ^ before.items()):
            forget()
        before = now
        _apart(work)
        done += 1


def _apart(work: Callable[[], Any]) -> None:
    """Run the work in a process of its own where that is cheap; in this one elsewhere."""
    if sys.platform != "linux":
        work()
        return
    process = multiprocessing.get_context("fork").Process(target=run_silently, args=(work,))
    process.start()
    try:
        process.join()
    except KeyboardInterrupt:
        process.join(5)
        raise
