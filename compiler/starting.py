"""A new plan from a starter, or from a plan that exists; a new theme of the shop's own.

In: a folder name and a starter. Out: a new folder under projects/, whole or not there at all. Its title, number and date are
its own; letters given to another plan's parts are not taken along.
"""

from __future__ import annotations

import difflib
import re
import shutil
import tempfile
import tomllib
from datetime import date
from pathlib import Path

from compiler.base.report import Findings, Outcome
from compiler.showing import as_typed

ROOT = Path(__file__).resolve().parents[1]
NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*$")
LEFT_BEHIND = shutil.ignore_patterns("out", "letters.yaml", "__pycache__", ".*")


def new_plan(name: str, starter: str, root: Path = ROOT) -> Outcome[Path]:
    """The new plan's folder, as it should be typed from here."""
    found = Findings()
    name = name.removeprefix("projects/").rstrip("/")
    if NAME.match(name) is None:
        found.error(
            "bad-name", f"`{name}` can't be a plan's folder name.", None, "Use lower-case words with hyphens: hall-table."
        )
    target = root / "projects" / name
    if target.exists():
        found.error("plan-exists", f"There is a plan called `{name}` already.", None, "Choose another name, or change that one.")
    source = _starter(starter, root)
    if source is None:
        known = sorted(path.parent.name for path in (root / "shared" / "starters").glob("*/design.yaml"))
        close = difflib.get_close_matches(starter, known, 1)
        hint = f"Did you mean {close[0]}?" if close else f"The starters are {', '.join(known)}; a plan of yours is named by its folder."
        found.error("unknown-starter", f"There is no starter called `{starter}`.", None, hint)
    if not found.report().ok or source is None:
        return Outcome(None, found.report())
    try:
        _make(source, target, name, root)
    except OSError as fault:
        found.error("cannot-write", f"`{as_typed(target)}` can't be made: {fault.strerror or fault}.")
        return Outcome(None, found.report())
    return Outcome(as_typed(target), found.report())


def _starter(name: str, root: Path) -> Path | None:
    for folder in (root / "shared" / "starters" / name, root / "projects" / name.removeprefix("projects/").rstrip("/")):
        if re.fullmatch(r"[a-z0-9/-]+", name) and (folder / "design.yaml").is_file():
            return folder
    return None


def _make(source: Path, target: Path, name: str, root: Path) -> None:
    """Copy beside, then rename, so that half a plan is never there."""
    with tempfile.TemporaryDirectory(dir=target.parent, prefix=".new-") as beside:
        made = Path(beside) / name
        shutil.copytree(source, made, ignore=LEFT_BEHIND)
        design = made / "design.yaml"
        title = name.replace("-", " ").capitalize()
        text = design.read_text(encoding="utf-8")
        fresh = {"plan": title, "number": str(_next_number(root)), "issue": "1", "date": date.today().isoformat()}
        for key, value in fresh.items():
            text = re.sub(rf"^{key}:.*$", f"{key}: {value}", text, count=1, flags=re.MULTILINE)
        design.write_text(text, encoding="utf-8")
        notes = made / "notes.md"
        if notes.is_file():
            words = notes.read_text(encoding="utf-8")
            notes.write_text(re.sub(r"^# .*$", f"# {title}", words, count=1, flags=re.MULTILINE), encoding="utf-8")
        made.rename(target)


def _next_number(root: Path) -> int:
    """One more than the highest number of any plan."""
    numbers = [0]
    for design in (root / "projects").glob("*/design.yaml"):
        found = re.search(r"^number:\s*(\d+)", design.read_text(encoding="utf-8", errors="replace"), re.MULTILINE)
        if found:
            numbers.append(int(found.group(1)))
    return max(numbers) + 1


def new_theme(name: str, root: Path = ROOT) -> Outcome[Path]:
    """A child of the standard theme in the shop's folder, which changes nothing yet: its options stand there to be set. Gives its folder, as typed from here."""
    found = Findings()
    if NAME.match(name) is None:
        found.error("bad-name", f"`{name}` can't be a theme's folder name.", None, "Use lower-case words with hyphens: our-shop.")
    target = root / "projects" / "themes" / name
    if target.exists() or (root / "themes" / name).exists():
        found.error("theme-exists", f"There is a theme called `{name}` already.", None, "Choose another name, or change that one.")
    if not found.report().ok:
        return Outcome(None, found.report())
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=target.parent, prefix=".new-") as beside:
            made = Path(beside) / name
            made.mkdir()
            (made / "theme.toml").write_text(_theme_text(name, root), encoding="utf-8")
            made.rename(target)
    except OSError as fault:
        found.error("cannot-write", f"`{as_typed(target)}` can't be made: {fault.strerror or fault}.")
        return Outcome(None, found.report())
    return Outcome(as_typed(target), found.report())


def _theme_text(name: str, root: Path) -> str:
    """What a child says: every option of its parent, with what it is for, as lines to be uncommented."""
    with (root / "themes" / "standard" / "theme.toml").open("rb") as file:
        options = tomllib.load(file).get("options", {})
    lines = [
        f"# The face of {name.replace('-', ' ')}: what is not said here is as in the standard theme. To wear it: theme: {name}",
        "# in shop.yaml, for every plan, or in one plan's design.yaml. A file with the path of one of themes/standard takes its place.",
        f'name = "{name}"', "contract = 1", f'says = "The standard theme, as {name.replace("-", " ")} wears it"', 'parent = "standard"', "",
        "# Take the # off a line to change it.", "[set]",
    ]
    for option, about in options.items():
        value = about.get("default")
        written = f'"{value}"' if isinstance(value, str) else str(value).lower()
        lines.append(f"# {option} = {written}  # {about.get('says', '')}".rstrip(" #"))
    return "\n".join(lines) + "\n"
