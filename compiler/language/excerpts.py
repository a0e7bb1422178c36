"""A diagnostic as a maker reads it: file, line and column, the line itself, a caret under the very characters.

In: a report, and the draft whose files it speaks of (a library, too, when its files may be meant). Out: plain text. Key paths become lines
and columns here and nowhere else, so that equal faults stay equal when the file above them changes.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.base.report import Diagnostic, Report, Severity, Spot
from compiler.values.draft import Draft, Node, Scalar
from compiler.values.source import Library

_WIDEST = 100
_SHORT = 24


@dataclass(frozen=True, slots=True)
class Position:
    """Where something stands: line and column from 1, and how many characters. Column 0: the whole line, as in a plugin's code."""

    file: str
    line: int
    column: int
    width: int = 1

    @property
    def text(self) -> str:
        """`design.yaml:12:5`, `plugins/labels/__init__.py:12`."""
        return f"{self.file}:{self.line}:{self.column}" if self.column else f"{self.file}:{self.line}"


def position_of(spot: Spot, draft: Draft) -> Position | None:
    """The line and column of a spot; None when its file is not one of the draft's and the spot has no line of its own."""
    text = draft.text(spot.file)
    if spot.path and (found := _by_path(spot, draft, text)) is not None:
        return found
    return _by_line(spot, known=bool(text)) or (Position(spot.file, 1, 1) if text else None)


def _by_line(spot: Spot, *, known: bool) -> Position | None:
    """By the line that a spot names itself; of a file whose text isn't known a line without a column is meant whole."""
    if spot.line is None:
        return None
    if spot.column is None and spot.start is None and not known:
        return Position(spot.file, spot.line, 0)
    start = spot.start or 0
    return Position(spot.file, spot.line, (spot.column or 1) + start, max(1, (spot.end or start + 1) - start))


def _by_path(spot: Spot, draft: Draft, text: str) -> Position | None:
    key = draft.find_key(spot)
    node: Node | None = key if spot.on_key and key is not None else draft.find(spot)
    if node is None or (isinstance(node, Scalar) and not node.text and key is not None):
        node = key or _nearest(spot, draft)
    if node is None:
        return None
    if not isinstance(node, Scalar):
        return _position(spot.file, text, node.start, 1)
    if spot.start is None or node is key:
        return _position(spot.file, text, node.start, max(1, node.stop - node.start))
    places = raw_places(text[node.start:node.stop], node)
    first = places[min(spot.start, len(places) - 1)]
    last = places[min(spot.end, len(places) - 1)] if spot.end is not None else first + 1
    return _position(spot.file, text, node.start + first, max(1, last - first))


def _nearest(spot: Spot, draft: Draft) -> Node | None:
    """The deepest key above a path that leads nowhere."""
    for length in range(len(spot.path) - 1, 0, -1):
        above = Spot(spot.file, spot.path[:length])
        if draft.find(above) is not None:
            return draft.find_key(above) or draft.find(above)
    return None


def _position(file: str, text: str, at: int, width: int) -> Position:
    line = text.count("\n", 0, at) + 1
    begin = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    rest = (end if end >= 0 else len(text)) - at
    return Position(file, line, at - begin + 1, max(1, min(width, rest)))


def raw_places(raw: str, scalar: Scalar) -> list[int]:
    """For each character of a scalar's text, and for its end, its place in the raw characters of the file."""
    if not scalar.quoting and "\n" not in raw:
        return list(range(len(scalar.text) + 1))
    places: list[int] = []
    at = 1 if scalar.quoting in ("'", '"') else 0
    for character in scalar.text:
        at = _advance(raw, at, character, scalar.quoting)
        places.append(min(at, max(len(raw) - 1, 0)))
        at += _length(raw, at, scalar.quoting)
    places.append(min(at, len(raw)))
    return places


def _advance(raw: str, at: int, character: str, quoting: str) -> int:
    """Skip folded line ends and block heads, up to where a character is written."""
    if quoting == '"' and raw[at:at + 1] == "\\":
        return at
    if raw[at:at + 1] == character:
        return at
    if character == " " and raw[at:at + 1] == "\n":
        return at
    while at < len(raw) and raw[at] != character and (raw[at].isspace() or quoting in ("|", ">")):
        at += 1
    return at


def _length(raw: str, at: int, quoting: str) -> int:
    """How many raw characters write the one at a place."""
    if quoting == "'" and raw[at:at + 2] == "''":
        return 2
    if quoting == '"' and raw[at:at + 1] == "\\":
        return {"x": 4, "u": 6, "U": 10}.get(raw[at + 1:at + 2], 2)
    if raw[at:at + 1] == "\n":
        rest = raw[at + 1:]
        return 1 + len(rest) - len(rest.lstrip(" \n"))
    return 1


def show_report(report: Report, draft: Draft | None, library: Library | None = None) -> str:
    """All diagnostics, a blank line between them; errors first, each kind in the order it was found."""
    ranks = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.ADVICE: 2}
    ordered = sorted(report.diagnostics, key=lambda each: ranks[each.severity])
    return "\n\n".join(show_diagnostic(each, draft, library) for each in ordered)


def show_diagnostic(diagnostic: Diagnostic, draft: Draft | None, library: Library | None = None) -> str:
    """One diagnostic in plain text."""
    tags = "".join(f" ({tag})" for tag in (diagnostic.plugin, diagnostic.edition) if tag)
    lines = [f"{diagnostic.severity.value}: {diagnostic.says} [{diagnostic.code}]{tags}"]
    if diagnostic.at is not None:
        lines.extend(_shown(diagnostic.at, draft, library))
    for spot in diagnostic.also:
        position = _position_in(spot, draft)
        if position is not None:
            lines.append(f"  see also {position.text}")
    if diagnostic.hint:
        lines.append(f"  → {diagnostic.hint}")
    return "\n".join(lines)


def _position_in(spot: Spot, draft: Draft | None) -> Position | None:
    return position_of(spot, draft) if draft is not None else _by_line(spot, known=False)


def _shown(spot: Spot, draft: Draft | None, library: Library | None) -> list[str]:
    position = _position_in(spot, draft)
    if position is None:
        return [f"  {spot.file}"]
    if spot.shown:
        return [f"  {position.text}", *excerpt(spot.shown, position)]
    text = draft.text(spot.file) if draft is not None else ""
    if not text and library is not None:
        text = next((file.text for file in library.files if file.name == spot.file), "")
    lines = text.split("\n")
    found = [f"  {position.text}"]
    if position.line <= len(lines) and lines[position.line - 1].strip():
        found.extend(excerpt(lines[position.line - 1], position))
    return found


def excerpt(line: str, position: Position) -> list[str]:
    """The line and the caret under it; long lines are cut to the part that matters."""
    number = str(position.line)
    start = max(0, position.column - 1)
    cut = 0
    if len(line) > _WIDEST and start > _WIDEST - _SHORT:
        cut = start - _SHORT
    seen = line[cut: cut + _WIDEST]
    before = "… " if cut else ""
    after = " …" if len(line) > cut + _WIDEST else ""
    pad = "".join("\t" if character == "\t" else " " for character in line[cut:start])
    width = max(1, min(position.width, len(seen) - (start - cut)))
    return [f"  {number} | {before}{seen}{after}", f"  {' ' * len(number)} | {' ' * len(before)}{pad}{'^' * width}"]
