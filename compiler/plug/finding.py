"""Where plugins are: folders and installed packages, in one order, without importing any.

In: the folders to look in. Out: candidates, each with the digest of its code. Order: bundled, installed (entry
points of the group `kerfolio.plugins`), the shop's `plugins/`, the plan's `plugins/`; by name within each. The
order is that of messages only: no plugin replaces another.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import Literal

GROUP = "kerfolio.plugins"
Found = Literal["bundled", "installed", "shop", "plan"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A plugin that could be imported: its name, its folder, the digest of its code, and `trust`, the words
    that shop settings trust it by (`trestle-bench/loose_key`). `module` is the import name of an installed one.
    """

    name: str
    folder: Path
    digest: str
    found: Found
    trust: str = ""
    module: str = ""


def find(*, bundled: Path | None = None, installed: bool = True, shop: Path | None = None,
         plan: Path | None = None) -> tuple[Candidate, ...]:
    """All candidates. `shop` and `plan` are the folders that may hold a folder `plugins`."""
    found: list[Candidate] = []
    if bundled is not None:
        found += _folders(bundled, "bundled", "")
    if installed:
        found += _entry_points()
    if shop is not None:
        found += _folders(shop / "plugins", "shop", "plugins")
    if plan is not None and plan != shop:
        found += _folders(plan / "plugins", "plan", plan.name)
    return tuple(found)


def folder_digest(folder: Path) -> str:
    """SHA-256 over the names and bytes of a folder's files; caches and hidden files don't count."""
    whole = hashlib.sha256()
    for file in sorted(_files(folder), key=lambda file: file.relative_to(folder).as_posix()):
        raw = file.read_bytes()
        whole.update(f"{file.relative_to(folder).as_posix()}\0{len(raw)}\0".encode())
        whole.update(raw)
    return whole.hexdigest()


def _files(folder: Path) -> list[Path]:
    files: list[Path] = []
    for entry in folder.iterdir():
        if entry.name.startswith(".") or entry.name == "__pycache__":
            continue
        if entry.is_dir():
            files += _files(entry)
        else:
            files.append(entry)
    return files


def _folders(home: Path, found: Found, trust: str) -> list[Candidate]:
    if not home.is_dir():
        return []
    return [
        Candidate(name=folder.name, folder=folder.resolve(), digest=folder_digest(folder), found=found,
                  trust=f"{trust}/{folder.name}" if trust else "")
        for folder in sorted(home.iterdir())
        if (folder / "__init__.py").is_file()
    ]


def _entry_points() -> list[Candidate]:
    found = []
    for entry in sorted(metadata.entry_points(group=GROUP), key=lambda entry: (entry.name, entry.value)):
        folder = _installed_folder(entry)
        found.append(Candidate(name=entry.name, folder=folder, digest=folder_digest(folder) if folder.is_dir() else "",
                               found="installed", module=entry.module))
    return found


def _installed_folder(entry: metadata.EntryPoint) -> Path:
    """Where an installed plugin's package stands, told without importing it."""
    parts = entry.module.split(".")
    if entry.dist is not None:
        place = Path(str(entry.dist.locate_file("/".join(parts))))
        return place if place.is_dir() else place.parent / f"{parts[-1]}.py"
    return Path(*parts)
