"""The plan's folder becomes a Source: the only stage that opens plan files.

In: a folder. Out: its texts with digests, the list of its pictures, the shop's settings from the folder above, and what
was looked for and not found. Nothing is understood here. Every file has a size limit, must be UTF-8, and must lie inside
the folder it is asked from.
"""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

from compiler.base.report import Findings, Outcome, Spot
from compiler.values.source import Library, PhotoFile, Source, SourceFile

LARGEST_TEXT = 1_000_000
LARGEST_PHOTO = 40_000_000
PLAN_FILES = ("design.yaml", "notes.md", "letters.yaml")
LIBRARY_FOLDERS = ("stock", "hardware", "finishes", "operations", "glossary")
SPONSORS = "sponsor.yaml"
"""In the plan's folder, or beside shop.yaml for all plans."""
PICTURES = (".jpg", ".jpeg", ".png")


def read(folder: Path) -> Outcome[Source]:
    """The files of a plan. A folder that isn't there, or has no design.yaml, gives no value."""
    findings = Findings()
    if not folder.is_dir():
        findings.error("no-folder", f"There is no folder {folder.name}.", None, "Name a folder that holds a design.yaml.")
        return Outcome(None, findings.report())
    if not (folder / "design.yaml").is_file():
        findings.error("no-design", f"The folder {folder.name} holds no design.yaml.", None, "`kerfolio new` makes one from a starter.")
        return Outcome(None, findings.report())
    files: list[SourceFile] = []
    absent: list[str] = []
    for name in PLAN_FILES:
        _take(folder, name, name, files, absent, findings)
    _take(folder.parent, "shop.yaml", "shop.yaml", files, absent, findings)
    _take(folder if (folder / SPONSORS).exists() else folder.parent, SPONSORS, SPONSORS, files, absent, findings)
    source = Source(folder=folder.resolve().name, files=tuple(files), absent=tuple(absent), photos=_photos(folder), mark=_mark(folder.parent))
    if not any(file.name == "design.yaml" for file in files):
        return Outcome(None, findings.report())
    return Outcome(source, findings.report())


def read_library(folder: Path) -> Outcome[Library]:
    """The texts of the library: every YAML file in its stock, hardware, finishes, operations and glossary folders."""
    findings = Findings()
    files: list[SourceFile] = []
    for name in LIBRARY_FOLDERS:
        for path in sorted((folder / name).glob("*.yaml")):
            _take(folder, f"{name}/{path.name}", f"{folder.name}/{name}/{path.name}", files, [], findings)
    if not files:
        findings.error("no-library", f"There is no stock in {folder.name}.", None, "The library lies in shared/stock, shared/hardware and its neighbours.")
        return Outcome(None, findings.report())
    return Outcome(Library(tuple(files)), findings.report())


def read_photo(folder: Path, path: str, at: Spot) -> Outcome[bytes]:
    """The bytes of a picture inside the plan's folder."""
    findings = Findings()
    inside = inside_folder(folder, path)
    if inside is None:
        findings.error("outside-folder", f"`{path}` lies outside the plan's folder.", at, "Copy the picture into photos/.")
    elif not inside.is_file():
        near = [photo.path for photo in _photos(folder)]
        findings.error("no-photo", f"There is no picture {path}.", at, f"The folder holds {', '.join(near)}." if near else "Put it into photos/.")
    elif inside.suffix.lower() not in PICTURES:
        findings.error("no-photo", f"{path} is no JPEG or PNG.", at, "Save it as .jpg or .png.")
    elif inside.stat().st_size > LARGEST_PHOTO:
        findings.error("too-large", f"{path} has {inside.stat().st_size // 1_000_000} MB; the limit is {LARGEST_PHOTO // 1_000_000} MB.", at, "Save it smaller.")
    else:
        try:
            return Outcome(inside.read_bytes())
        except OSError as fault:
            findings.error("cannot-open", f"{path} can't be opened: {fault.strerror}.", at, "Look at its permissions.")
    return Outcome(None, findings.report())


def read_mark(folder: Path, path: str, at: Spot) -> Outcome[bytes]:
    """A sponsor's mark: an SVG or PNG that lies beside the plan's sponsor.yaml or the shop's."""
    findings = Findings()
    home = folder if (folder / SPONSORS).exists() else folder.parent
    inside = inside_folder(home, path)
    if inside is None or not inside.is_file() or inside.suffix.lower() not in (".svg", ".png"):
        findings.error("no-mark", f"There is no picture {path} beside {SPONSORS}.", at, "Put an .svg or .png there.")
    elif inside.stat().st_size > LARGEST_TEXT:
        findings.error("too-large", f"{path} has {_megabytes(inside.stat().st_size)}; a mark has at most {_megabytes(LARGEST_TEXT)}.", at, "Save it smaller.")
    else:
        return Outcome(inside.read_bytes())
    return Outcome(None, findings.report())


def inside_folder(folder: Path, path: str) -> Path | None:
    """The file a relative path means, None when it would leave the folder (by `..`, an absolute path or a link)."""
    if not path or Path(path).is_absolute() or "\\" in path or "\0" in path:
        return None
    found = Path(os.path.realpath(folder / path))
    return found if found.is_relative_to(os.path.realpath(folder)) else None


def _take(folder: Path, path: str, shown: str, files: list[SourceFile], absent: list[str], findings: Findings) -> None:
    place = folder / path
    if not place.exists():
        absent.append(shown)
        return
    if not place.is_file() or inside_folder(folder, path) is None:
        findings.error("outside-folder", f"{shown} is no file of this folder.", Spot(shown), "Put the file itself there, not a link out of the folder.")
        return
    size = place.stat().st_size
    if size > LARGEST_TEXT:
        findings.error("too-large", f"{shown} has {_megabytes(size)}; a plan's text has at most {_megabytes(LARGEST_TEXT)}.", Spot(shown),
                       "Something that is no plan was saved under this name.")
        return
    try:
        data = place.read_bytes()
    except OSError as fault:
        findings.error("cannot-open", f"{shown} can't be opened: {fault.strerror}.", Spot(shown), "Look at its permissions.")
        return
    text = _text(data, shown, findings)
    if text is not None:
        files.append(SourceFile(shown, text, hashlib.sha256(data).hexdigest()))


def _text(data: bytes, shown: str, findings: Findings) -> str | None:
    """The bytes as text with plain line ends; None, and a fault with its line, when they aren't UTF-8."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        findings.error("encoding", f"{shown} is saved as UTF-16; plans are UTF-8.", Spot(shown, line=1, column=1), "Save it as UTF-8.")
        return None
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        before = data[: fault.start]
        line, column = before.count(b"\n") + 1, fault.start - before.rfind(b"\n")
        says = f"{shown} is not UTF-8: byte {data[fault.start]:02x} in line {line} is no part of a character."
        findings.error("encoding", says, Spot(shown, line=line, column=column), "Save it as UTF-8 in your editor.")
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _megabytes(size: int) -> str:
    return f"{size / 1_000_000:.0f} MB" if size >= 10_000_000 else f"{size / 1_000_000:.1f} MB".replace(".0 ", " ")


def _photos(folder: Path) -> tuple[PhotoFile, ...]:
    found = []
    for path in sorted((folder / "photos").glob("**/*")):
        name = path.relative_to(folder).as_posix()
        if path.suffix.lower() in PICTURES and path.is_file() and inside_folder(folder, name) is not None:
            found.append(PhotoFile(name, path.stat().st_size))
    return tuple(found)


def _mark(folder: Path) -> bytes:
    """The shop's mark: `mark.svg` or `mark.png` beside shop.yaml."""
    for name in ("mark.svg", "mark.png"):
        path = folder / name
        if path.is_file() and path.stat().st_size <= LARGEST_TEXT:
            return path.read_bytes()
    return b""
