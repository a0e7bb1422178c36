"""A drawer box as shops build it: front and back between the sides in rabbets, the bottom in a groove of sides and front.

The bottom runs under the back, which ends on it, so that the bottom slides in from behind and is screwed there. Room beside the box
(1/2 in or 13 mm is what side-mounted slides take) and proportions: common practice, no source.
"""

from __future__ import annotations

from compiler.api import Component, Length, Stock, ask


class DrawerBox(Component):
    """A drawer box for an opening: sides, front, back and a bottom in a groove."""

    kind = "drawer box"
    wood: Stock = ask.stock("birch plywood 1/2", "what sides, front and back are made of")
    thin: Stock = ask.stock("birch plywood 1/4", "what the bottom is made of")
    beside: Length = ask.size("1/2", "room beside the box, left and right, for slides", metric="13", least="1/32", most="width / 4")
    lift: Length = ask.size("1/2", "room under the box, and the same above it", metric="13", least="0", most="height / 3")
    behind: Length = ask.size("1/2", "room behind the box", metric="13", least="0", most="depth / 2")
    groove: Length = ask.size("1/4", "how deep rabbets and the groove for the bottom are cut", metric="6", least="1/8", most="3/8")
    foot: Length = ask.size("1/2", "from the box's lower edge to its bottom", metric="12", least="1/4", most="1")

    written = """
    middle: {across: width / 2}
    parts:
      side:
        stock: wood
        across: from beside
        deep: 0 to depth - behind
        up: lift to height - lift
        copies: mirror across
      front:
        stock: wood
        across: between left side and right side
        deep: from side.front
        up: as side
      back:
        stock: wood
        across: between left side and right side
        deep: to side.back
        up: bottom.top to side.top
      bottom:
        stock: thin
        across: between left side and right side
        deep: front.back to side.back
        up: from side.bottom + foot
    joints:
      - {rabbet: [front, back], into: side, depth: groove, brads: 1 1/4, every: 2}
      - {groove: bottom, into: [side, front], depth: groove, room: 1/32}
      - {butt: bottom, to: back, screws: No. 6 x 5/8, count: 3}
    """
