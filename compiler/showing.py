"""What the command line prints: diagnostics with their place, and progress where someone watches.

In: reports and where their places are found. Out: text on the terminal. Diagnostics go to standard error, plain; progress is
shown only on a terminal, and leaves nothing behind.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from compiler.base.report import Diagnostic, Report, Spot
from compiler.values.draft import Draft
from compiler.values.source import Library

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a plan's diagnostics point: its folder as it was typed, its tree and the library's texts, as far as they were read."""

    folder: Path
    draft: Draft | None = None
    library: Library | None = None


def tell(report: Report, place: Place | None) -> None:
    """Print every diagnostic, the errors first."""
    text = text_of(report, place)
    if text:
        print(text + "\n", file=sys.stderr, flush=True)


def text_of(report: Report, place: Place | None) -> str:
    """Every diagnostic as it is printed, the errors first; empty when there is none."""
    if not report:
        return ""
    from compiler.language.excerpts import show_report

    draft = place.draft if place else None
    library = place.library if place else None
    text = show_report(report, draft, library)
    if place is not None:
        text = _with_folder(text, place)
    return text


def _with_folder(text: str, place: Place) -> str:
    """Places named from where the command was typed, so that an editor can open them."""
    lines = []
    for line in text.split("\n"):
        bare = line.strip()
        also = "see also " if bare.startswith("see also ") else ""
        file = bare.removeprefix(also)
        if line.startswith("  ") and file.split(":")[0] in ("design.yaml", "notes.md", "letters.yaml"):
            line = f"  {also}{place.folder}/{file}"
        elif line.startswith("  ") and file.split(":")[0] == "shop.yaml":
            line = f"  {also}{place.folder.parent}/{file}"
        elif line.startswith(("  plugins/", "  see also plugins/", "  themes/", "  see also themes/")):
            line = f"  {also}{_home_of(file, place)}{file}"
        lines.append(line)
    return "\n".join(lines)


def _home_of(place_in_file: str, place: Place) -> str:
    """The folder that holds a plugin's or a theme's file, for the plan's own and the shop's; "" for those of the checkout."""
    file = place_in_file.split(":")[0]
    return next((f"{home.as_posix()}/" for home in (place.folder, place.folder.parent) if (home / file).is_file()), "")


@contextmanager
def progress(title: str) -> Iterator[Progress]:
    """A line that says what is being done, on a terminal; silence elsewhere."""
    if not sys.stderr.isatty():
        yield lambda text: None
        return
    from rich.console import Console

    console = Console(stderr=True)
    with console.status(title, spinner="line") as status:
        yield lambda text: status.update(f"{title}: {text}")


@contextmanager
def table(number: int) -> Iterator[Callable[[Path, str], None]]:
    """A line a plan at work and a bar of all, on a terminal; a line per plan that is done elsewhere, on standard error."""
    if not sys.stderr.isatty():
        yield lambda folder, text: print(f"{folder}: {text}", file=sys.stderr) if text in ("done", "failed") else None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, Task, TextColumn
    from rich.text import Text

    class Bar(BarColumn):
        """Of all plans; one plan has none."""

        def render(self, task: Task) -> Any:
            return Text() if task.total is None else super().render(task)

    # Without a thread of its own: the plans' processes are forked from this one.
    bar = Progress(TextColumn("{task.description}"), Bar(), console=Console(stderr=True), auto_refresh=False, transient=True)
    with bar:
        whole = bar.add_task(f"0 of {number} plans", total=number)
        at_work: dict[Path, Any] = {}
        ended: list[str] = []

        def show(folder: Path, text: str) -> None:
            if text in ("done", "failed", "as it was"):
                ended.append(text)
                failed = ended.count("failed")
                bar.update(whole, advance=1, description=f"{len(ended)} of {number} plans{f', {failed} failed' if failed else ''}")
                if folder in at_work:
                    bar.remove_task(at_work.pop(folder))
            elif folder in at_work:
                bar.update(at_work[folder], description=f"  {folder.name}: {text}")
            else:
                at_work[folder] = bar.add_task(f"  {folder.name}: {text}", total=None)
            bar.refresh()

        yield show


def labelled(report: Report, edition: str) -> Report:
    """The report with the edition's name on every diagnostic."""
    return Report(tuple(replace(each, edition=each.edition or edition) for each in report.diagnostics))


def fresh(report: Report, told: Report) -> Report:
    """The diagnostics that were not told before, whatever edition they were told for."""
    known = {_bare(each) for each in told.diagnostics}
    return Report(tuple(each for each in report.diagnostics if _bare(each) not in known))


def _bare(diagnostic: Diagnostic) -> tuple[str, Spot | None, str]:
    return diagnostic.code, diagnostic.at, diagnostic.says


def as_typed(path: Path) -> Path:
    """A path as it should be typed from the folder that the shell stands in."""
    shown = Path(os.path.relpath(path))
    return path if shown.parts[:1] == ("..",) else shown
