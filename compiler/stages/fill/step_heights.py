"""How high a step will stand on the page, before a theme has set it: an estimate in millimetres.

In: a step whose picture has its printed size. Out: its height with the white after it. The standard theme's arrangement is reckoned with:
number and name, one line of facts, cautions, the picture with the actions beside it, or the actions in two columns.
"""

from __future__ import annotations

from compiler.values import document as doc
from compiler.values.figure import Drawing
from compiler.values.words import BLOCKS

POINT = 25.4 / 72
PAGE, GUTTER, BOX = 492.0, 18.0, 15.0
"""Widths in points: the text's on either paper, between columns, a tick's box."""
LETTER, LINE = 4.3, 13.0
"""Width of a letter and height of a line, in points."""
HEAD, AFTER, CAPTION = 32.0, 11.0, 17.0
"""Number and name, the white after a step, a caption of one line with its white."""
FACTS, FACT = 23.0, 112
"""The line of facts with its rule, and the letters that it holds."""
SAY, CAUTION, LEAST_CAUTION = 400.0, 14.0, 41.0
"""Width of what a caution says, white and frame about it, the least height of one."""
ACT, CHECK = 4.5, 14.0
"""White after an action, and about a check."""
BESIDE, SHORT = 106.0, 260
"""The widest picture, in millimetres, that has its text beside it; letters that are not set in two columns."""
LENGTH_LETTERS, PART_LETTERS = 5, 3


def step_high(step: doc.Step, picture: doc.Figure | None = None, larger: float = 0.0) -> float:
    """A step's height; `larger` more than its drawing has, in the width that `picture` asks for."""
    shot = picture or (step.picture if isinstance(step.picture, doc.Figure) else None)
    high = HEAD + FACTS * -(-_facts(step) // FACT) + AFTER
    high += sum(max(LEAST_CAUTION, CAUTION + sum(2 + 12.5 * _lines(says, SAY) for says in caution.content)) for caution in step.cautions)
    held = sum(map(letters, step.content))
    if step.picture is None:
        high += _columns(step.content) if held > SHORT else _text(step.content, PAGE)
    elif shot is None or wide(shot) > BESIDE:
        high += CAPTION + (_columns(step.content) if held > SHORT else _text(step.content, PAGE))
    else:
        across = wide(shot) / POINT
        caption = CAPTION + LINE * (_lines(shot.caption, across * 1.1) - 1)
        high += max(caption, _text(step.content, PAGE - across - GUTTER) - _drawn(step) / POINT - larger / POINT)
    return high * POINT + _drawn(step) + larger


def _drawn(step: doc.Step) -> float:
    if isinstance(step.picture, doc.Figure) and isinstance(step.picture.drawing, Drawing):
        return step.picture.drawing.height
    return 67.0 if step.picture is not None else 0.0


def wide(figure: doc.Figure) -> float:
    """The width that a figure's drawing takes, or asks for."""
    return figure.drawing.width


def _facts(step: doc.Step) -> int:
    """Letters of the line of facts."""
    tools = sum(len(tool) + 2 for tool in step.tools)
    return 12 + len(step.time) + tools + 5 * (len(step.works) + len(step.adds)) + len(step.makes) + 10 * (bool(step.works) + bool(step.adds))


def _columns(content: tuple[doc.Block, ...]) -> float:
    """Actions in two columns of about equal height."""
    pieces = [high for block in content for high in _pieces(block, (PAGE - GUTTER) / 2)]
    return min(max(sum(pieces[:cut]), sum(pieces[cut:])) for cut in range(len(pieces) + 1))


def _text(content: tuple[doc.Block, ...], width: float) -> float:
    return sum(high for block in content for high in _pieces(block, width))


def _pieces(block: doc.Block, width: float) -> list[float]:
    """Heights of what a block may be parted into, in points."""
    if isinstance(block, doc.ItemList):
        return [LINE * _lines(item, width - BOX) + ACT for item in block.items]
    if isinstance(block, doc.Check):
        return [LINE * _lines(block.content, width - BOX) + CHECK]
    return [LINE * _lines(block, width) + 6.5]


def _lines(content: object, width: float) -> int:
    return max(1, -(-round(letters(content) * LETTER) // round(width)))


def letters(content: object) -> int:
    """Roughly how many letters blocks or inlines hold."""
    if isinstance(content, str):
        return len(content)
    if isinstance(content, tuple):
        return sum(map(letters, content))
    if isinstance(content, doc.PartMark):
        return PART_LETTERS + len(content.name or content.part) * content.named
    if isinstance(content, doc.ItemList):
        return letters(content.items)
    if isinstance(content, BLOCKS) or hasattr(content, "content"):
        return letters(getattr(content, "content", ""))
    return LENGTH_LETTERS
