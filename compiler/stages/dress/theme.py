"""A theme folder → Theme: parent and child joined, every file's reading recorded, every fault named.

In: a theme's name or folder, and the folders in which to look. Out: Outcome[Theme]. A child beats its parent file by
file; whatever it holds must override something or be named in its theme.toml. It must not know documents or pages.
"""

from __future__ import annotations

import difflib
import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from compiler.base.report import Findings, Outcome, Spot
from compiler.draw.pens import styled
from compiler.stages.dress.manifest import read_manifest
from compiler.stages.dress.options import declare, set_options
from compiler.values.theme import FontFace, Option, Read, Theme

BLOCK_TEMPLATES = (
    "paragraph", "heading", "item_list", "table", "facts", "figure", "cells", "photo", "signal", "check", "note", "write",
    "step", "cover", "contents", "columns", "words", "key_table", "code_mark", "new_page",
)
FRAME_TEMPLATES = ("document", "section")
TEMPLATES = tuple(f"templates/{name}.html" for name in (*FRAME_TEMPLATES, *BLOCK_TEMPLATES))
PAPERS = ("letter", "a4")
LARGEST = 20_000_000
NOT_OURS = (".md", ".txt")


@dataclass(slots=True)
class _Folder:
    """One theme of the chain: its folder, what theme.toml says, its own files."""

    name: str
    place: Path
    says: dict[str, Any]
    own: frozenset[str]

    @property
    def spot(self) -> Spot:
        return Spot(f"themes/{self.name}/theme.toml")

    def named(self) -> tuple[str, ...]:
        """Files that theme.toml names, in order."""
        fonts = [str(face.get("file", "")) for face in _rows(self.says.get("fonts"))]
        papers = _table(self.says.get("papers")).values()
        return tuple(str(name) for name in (*_texts(self.says.get("styles")), *_texts(self.says.get("pictures")), *papers,
                                            *fonts))


@dataclass(slots=True)
class _Reader:
    """Opens theme files and keeps a record of every look, misses too."""

    found: Findings
    reads: list[Read] = field(default_factory=list)

    def look(self, place: Path) -> bytes | None:
        """The file's bytes; None when it is not there, can't be read or is too large."""
        try:
            if place.stat().st_size > LARGEST:
                self.found.error("theme-file-too-large", f"{place.name} has more than {LARGEST // 1_000_000} MB",
                                 hint="A theme's fonts and pictures are small; a photograph belongs to a plan.")
                return None
            content = place.read_bytes()
        except FileNotFoundError:
            self.reads.append(Read(str(place), None))
            return None
        except OSError as fault:
            self.reads.append(Read(str(place), None))
            self.found.error("theme-unreadable", f"{place.name} can't be read: {fault.strerror or fault}")
            return None
        self.reads.append(Read(str(place), hashlib.sha256(content).hexdigest()))
        return content


def load_theme(name_or_folder: str | Path, search_folders: Sequence[Path]) -> Outcome[Theme]:
    """The theme with its parents joined. Any error leaves no theme; `reads` holds what was looked for."""
    found = Findings()
    reader = _Reader(found)
    chain = _chain(name_or_folder, search_folders, reader)
    if not chain:
        return Outcome(None, found.report())
    _judge_files(chain, found)
    theme = _join(chain, reader)
    report = found.report()
    return Outcome(theme if report.ok else None, report)


def _chain(wanted: str | Path, search_folders: Sequence[Path], reader: _Reader) -> list[_Folder]:
    """The theme and its ancestors, the eldest first; [] after an error."""
    chain: list[_Folder] = []
    spot: Spot | None = None
    while True:
        place = _find(wanted, search_folders, reader, spot)
        if place is None:
            return []
        folder = _open(place, reader)
        if folder is None:
            return []
        if any(folder.place.resolve() == other.place.resolve() for other in chain):
            names = " → ".join([other.name for other in reversed(chain)] + [folder.name])
            reader.found.error("theme-loop", f"theme {folder.name} is its own ancestor: {names}", chain[0].spot.key("parent"),
                               "Take `parent` out of one of them.")
            return []
        chain.insert(0, folder)
        parent = folder.says.get("parent")
        if parent is None:
            return chain
        spot = folder.spot.key("parent")
        if not isinstance(parent, str) or not parent:
            reader.found.error("theme-parent", f"parent is {parent!r}; a theme has at most one parent, given by its name", spot,
                               'Write `parent = "standard"`.')
            return []
        wanted = parent


def _find(wanted: str | Path, search_folders: Sequence[Path], reader: _Reader, spot: Spot | None) -> Path | None:
    if isinstance(wanted, Path):
        places = [wanted]
    elif any(mark in wanted for mark in ("/", "\\", "..")):
        reader.found.error("unknown-theme", f"{wanted!r} is no name of a theme", spot, "A theme is called by its folder's name.")
        return None
    else:
        places = [folder / wanted for folder in search_folders]
    for place in places:
        if (place / "theme.toml").is_file():
            return place
        reader.reads.append(Read(str(place / "theme.toml"), None))
    name = wanted.name if isinstance(wanted, Path) else wanted
    known = sorted({entry.name for folder in search_folders if folder.is_dir() for entry in folder.iterdir()
                    if (entry / "theme.toml").is_file()})
    near = difflib.get_close_matches(name, known, 1)
    hint = f"Did you mean {near[0]}?" if near else f"There is: {', '.join(known)}." if known else "No theme was found at all."
    reader.found.error("unknown-theme", f"there is no theme {name}", spot, hint)
    return None


def _open(place: Path, reader: _Reader) -> _Folder | None:
    content = reader.look(place / "theme.toml")
    says = None if content is None else read_manifest(place.name, content, reader.found)
    if says is None:
        return None
    own = frozenset(entry.relative_to(place).as_posix() for entry in place.rglob("*") if entry.is_file()
                    and not any(part.startswith(".") for part in entry.relative_to(place).parts))
    return _Folder(place.name, place, says, own)


def _judge_files(chain: list[_Folder], found: Findings) -> None:
    """Names what is outside, missing, or overrides nothing."""
    inherited: set[str] = set(TEMPLATES)
    for folder in chain:
        named = set(folder.named())
        for name in folder.named():
            if not name or name.startswith("/") or ".." in name.split("/") or "\\" in name:
                found.error("theme-outside", f"{name!r} is no file inside the theme's folder", folder.spot,
                            "Write the path from the theme's folder, with forward slashes.")
            elif name not in folder.own and name not in inherited:
                found.error("theme-missing-file", f"theme {folder.name} names {name}, which is not there", folder.spot,
                            _meant(name, folder.own))
        for name in sorted(folder.own - named - inherited - {"theme.toml"}):
            shared = name.startswith("templates/_")
            if not name.endswith(NOT_OURS) and not shared:
                what = "is no template of a block kind" if name.startswith("templates/") else "overrides nothing"
                found.error("theme-overrides-nothing", f"{name} in theme {folder.name} {what}", folder.spot,
                            f"{_meant(name, inherited)} A file that adds something is named in theme.toml.".strip())
        inherited |= named
    for name in TEMPLATES:
        if not any(name in folder.own for folder in chain):
            found.error("theme-missing-block", f"theme {chain[-1].name} has no {name}", chain[-1].spot,
                        "Give it one, or a parent that has one.")


def _meant(name: str, known: Iterable[str]) -> str:
    near = difflib.get_close_matches(name, sorted(known), 1)
    return f"Did you mean {near[0]}?" if near else ""


def _join(chain: list[_Folder], reader: _Reader) -> Theme:
    found = reader.found

    def newest(name: str) -> bytes:
        for folder in reversed(chain):
            content = reader.look(folder.place / name)
            if content is not None:
                return content
        return b""

    def text(name: str) -> str:
        try:
            return newest(name).decode("utf-8")
        except UnicodeDecodeError:
            found.error("theme-encoding", f"{name} is not UTF-8 text", chain[-1].spot, "Save it as UTF-8.")
            return ""

    options: dict[str, Option] = {}
    styles: dict[str, None] = {}
    pictures: dict[str, None] = {}
    papers: dict[str, str] = {}
    faces: dict[tuple[str, int, bool], FontFace] = {}
    leave_out: tuple[str, ...] = ()
    flows: tuple[str, ...] = ()
    pens = styled({}, {})
    for folder in chain:
        declare(folder.says.get("options", {}), options, folder.spot, found)
        set_options(folder.says.get("set", {}), options, folder.spot, found)
        styles |= dict.fromkeys(_texts(folder.says.get("styles")))
        pictures |= dict.fromkeys(_texts(folder.says.get("pictures")))
        papers |= {str(paper): str(name) for paper, name in _table(folder.says.get("papers")).items()}
        for face in _rows(folder.says.get("fonts")):
            made = FontFace(family=str(face.get("family", "")), weight=int(face.get("weight", 400)),
                            italic=bool(face.get("italic", False)), file=str(face.get("file", "")))
            faces[made.family, made.weight, made.italic] = made
        leave_out = tuple(_texts(folder.says["leave_out"])) if "leave_out" in folder.says else leave_out
        flows = tuple(_texts(folder.says["flows"])) if "flows" in folder.says else flows
        lettering = _table(folder.says.get("lettering"))
        try:
            pens = styled(_table(folder.says.get("pens")), _table(folder.says.get("fills")), _table(folder.says.get("letters")),
                          family=str(lettering.get("family", "")), base=pens)
            pens = replace(pens, cap_height=float(lettering.get("cap_height", pens.cap_height)))
        except KeyError as fault:
            found.error("theme-unknown-role", f"no drawing has the role {fault.args[0]!s}", folder.spot.key("pens"),
                        _meant(str(fault.args[0]), [role for role, _ in (*pens.lines, *pens.fills)]))
        except (TypeError, ValueError, AttributeError):
            found.error("theme-pen", "pens need a width and dashes as numbers in millimetres, fills and letters a colour",
                        folder.spot.key("pens"), 'Write `outline = {width = 0.5, dash = [], colour = "#000000"}`.')
    for paper in PAPERS:
        if paper not in papers:
            found.error("theme-missing-paper", f"theme {chain[-1].name} has no style for {paper} paper", chain[-1].spot.key("papers"),
                        f'Write `{paper} = "styles/{paper}.css"` under [papers].')
    return Theme(
        name=chain[-1].name,
        chain=tuple(folder.name for folder in chain),
        options=tuple(options.values()),
        styles=tuple((name, text(name)) for name in styles),
        papers=tuple((paper, text(papers[paper])) for paper in PAPERS if paper in papers),
        templates=tuple((name.removeprefix("templates/"), text(name)) for name in sorted({*TEMPLATES, *_shared(chain)})),
        files=tuple((name, newest(name)) for name in (*pictures, *(face.file for face in faces.values()))),
        faces=tuple(faces.values()),
        pens=pens,
        leave_out=leave_out,
        flows=flows,
        reads=tuple(reader.reads),
    )


def _shared(chain: list[_Folder]) -> set[str]:
    """Templates that only other templates use; their names start with an underscore."""
    return {name for folder in chain for name in folder.own if name.startswith("templates/_")}


def _texts(value: object) -> list[str]:
    return [item for item in value if isinstance(item, str)] if isinstance(value, list) else []


def _rows(value: object) -> list[Mapping[str, Any]]:
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []


def _table(value: object) -> dict[str, Any]:
    return value if isinstance(value, dict) else {}
