"""A theme folder → Theme: parent and child joined, every file's reading recorded, every fault named.

In: a theme's name or folder, and the folders in which to look. Out: Outcome[Theme]. A child beats its parent file by
file; whatever it holds must override something or be named in its theme.toml. It must not know documents or pages.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

from compiler.base.report import Findings, Outcome, Spot
from compiler.draw.pens import styled
from compiler.draw.stylesheet import StyleText, judge_names, judge_style
from compiler.language.names import meant
from compiler.stages.dress.folders import (
    TEMPLATES,
    Folder,
    Reader,
    judge_files,
    judge_font,
    judge_picture,
    rows,
    table,
    texts,
)
from compiler.stages.dress.manifest import read_manifest
from compiler.stages.dress.options import PEN_KEYS, colour_fault, declare, pen_fault, set_options
from compiler.stages.dress.templates import judge_templates
from compiler.values.figure import LetterRole, PenStyle
from compiler.values.theme import PAPERS, FontFace, Option, Read, Theme


def load_theme(name_or_folder: str | Path, search_folders: Sequence[Path], at: Spot | None = None) -> Outcome[Theme]:
    """The theme with its parents joined; `at` is where it was asked for. Any error leaves no theme; `reads` holds what was looked for."""
    found = Findings()
    reader = Reader(found)
    chain = _chain(name_or_folder, search_folders, reader, at)
    if not chain:
        return Outcome(None, found.report())
    judge_files(chain, found)
    theme = _join(chain, reader)
    judge_templates(theme.templates, theme.place, found)
    for paper in PAPERS:
        judge_names(StyleText(theme.sheets(paper)), theme.faces, found)
    if not found.report().ok:  # the layout, which would name what it ignores, isn't reached
        judge_style(StyleText(theme.sheets(PAPERS[0])), found)
    report = found.report()
    return Outcome(theme if report.ok else None, report)


def _chain(wanted: str | Path, search_folders: Sequence[Path], reader: Reader, spot: Spot | None) -> list[Folder]:
    """The theme and its ancestors, the eldest first; [] after an error."""
    chain: list[Folder] = []
    while True:
        place = _find(wanted, search_folders, reader, spot)
        if place is None:
            return []
        folder = _open(place, reader)
        if folder is None:
            return []
        if any(folder.place.resolve() == other.place.resolve() for other in chain):
            names = " → ".join([other.name for other in reversed(chain)] + [folder.name])
            reader.found.error("theme-loop", f"Theme `{folder.name}` is its own ancestor: {names}.", spot, "Take `parent` out of one of them.")
            return []
        chain.insert(0, folder)
        parent = folder.says.get("parent")
        if parent is None:
            return chain
        spot = folder.toml.value("parent")
        if not isinstance(parent, str) or not parent:
            reader.found.error("theme-parent", f"`parent` is {parent!r}; a theme has at most one parent, given by its name.", spot,
                               'Write `parent = "standard"`.')
            return []
        wanted = parent


def _find(wanted: str | Path, search_folders: Sequence[Path], reader: Reader, spot: Spot | None) -> Path | None:
    if isinstance(wanted, Path):
        places = [wanted]
    elif any(mark in wanted for mark in ("/", "\\", "..")):
        reader.found.error("unknown-theme", f"`{wanted}` is no name of a theme.", spot, "A theme is called by its folder's name.")
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
    reader.found.error("unknown-theme", f"There is no theme `{name}`.", spot, meant(name, known))
    return None


def _open(place: Path, reader: Reader) -> Folder | None:
    content = reader.look(place / "theme.toml", f"themes/{place.name}/theme.toml")
    manifest = None if content is None else read_manifest(place.name, content, reader.found)
    if manifest is None:
        return None
    own = frozenset(entry.relative_to(place).as_posix() for entry in place.rglob("*") if entry.is_file()
                    and not any(part.startswith(".") for part in entry.relative_to(place).parts))
    return Folder(place.name, place, manifest.says, manifest.toml, own)


def _join(chain: list[Folder], reader: Reader) -> Theme:
    found = reader.found
    homes: dict[str, str] = {}
    named = {name: spot for folder in chain for name, spot in folder.named().items()}

    def newest(name: str) -> bytes:
        for folder in reversed(chain):
            content = reader.look(folder.place / name, f"themes/{folder.name}/{name}", named.get(name))
            if content is not None:
                homes[name] = folder.name
                return content
        return b""

    def text(name: str) -> str:
        content = newest(name)
        try:
            return content.decode("utf-8")
        except UnicodeDecodeError as fault:
            before = content[: fault.start]
            at = Spot(f"themes/{homes[name]}/{name}", line=before.count(b"\n") + 1, column=fault.start - before.rfind(b"\n"))
            found.error("theme-encoding", f"{name} is not UTF-8 text.", at, "Save it as UTF-8.")
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
        declare(table(folder.says.get("options")), options, folder.toml, found)
        set_options(table(folder.says.get("set")), options, folder.toml, found)
        styles |= dict.fromkeys(texts(folder.says.get("styles")))
        pictures |= dict.fromkeys(texts(folder.says.get("pictures")))
        papers |= {paper: str(name) for paper, name in table(folder.says.get("papers")).items() if paper in PAPERS}
        for face in rows(folder.says.get("fonts")):
            made = FontFace(family=face["family"], weight=face.get("weight", 400), italic=face.get("italic", False), file=face["file"])
            faces[made.family, made.weight, made.italic] = made
        leave_out = tuple(texts(folder.says["leave_out"])) if "leave_out" in folder.says else leave_out
        flows = tuple(texts(folder.says["flows"])) if "flows" in folder.says else flows
        pens = _pens(folder, pens, {face.family for face in faces.values()}, found)
    for paper in PAPERS:
        if paper not in papers:
            found.error("theme-missing-paper", f"Theme `{chain[-1].name}` has no style for {paper} paper.", chain[-1].toml.key("papers"),
                        f'Write `{paper} = "styles/{paper}.css"` under [papers].')
    theme = Theme(
        name=chain[-1].name,
        chain=tuple(folder.name for folder in chain),
        options=tuple(options.values()),
        styles=tuple((name, text(name)) for name in styles),
        papers=tuple((paper, papers[paper], text(papers[paper])) for paper in PAPERS if paper in papers),
        templates=tuple((name.removeprefix("templates/"), text(name)) for name in sorted({*TEMPLATES, *_shared(chain)})),
        files=tuple((name, newest(name)) for name in (*pictures, *(face.file for face in faces.values()))),
        faces=tuple(faces.values()),
        pens=pens,
        leave_out=leave_out,
        flows=flows,
    )
    nowhere = Spot(chain[-1].toml.file)
    for name, content in dict(theme.files).items():
        if name in pictures:
            judge_picture(content, name, f"themes/{homes.get(name, '')}/{name}", named.get(name, nowhere), found)
        else:
            judge_font(content, name, named.get(name, nowhere), found)
    return replace(theme, homes=tuple(homes.items()), reads=tuple(reader.reads))


def _pens(folder: Folder, pens: PenStyle, families: set[str], found: Findings) -> PenStyle:
    """The pens with one theme's wishes over them; each wish is judged by itself, so that all faults come together."""
    says, toml = folder.says, folder.toml
    fits: dict[str, dict[str, Any]] = {"pens": {}, "fills": {}, "letters": {}}
    for key, roles in (("pens", dict(pens.lines)), ("fills", dict(pens.fills)), ("letters", get_args(LetterRole))):
        for role, wish in table(says.get(key)).items():
            wrong = pen_fault(wish) if key == "pens" else colour_fault(wish)
            for strange in sorted(wish.keys() - PEN_KEYS) if key == "pens" and isinstance(wish, dict) else ():
                found.error("theme-unknown-key", f"A pen has no key `{strange}`.", toml.key(key, role, strange), meant(strange, PEN_KEYS))
            if role not in roles:
                found.error("theme-unknown-role", f"No drawing has the role `{role}` among its {key}.", toml.key(key, role), meant(role, roles))
            elif wrong:
                found.error("theme-pen", f"The {key[:-1]} `{role}` {wrong[0]}.", toml.value(key, role, *wrong[1:]),
                            f'Write `{role} = {{width = 0.5, dash = [], colour = "#000000"}}`.' if key == "pens" else f'Write `{role} = "#000000"`.')
            else:
                fits[key][role] = wish
    pens = styled(fits["pens"], fits["fills"], fits["letters"], base=pens)
    lettering = table(says.get("lettering"))
    family, height = lettering.get("family", pens.family), lettering.get("cap_height", pens.cap_height)
    if "family" in lettering and family not in families:
        found.error("theme-unknown-font", f"The theme has no font `{family}`.", toml.value("lettering", "family"), meant(str(family), sorted(families)))
    if isinstance(height, bool) or not isinstance(height, (int, float)) or not 0 < height < 2:
        found.error("theme-bad-key", f"`cap_height` is {str(height)[:60]!r}; it takes a share of the font's size.", toml.value("lettering", "cap_height"),
                    "Such as 0.7.")
        return pens
    return replace(pens, family=str(family), cap_height=float(height))


def _shared(chain: list[Folder]) -> set[str]:
    """Templates that only other templates use; their names start with an underscore."""
    return {name for folder in chain for name in folder.own if name.startswith("templates/_")}
