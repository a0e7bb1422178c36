"""Writing what was published: each file whole or not at all, and none touched that is right already.

In: sheets with their PDFs, a folder. Out: files, and a report of what could not be written.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from pathlib import Path

from compiler.base.report import Diagnostic, Report, Severity


def write_files(folder: Path, files: tuple[tuple[str, bytes], ...]) -> Report:
    """Every file, written beside its place first: nothing is replaced until all of them are there in full."""
    waiting: list[tuple[Path, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in files:
            path = folder / name
            if not _holds(path, content):
                beside = path.with_name(f".{path.name}.part-{os.getpid()}")
                waiting.append((beside, path))
                _write(beside, content)
        while waiting:
            os.replace(*waiting[0])
            waiting.pop(0)
    except OSError as fault:
        says = f"{folder} can't be written to: {fault.strerror or fault}."
        return Report((Diagnostic("cannot-write", says, None, "Make room or mend its permissions, or name another folder with --out."),))
    finally:
        for beside, _ in waiting:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)
    return Report()


def _write(beside: Path, content: bytes) -> None:
    """The whole content, on the disk itself before anything is renamed; what a killed run left beside it goes."""
    for left in beside.parent.glob(f"{beside.name.rpartition('-')[0]}-*"):
        if left != beside and not _runs(left.name.rpartition("-")[2]):
            left.unlink(missing_ok=True)
    with beside.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _runs(number: str) -> bool:
    """Whether a process of this number runs; True where that can't be told."""
    if os.name != "posix" or not number.isdigit():
        return True
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return False
    except OSError:
        pass
    return True


def _holds(path: Path, content: bytes) -> bool:
    with contextlib.suppress(OSError):
        return path.stat().st_size == len(content) and path.read_bytes() == content
    return False


def remove_files(folder: Path, files: tuple[tuple[str, str], ...]) -> None:
    """Remove files (name, digest of what was written) that nobody has changed since; any other stays."""
    for name, was in files:
        with contextlib.suppress(OSError):
            path = folder / name
            if hashlib.sha256(path.read_bytes()).hexdigest() == was:
                path.unlink()


def write_letters(folder: Path, text: str) -> Report:
    """letters.yaml keeps every letter that was ever given; a plan that can't keep it is warned of."""
    report = write_files(folder, (("letters.yaml", text.encode()),))
    if report.ok:
        return report
    says = report.diagnostics[0].says.replace(str(folder), "letters.yaml", 1)
    return Report((Diagnostic("cannot-write", says, None, "Letters may differ next time.", Severity.WARNING),))


def write_issue(folder: Path, files: tuple[tuple[str, bytes], ...]) -> Report:
    """The records of this issue, which a later issue is held against."""
    report = write_files(folder / "issues", files)
    if report.ok:
        return report
    return Report((Diagnostic("cannot-write", report.diagnostics[0].says, None, "The next issue can't say what changed.", Severity.WARNING),))
