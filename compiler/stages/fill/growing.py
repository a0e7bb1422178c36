"""Pictures of steps that may take what their page leaves.

In: sections whose drawings have their printed size. Out: the same, with the View in place of the drawing where a step's picture is to be drawn
larger. A page grows only where it is the same however the estimates err: its steps begin it and end it in every reckoning.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from compiler.stages.fill.heights import HEAD, LIVE, OVER, foot, high, told
from compiler.stages.fill.step_heights import step_high
from compiler.values import document as doc
from compiler.values.figure import Drawing

ERRORS = (0.95, 0.97, 0.99)
"""How far true heights lie from the estimates, which are 4 % too high on the average of 61 steps of the demo plans and by 0 to 12 mm a step."""
GROUP = 8.7
"""A group's heading: the white over it is that of the step before."""
ABOUT = 6.0
"""How much the foot of the section before may be wrong."""
SPARE, KEPT = 0.16, 6.0
"""The share of a page that must be free before a picture grows, and the millimetres that stay free."""

Page = tuple[int, ...]
"""The places, in a section, of the blocks that stand on a page."""
Sizes = dict[int, tuple[int, int]]
"""Rooms that steps' pictures get, by the steps' places."""


def grown(sections: tuple[doc.Section, ...], paper: str) -> tuple[doc.Section, ...]:
    """The sections, pictures of steps asked for in the largest room that their page has."""
    live, done, taken = LIVE[paper], list[doc.Section](), 0.0
    for number, section in enumerate(sections):
        sure = not number or told(sections[number - 1].blocks)
        if any(isinstance(block, doc.Step) for block in section.blocks):
            after = sections[number + 1] if number + 1 < len(sections) else None
            starts = (taken - ABOUT, min(taken + ABOUT, live)) if sure else (0.0, live / 2, live)
            section = _grown(section, live, starts, _begins(after) if after else live)
        taken = foot(section.blocks, live, taken)
        done.append(replace(section, blocks=tuple(map(_settled, section.blocks))))
    return tuple(done)


def _grown(section: doc.Section, live: float, starts: tuple[float, ...], after: float) -> doc.Section:
    """One section of steps; `after` is what the next one needs to begin."""
    ways = [tuple(_pages(section.blocks, live, start, error)) for start in dict.fromkeys(starts) for error in ERRORS]
    # The first page holds the section's head, and what stood there before: it stays as it is.
    certain = [page for page in ways[0] if page[0] and all(page in way for way in ways)]
    last, sizes = ways[0][-1] if ways[0] else (), Sizes()
    for page in certain:
        used = ERRORS[-1] * sum(_high(section.blocks[place]) for place in page) + KEPT
        # What comes after the last step keeps the room that it begins in.
        if live - used >= SPARE * live and (page != last or ERRORS[0] * (used - KEPT) + after > live):
            sizes |= _sizes(section.blocks, page, live - used)
    blocks = tuple(_larger(block, sizes[place]) if isinstance(block, doc.Step) and place in sizes else block for place, block in enumerate(section.blocks))
    return replace(section, blocks=blocks)


def _pages(blocks: tuple[doc.Block, ...], live: float, used: float, error: float) -> Iterator[Page]:
    """The pages that a section's blocks come to when every height is so much off; a heading stays with what follows."""
    page: Page = ()
    waiting, waiting_high = Page(), HEAD
    for place, block in enumerate(blocks):
        waiting, waiting_high = (*waiting, place), waiting_high + error * _high(block)
        if isinstance(block, doc.Heading):
            continue
        if used + waiting_high > live:
            if page:
                yield page
            # The head's white is swallowed by a page's top.
            page, used = (), 0.0 if waiting[0] else -OVER
        page, used = (*page, *waiting), used + waiting_high
        waiting, waiting_high = (), 0.0
    yield (*page, *waiting)


def _high(block: doc.Block) -> float:
    return step_high(block) if isinstance(block, doc.Step) else GROUP if isinstance(block, doc.Heading) else high(block)


def _sizes(blocks: tuple[doc.Block, ...], page: Page, room: float) -> Sizes:
    """The rooms of a page's pictures: the least gets more first, as long as all have place."""
    sizes = Sizes()
    steps = {place: block for place in page if isinstance(block := blocks[place], doc.Step) and _rooms(block)}
    while True:
        ways = []
        for place, step in steps.items():
            for size in _rooms(step):
                now = sizes.get(place)
                if now is None or size > now:
                    more = _more(step, size) - (_more(step, now) if now else 0.0)
                    if more <= room:
                        ways.append((size, place, more))
                    break
        if not ways:
            return sizes
        size, place, more = min(ways)
        sizes[place], room = size, room - more


def _rooms(step: doc.Step) -> tuple[tuple[int, int], ...]:
    shot = step.picture
    return shot.rooms if isinstance(shot, doc.Figure) and shot.asked is not None and isinstance(shot.drawing, Drawing) else ()


def _more(step: doc.Step, size: tuple[int, int]) -> float:
    """How much higher a step gets with its picture in a room."""
    shot = step.picture
    assert isinstance(shot, doc.Figure) and shot.asked is not None
    asked = replace(shot, drawing=_asked(shot.asked, size))
    return max(step_high(step, asked, size[1] - shot.asked.height) - step_high(step), 0.0)


def _asked(view: doc.View, size: tuple[int, int]) -> doc.View:
    return replace(view, width=size[0], height=size[1])


def _larger(step: doc.Step, size: tuple[int, int]) -> doc.Step:
    shot = step.picture
    assert isinstance(shot, doc.Figure) and shot.asked is not None and isinstance(shot.drawing, Drawing)
    return replace(step, picture=replace(shot, drawing=_asked(shot.asked, size), small=shot.drawing))


def _settled(block: doc.Block) -> doc.Block:
    """A step whose picture has no other rooms any more."""
    if isinstance(block, doc.Step) and isinstance(block.picture, doc.Figure):
        return replace(block, picture=replace(block.picture, rooms=(), asked=None))
    return block


def _begins(section: doc.Section) -> float:
    """What a section needs to begin under another: its head and all up to its first table or figure."""
    needs = HEAD
    for block in section.blocks:
        needs += _high(block)
        if not isinstance(block, (doc.Paragraph, doc.Heading)):
            break
    return needs
