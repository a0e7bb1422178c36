"""The whole back list: every plan of a shop, published by a few processes at once.

In: plans' folders and wishes. Out: a result per plan, in the order of the folders. A plan of which nothing has changed costs a look at its files; any
other is made in a process of its own, which gives back its memory when it ends and takes nobody along when it dies.
"""

from __future__ import annotations

import multiprocessing
import os
import re
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from multiprocessing.connection import Connection, wait
from pathlib import Path
from typing import Any

from compiler.base.report import Findings, Report
from compiler.build import (
    Published,
    PublishedEdition,
    Surroundings,
    Wishes,
    Workshop,
    make,
    publish,
    surroundings,
    unchanged,
)
from compiler.preparing import prepare
from compiler.stopping import run_silently

Show = Callable[[Path, str], None]
"""Told of every plan what is being done with it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What became of a plan. `told` is the text of its diagnostics; `made` is False when all of it stood there already.

    `section` is its part of the report of changes, `how_much` its weight in it, `sentences` the change list.
    """

    folder: Path
    ok: bool
    made: bool = True
    told: str = ""
    editions: tuple[PublishedEdition, ...] = ()
    account: tuple[str, ...] = ()
    section: str = ""
    how_much: float = 0.0
    sentences: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What is to be done with every plan: publish it, or only hold it against what is published (`dry`); `compare` makes its part of the report.

    `pictured` are the pages of a plan that the report shows: it is held in memory.
    """

    wishes: Wishes = Wishes()
    out: Path | None = None
    dry: bool = False
    compare: bool = False
    pictured: int = 24
    workshop: Workshop = Workshop()


def plans_in(home: Path) -> tuple[Path, ...]:
    """The folders that hold a design, in the order of their names."""
    return tuple(sorted(path.parent for path in home.glob("*/design.yaml")))


def clashes(folders: Iterable[Path], out: Path | None) -> Report:
    """Errors for plans that would be mixed up: two with one number, or two that would be written to one file."""
    found = Findings()
    numbers: dict[str, Path] = {}
    stems: dict[str, Path] = {}
    for folder in folders:
        try:
            text = (folder / "design.yaml").read_text(encoding="utf-8", errors="replace")
        except OSError:
            continue
        match = re.search(r"(?m)^number:[ ]*([^#\n]*?)[ ]*(?:#.*)?$", text[:1_000_000])
        number = match[1].strip("\"'") if match else ""
        other = numbers.setdefault(number, folder) if number else folder
        if other != folder:
            found.error("number-taken", f"`{other}` and `{folder}` both have the number {number}.", None,
                        "Give one of them another: buyers and records know a plan by its number.")
        twin = stems.setdefault(folder.resolve().name, folder) if out is not None else folder
        if twin != folder:
            found.error("same-file", f"`{twin}` and `{folder}` would both be written to {out / folder.resolve().name}.pdf.",  # type: ignore[operator]
                        None, "Publish them into different folders.")
    return found.report()


def run(folders: tuple[Path, ...], order: Order, *, workers: int = 0, show: Show = lambda folder, text: None) -> tuple[Result, ...]:
    """Do it for every plan, at most `workers` at once (0 = one for each processor)."""
    around = surroundings(order.workshop)
    results: dict[Path, Result] = {}
    waiting: list[Path] = []
    for folder in folders:
        done = None if order.compare else unchanged(folder, order.wishes, out=order.out, around=around, dry=order.dry)
        if done is None:
            waiting.append(folder)
        else:
            results[folder] = _result(folder, done)
            show(folder, "as it was")
    if waiting:
        results |= _Crew(order, around, show, workers or _processors()).work(waiting)
        around.store.prune()
    return tuple(results[folder] for folder in folders)


def _processors() -> int:
    return min(len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1, 8)


@dataclass(slots=True)
class _Crew:
    """Processes at work, each on one plan."""

    order: Order
    around: Surroundings
    show: Show
    size: int
    working: dict[Connection, tuple[Path, Any]] = field(default_factory=dict)

    def work(self, waiting: list[Path]) -> dict[Path, Result]:
        """Every plan's result. Processes that still run when this is interrupted are ended."""
        results: dict[Path, Result] = {}
        queue = list(reversed(waiting))
        if sys.platform == "linux" and len(waiting) > 1:
            prepare(self.around.workshop.plugins, self.around.workshop.themes)
        try:
            while queue or self.working:
                while queue and len(self.working) < self.size:
                    self._start(queue.pop())
                for ready in wait(list(self.working)):
                    assert isinstance(ready, Connection)
                    result = self._hear(ready)
                    if result is not None:
                        results[result.folder] = result
        finally:
            for _, process in self.working.values():
                process.terminate()
        return results

    def _start(self, folder: Path) -> None:
        # A fork shares what is read already; elsewhere a fresh process reads it again.
        context = multiprocessing.get_context("fork" if sys.platform == "linux" else "spawn")
        mine, theirs = context.Pipe(duplex=False)
        process = context.Process(target=_work, args=(theirs, folder, self.order))  # type: ignore[attr-defined]
        process.start()
        theirs.close()
        self.working[mine] = (folder, process)
        self.show(folder, "begun")

    def _hear(self, ready: Connection) -> Result | None:
        folder, process = self.working[ready]
        try:
            heard = ready.recv()
        except (EOFError, OSError):
            heard = None
        if isinstance(heard, str):
            self.show(folder, heard)
            return None
        del self.working[ready]
        ready.close()
        process.join()
        if isinstance(heard, Result):
            self.show(folder, "done" if heard.ok else "failed")
            return heard
        self.show(folder, "failed")
        says = f"error: {folder}: its process ended before it was done (exit {process.exitcode}). [process-ended]\n  → Is there enough memory?"
        return Result(folder=folder, ok=False, told=says)


def _work(pipe: Connection, folder: Path, order: Order) -> None:
    """In a process of its own: make one plan, and tell."""
    run_silently(lambda: _made(pipe, folder, order))


def _made(pipe: Connection, folder: Path, order: Order) -> None:
    try:
        pipe.send(one(folder, order, pipe.send, prune=False))
    except Exception as fault:
        import traceback

        where = traceback.extract_tb(fault.__traceback__)[-1]
        says = f"error: Kerfolio itself failed with {folder} ({type(fault).__name__}: {fault}, {Path(where.filename).name}:{where.lineno})."
        pipe.send(Result(folder=folder, ok=False, told=says))
    pipe.close()


def one(folder: Path, order: Order, progress: Callable[[str], None] = lambda text: None, *, prune: bool = True) -> Result:
    """One plan, made here."""
    parts: tuple[str, float, tuple[str, ...]] = ("", 0.0, ())
    if order.compare:
        report, parts = _compared(folder, order, progress)
        if not report.ok:
            return Result(folder=folder, ok=False, told=_told(report, folder))
    done = publish(folder, order.wishes, out=order.out, progress=progress, workshop=order.workshop, dry=order.dry, prune=prune)
    result = _result(folder, done)
    return replace(result, section=parts[0], how_much=parts[1], sentences=parts[2])


def _compared(folder: Path, order: Order, progress: Callable[[str], None]) -> tuple[Report, tuple[str, float, tuple[str, ...]]]:
    """The plan's part of the report: what is about to be published against what lies there."""
    from compiler.build.comparing import Printed, compared, printed
    from compiler.compare.report import section

    _, finished = make(folder, order.wishes, order.workshop, progress)
    report, sections, how_much, sentences = finished.report, "", 0.0, []
    target = order.out if order.out is not None else folder / "out"
    for each, content in zip(finished.sheets, finished.contents, strict=True) if report.ok else ():
        progress(f"{each.name}: comparing")
        outcome = compared(f"{folder.name}, {each.name}", printed(target / f"{each.stem}.pdf"), Printed("the new edition", content, each.record),
                           order.pictured)
        report += outcome.report
        if outcome.value is not None:
            sections += section(outcome.value)
            how_much += outcome.value.how_much
            sentences += [f"{outcome.value.plan}: {sentence}" for sentence in outcome.value.sentences]
    return report, (sections, how_much, tuple(sentences))


def _result(folder: Path, done: Published) -> Result:
    from compiler.showing import text_of

    made = any(each.touched for each in done.editions)
    return Result(folder=folder, ok=done.report.ok, made=made, told=text_of(done.report, done.place), editions=done.editions, account=done.account)


def _told(report: Report, folder: Path) -> str:
    from compiler.showing import Place, text_of

    return text_of(report, Place(folder))
