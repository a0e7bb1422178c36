"""The folders of a chain of themes, and whether what lies in them is named, overrides something and is what it is taken for.

In: folders with what their theme.toml says. Out: their files, each look recorded; faults. It must not know what the files mean.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from compiler.base.report import Findings, Key, Spot
from compiler.language.names import listed, meant
from compiler.stages.dress.toml_text import TomlText
from compiler.values.theme import Read

BLOCK_TEMPLATES = (
    "paragraph", "heading", "item_list", "table", "facts", "figure", "cells", "photo", "signal", "check", "note", "write",
    "step", "cover", "contents", "columns", "words", "key_table", "code_mark", "new_page",
)
FRAME_TEMPLATES = ("document", "section")
TEMPLATES = tuple(f"templates/{name}.html" for name in (*FRAME_TEMPLATES, *BLOCK_TEMPLATES))
LARGEST = 20_000_000
NOT_OURS = (".md", ".txt")
_FONT = (b"\0\1\0\0", b"OTTO", b"true", b"ttcf")
_PICTURE = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")


@dataclass(slots=True)
class Folder:
    """One theme of the chain: its folder, what theme.toml says and where, its own files."""

    name: str
    place: Path
    says: dict[str, Any]
    toml: TomlText
    own: frozenset[str]

    def named(self) -> dict[str, Spot]:
        """Files that theme.toml names, in order, with the place where it does."""
        keys: list[tuple[str, tuple[Key, ...]]] = []
        for key in ("styles", "pictures"):
            keys += [(name, (key, place)) for place, name in enumerate(texts(self.says.get(key)))]
        keys += [(str(name), ("papers", paper)) for paper, name in table(self.says.get("papers")).items()]
        keys += [(str(face.get("file", "")), ("fonts", place, "file")) for place, face in enumerate(rows(self.says.get("fonts")))]
        return {name: self.toml.value(*path) for name, path in reversed(keys)} if keys else {}


@dataclass(slots=True)
class Reader:
    """Opens theme files and keeps a record of every look, misses too."""

    found: Findings
    reads: list[Read] = field(default_factory=list)

    def look(self, place: Path, called: str, at: Spot | None = None) -> bytes | None:
        """The file's bytes; None when it is not there, can't be read or is too large. `at` is where it is named."""
        try:
            if place.stat().st_size > LARGEST:
                self.found.error("theme-file-too-large", f"{called} has more than {LARGEST // 1_000_000} MB.", at or Spot(called),
                                 "A theme's fonts and pictures are small; a photograph belongs to a plan.")
                return None
            content = place.read_bytes()
        except (FileNotFoundError, NotADirectoryError):
            self.reads.append(Read(str(place), None))
            return None
        except OSError as fault:
            self.reads.append(Read(str(place), None))
            self.found.error("theme-unreadable", f"{called} can't be read: {fault.strerror or fault}.", at or Spot(called))
            return None
        self.reads.append(Read(str(place), hashlib.sha256(content).hexdigest()))
        return content


def judge_files(chain: list[Folder], found: Findings) -> None:
    """Names what is outside, missing, or overrides nothing."""
    inherited: set[str] = set(TEMPLATES)
    for folder in chain:
        named = folder.named()
        for name, spot in named.items():
            if not name or name.startswith("/") or ".." in name.split("/") or "\\" in name:
                found.error("theme-outside", f"`{name}` is no file inside the theme's folder.", spot,
                            "Write the path from the theme's folder, with forward slashes.")
            elif name not in folder.own and name not in inherited:
                cure = meant(name, folder.own, f"Write it, or take its name out of {folder.toml.file}.")
                found.error("theme-missing-file", f"Theme `{folder.name}` names {name}, which is not there.", spot, cure)
        for name in sorted(folder.own - named.keys() - inherited - {"theme.toml"}):
            shared = name.startswith("templates/_")
            if not name.endswith(NOT_OURS) and not shared:
                what = "is no template of a block kind" if name.startswith("templates/") else "overrides nothing"
                found.error("theme-overrides-nothing", f"{name} {what}.", Spot(f"themes/{folder.name}/{name}", line=1, column=1, shown=_first(folder, name)),
                            f"{meant(name, inherited, ' ')} A file that adds something is named in theme.toml.".strip())
        inherited |= named.keys()
    missing = [name for name in TEMPLATES if not any(name in folder.own for folder in chain)]
    if missing:
        kinds = listed(name.removeprefix("templates/").removesuffix(".html") for name in missing)
        found.error("theme-missing-block", f"Theme `{chain[-1].name}` has no template for {kinds}.",
                    chain[-1].toml.value("parent") if "parent" in chain[-1].says else chain[-1].toml.key("name"),
                    'Write templates/KIND.html for each, or name a parent that has one: parent = "standard".')


def _first(folder: Folder, name: str) -> str:
    """The first line of a text; "" of anything else."""
    try:
        with (folder.place / name).open("rb") as file:
            return file.read(200).decode("utf-8").split("\n", 1)[0]
    except (OSError, UnicodeDecodeError):
        return ""


def judge_font(content: bytes, name: str, at: Spot, found: Findings) -> None:
    """A font that is none would be replaced by whatever the machine has."""
    if content and not content.startswith(_FONT):
        found.error("theme-font", f"{name} is no font.", at, "Fonts are static TrueType or OpenType files.")


def judge_picture(content: bytes, name: str, file: str, at: Spot, found: Findings) -> None:
    """A picture that is none would leave a hole on its pages."""
    if not content or content.startswith(_PICTURE):
        return
    if not name.lower().endswith(".svg"):
        found.error("theme-picture", f"{name} is no picture.", at, "Pictures are SVG, PNG or JPEG files.")
        return
    try:
        ElementTree.fromstring(content)
    except ElementTree.ParseError as fault:
        line, column = fault.position
        text = content.decode("utf-8", "replace").split("\n")
        shown = text[line - 1] if line <= len(text) else ""
        says = str(fault).split(":")[0]
        found.error("theme-picture", f"{name} is no well-formed SVG: {says}.", Spot(file, line=line, column=column + 1, shown=shown),
                    "Save it again as plain SVG.")


def texts(value: object) -> list[str]:
    """The texts of a list; none of anything else."""
    return [item for item in value if isinstance(item, str)] if isinstance(value, list) else []


def rows(value: object) -> list[Mapping[str, Any]]:
    """The tables of a list; none of anything else."""
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []


def table(value: object) -> dict[str, Any]:
    """The table; an empty one of anything else."""
    return value if isinstance(value, dict) else {}
