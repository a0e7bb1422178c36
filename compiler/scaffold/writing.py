"""A new plugin from a starter: its folder, whole or not there at all.

In: a name, a kind, the folder of a plan or of the shop (or any, for a package). Out: what was written, and what to do with it. The
starters are plugins themselves, in `shared/starters/plugins`, and pass their own tests. Nothing of an author's is run here.
"""

from __future__ import annotations

import contextlib
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from compiler.base.report import Findings, Outcome
from compiler.plug import load
from compiler.scaffold.consent import trust_line
from compiler.scaffold.naming import Names, read_name
from compiler.showing import as_typed

ROOT = Path(__file__).resolve().parents[2]
KINDS = ("joint", "task", "section", "export")

PROJECT = '''[build-system]
requires = ["hatchling"]
build-backend = "hatchling.build"

[project]
name = "kerfolio-sample-plugin"
version = "0.1"
description = "A plugin for Kerfolio: sample plugin"
readme = "README.md"
requires-python = ">=3.12"

# Kerfolio finds it by this entry; installing it is consent to run it.
[project.entry-points."kerfolio.plugins"]
sample_plugin = "kerfolio_sample_plugin"

[tool.hatch.build.targets.wheel]
packages = ["kerfolio_sample_plugin"]
exclude = ["test_*.py"]

[tool.pytest.ini_options]
addopts = ["--import-mode=importlib"]
'''


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A plugin that was written. `folder` holds its code, `test` is what pytest takes; `trust` is the line that lets it run.

    `trust` is "" when it may run as it is: shop.yaml trusts its folder, or it is a package.
    """

    names: Names
    kind: str
    folder: Path
    test: Path
    trust: str = ""
    settings: Path | None = None
    package: Path | None = None


def new_plugin(typed: str, kind: str, *, at: Path | None = None, package: bool = False, root: Path = ROOT) -> Outcome[Made]:
    """Write a plugin. `at` is the folder of a plan or of the shop (default: the shop's); for a package, where its folder goes."""
    found = Findings()
    if kind not in KINDS:
        found.error("unknown-kind", f"There is no starter for a `{kind}`.", None, f"The kinds are {', '.join(KINDS)}.")
        return Outcome(None, found.report())
    bundled = load(installed=False).value
    plugins = {author.plugin for author in bundled.plugins} if bundled else set()
    named = read_name(typed, kind, plugins, set(bundled.joint_words) if bundled else set())
    found.extend(named.report)
    home = _package_home(at, found) if package else _home(at, root, found)
    if named.value is None or home is None:
        return Outcome(None, found.report())
    names = named.value
    target = home / f"kerfolio-{names.hyphened}" if package else home / "plugins" / names.folder
    if target.exists():
        found.error("folder-exists", f"`{as_typed(target)}` is there already.", None, "Choose another name, or change that one.")
        return Outcome(None, found.report())
    try:
        _write(target, tuple(_files(names, kind, package, root)))
    except OSError as fault:
        found.error("cannot-write", f"`{as_typed(target)}` can't be made: {fault.strerror or fault}.")
        return Outcome(None, found.report())
    if package:
        code = target / f"kerfolio_{names.folder}"
        return Outcome(Made(names=names, kind=kind, folder=code, test=as_typed(target), package=as_typed(target)), found.report())
    settings, line = trust_line(home, names.folder)
    return Outcome(Made(names=names, kind=kind, folder=as_typed(target), test=as_typed(target), trust=line,
                        settings=as_typed(settings) if settings else None), found.report())


def told(made: Made) -> tuple[str, ...]:
    """What to do next, a line each."""
    lines = [f"{made.package or made.folder} is ready. Its code is in __init__.py; try its test:  python3 -m tests {made.test}"]
    if made.package is not None:
        lines.append(f"To install it:  .venv/bin/python -m pip install -e {made.package}  (installing it is consent to run it)")
    elif made.trust:
        lines.append("Code in this folder runs only when the shop trusts it. "
                     f"{'Write this line in' if made.settings and made.settings.is_file() else 'Make'} {made.settings}:  {made.trust}")
    if made.kind == "joint":
        lines.append(f"Then a plan may say:  - {{{made.names.words}: rail, into: post}}")
    return tuple(lines)


def _home(at: Path | None, root: Path, found: Findings) -> Path | None:
    """The folder whose `plugins` folder the plugin goes into."""
    home = at if at is not None else root / "projects"
    home = home.parent if home.name == "plugins" else home
    if not home.is_dir():
        found.error("no-folder", f"There is no folder {home}.", None, "Name a plan's folder, such as projects/low-bookcase, or the shop's, projects.")
        return None
    if not any((home / name).is_file() for name in ("design.yaml", "shop.yaml")):
        found.error("no-plan", f"`{home}` is neither a plan's folder nor the shop's: it has no design.yaml and no shop.yaml.", None,
                    "Plugins are found in a plan's own folder and beside shop.yaml; for one that others install, add --package.")
        return None
    return home


def _package_home(at: Path | None, found: Findings) -> Path | None:
    home = at if at is not None else Path()
    if not home.is_dir():
        found.error("no-folder", f"There is no folder {home}.", None, "Make it first, or leave --at out.")
        return None
    return home


def _files(names: Names, kind: str, package: bool, root: Path) -> Iterator[tuple[str, str]]:
    """Every file of the new folder: its path there and its text."""
    starter = root / "shared" / "starters" / "plugins" / kind
    inner = f"kerfolio_{names.folder}/" if package else ""
    for path in sorted(starter.iterdir()):
        if path.suffix in (".py", ".md"):
            place = "" if path.suffix == ".md" else inner
            yield f"{place}{names.put_into(path.name)}", names.put_into(path.read_text(encoding="utf-8"))
    if package:
        yield "pyproject.toml", names.put_into(PROJECT)


def _write(target: Path, files: tuple[tuple[str, str], ...]) -> None:
    """Beside, then renamed, so that half a plugin is never there."""
    made_parent = not target.parent.exists()
    target.parent.mkdir(exist_ok=True)
    try:
        with tempfile.TemporaryDirectory(dir=target.parent, prefix=".new-") as beside:
            whole = Path(beside) / target.name
            for name, text in files:
                path = whole / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_text(text, encoding="utf-8", newline="\n")
            whole.rename(target)
    except OSError:
        if made_parent:
            with contextlib.suppress(OSError):
                target.parent.rmdir()
        raise
