"""What a maker did when YAML can't be read, in words of the shop.

In: the parser's error, and the text. Out: a diagnostic at the character that caused it, which is often not the one where
the parser gave up. Knows nothing of plans but their way of writing.
"""

from __future__ import annotations

import re

from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.reader import ReaderError

from compiler.base.report import Diagnostic, Spot


def missing_space(text: str) -> int | None:
    """Where a colon lacks its space: the colon's place in `stock:ply`, None when there is none."""
    found = re.match(r"[a-z][a-z -]*(:)\S", text)
    return found.start(1) if found else None


def explain_yaml(file: str, text: str, fault: YAMLError) -> Diagnostic:
    """The parser's error as a diagnostic."""
    lines = text.split("\n")
    if isinstance(fault, ReaderError):
        at = fault.position if isinstance(fault.position, int) else 0
        return _at(file, text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at), "strange-character",
                   "There is a character here that no text holds (a control character).", "Delete it and type the line anew.")
    if not isinstance(fault, MarkedYAMLError) or fault.problem_mark is None:
        return _at(file, 1, 1, "cannot-read-file", "This file can't be read as a plan.", "")
    problem, context = str(fault.problem or ""), str(fault.context or "")
    row, column = fault.problem_mark.line, fault.problem_mark.column
    start = fault.context_mark
    line = lines[row] if row < len(lines) else ""
    if "\\t" in problem:
        return _at(file, row + 1, column + 1 if line[column:column + 1] == "\t" else line.find("\t") + 1, "tab",
                   "This line is indented with a tab; plans are indented with spaces.", "Use two spaces a level.")
    if "sequence entries are not allowed" in problem:
        return _at(file, row + 1, column + 1, "dash", "A value can't begin with a dash and a space.",
                   f"Write -{line[column + 1:].strip()}, without the space.")
    if "quoted scalar" in context and "end of stream" in problem and start is not None:
        return _quote(file, lines, start.line, start.column)
    if "quoted scalar" in context and "escape" in problem:
        return _at(file, row + 1, column + 1, "escape", "A backslash in double quotes begins a special character.",
                   "Use 'single quotes', or leave the backslash out.")
    if "cannot start any token" in problem:
        character = line[column:column + 1]
        return _at(file, row + 1, column + 1, "strange-character", f"A text can't begin with {character}.",
                   f"Put it in quotes: '{_rest(line, column)}'.")
    if "flow" in context and start is not None:
        return _bracket(file, lines, (start.line, start.column), (row, column), "sequence" in context, problem)
    if "mapping values are not allowed" in problem or "could not find expected ':'" in problem:
        return _colon(file, lines, row, column, fault)
    if "expected <block end>" in problem and "<scalar>" in problem:
        return _at(file, row + 1, column + 1, "behind-quote", "Something stands behind a quoted text.", "Put all of the text inside the quotes.")
    if "expected <block end>" in problem and start is not None:
        return _level(file, lines, row, column, start.column)
    return _at(file, row + 1, column + 1, "cannot-read-file", "This line can't be read here.", "Compare its indent and its colon with its neighbours.")


def _at(file: str, line: int, column: int, code: str, says: str, hint: str) -> Diagnostic:
    return Diagnostic(code, says, Spot(file, line=line, column=max(column, 1)), hint)


def _rest(line: str, column: int) -> str:
    return line[column:].split(" #")[0].rstrip()


def _quote(file: str, lines: list[str], row: int, column: int) -> Diagnostic:
    inside = lines[row][column + 1:].split(" #")[0].rstrip(" ,}]")
    hint = f'The inch mark goes behind: {inside}".' if re.fullmatch(r"[\d ./]+", inside) else "Close it on the same line."
    return _at(file, row + 1, column + 1, "quote-open", "This quote is never closed.", hint)


def _bracket(file: str, lines: list[str], start: tuple[int, int], stop: tuple[int, int], is_list: bool, problem: str) -> Diagnostic:
    row, column = stop
    opening, closing = ("[", "]") if is_list else ("{", "}")
    line = lines[row] if row < len(lines) else ""
    if row == start[0] and ("<scalar>" in problem or "got '['" in problem or "got '{'" in problem) and column < len(line):
        word = re.match(r"[\w-]+", line[column:])
        before = word.group() if word else line[column:column + 1]
        return _at(file, row + 1, column + 1, "comma-missing", f"A comma is missing before `{before}`.",
                   f"Write a comma after {line[:column].rstrip()[-1:]}.")
    start = _unclosed(lines, row) or start
    opening = lines[start[0]][start[1]:start[1] + 1]
    closing = {"[": "]", "{": "}"}.get(opening, closing)
    within = lines[start[0]][start[1]:]
    if (hidden := re.search(r" (#)", within)) is not None:
        return _at(file, start[0] + 1, start[1] + hidden.start(1) + 1, "hash",
                   "Everything from # is a comment, so the rest of this line is not read.", "Write No. 8 for a screw of number 8.")
    return _at(file, start[0] + 1, start[1] + 1, "bracket-open", f"This bracket {opening} is never closed.", f"Close it with {closing}.")


def _unclosed(lines: list[str], last: int) -> tuple[int, int] | None:
    """The first bracket that is still open where a line of its own begins: at a dash or a key."""
    opened: list[tuple[int, int]] = []
    for row, line in enumerate(lines[: last + 1]):
        if opened and re.match(r"\s*(- |[a-z][\w -]*:(\s|$))", line):
            return opened[0] if len(opened) == 1 or row > opened[-1][0] + 1 else opened[-1]
        quote = ""
        for column, character in enumerate(line):
            if quote:
                quote = "" if character == quote else quote
            elif character in "\"'" and line[column - 1:column] in (" ", "[", "{", ","):
                quote = character
            elif character == "#" and line[column - 1:column] in ("", " "):
                break
            elif character in "[{":
                opened.append((row, column))
            elif character in "]}" and opened:
                opened.pop()
    return None


def _colon(file: str, lines: list[str], row: int, column: int, fault: MarkedYAMLError) -> Diagnostic:
    """A colon without its space, or one colon too many."""
    rows = [row - 1, row] if "could not find" not in str(fault.problem) else [getattr(fault.context_mark, "line", row)]
    for index in rows:
        if 0 <= index < len(lines):
            stripped = lines[index].lstrip(" -")
            indent = len(lines[index]) - len(stripped)
            place = missing_space(stripped)
            if place is not None and not re.match(r"[^#]*: ", stripped):
                word = stripped.split(" #")[0].rstrip()
                return _at(file, index + 1, indent + place + 1, "space-after-colon",
                           "There is no space after the colon, so this is read as one word.", f"Write {word[:place]}: {word[place + 1:]}.")
    line = lines[row] if row < len(lines) else ""
    first = re.search(r":(?= )", line)
    if first is not None and column > first.start():
        return _at(file, row + 1, column + 1, "second-colon", "A second colon and space stand in a plain text.",
                   f'Put the text in quotes: "{line[first.end():].strip()}".')
    if "could not find" in str(fault.problem):
        index = rows[0]
        text = lines[index].strip()
        return _at(file, index + 1, len(lines[index]) - len(lines[index].lstrip()) + 1, "no-colon",
                   f"`{text}` has no colon, so it is neither a key nor a value.", "Write a key, a colon, a space and the value.")
    return _level(file, lines, row, len(line) - len(line.lstrip()), None)


def _level(file: str, lines: list[str], row: int, column: int, parent: int | None) -> Diagnostic:
    """A line that stands between two levels."""
    line = lines[row] if row < len(lines) else ""
    word = line.strip().split(":")[0].split(" #")[0] or line.strip()
    levels: list[tuple[int, str]] = []
    for above in lines[:row]:
        text = above.strip()
        if not text or text.startswith("#"):
            continue
        depth = len(above) - len(above.lstrip(" "))
        while levels and levels[-1][0] >= depth:
            levels.pop()
        levels.append((depth, text.lstrip("- ").split(":")[0]))
    siblings = [len(above) - len(above.lstrip(" ")) for above in lines[:row] if above.strip() and not above.strip().startswith("#")]
    if parent is not None and column == parent:
        return _at(file, row + 1, column + 1, "cannot-read-file", f"`{word}` can't stand here.", "Compare its indent and its colon with its neighbours.")
    near = min(set(siblings) | {0}, key=lambda depth: (abs(depth - column), -depth)) if siblings else 0
    names = [name for depth, name in levels if depth < column and name][-2:]
    where = f": neither in `{names[1]}` nor in `{names[0]}`" if len(names) == 2 else ""
    steps = abs(near - column)
    way = "right" if near > column else "left"
    spaces = "one space" if steps == 1 else f"{steps} spaces"
    return _at(file, row + 1, column + 1, "between-levels", f"`{word}` stands between two levels{where}.",
               f"Move it {spaces} to the {way}.")
