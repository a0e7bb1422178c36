"""Whether parts can be as they are written: more than nothing, on the right side of the middle line, not placed twice.

In: parts whose faces are worked out. Out: faults, told once: a part that only stands on an impossible one is not reported.
"""

from __future__ import annotations

from compiler.base.measures import Length
from compiler.base.report import Diagnostic
from compiler.language import Unsolved, say
from compiler.language.trees import As, Between, Evenly, Extent, From, FromTo, Mirror, Repeat, To
from compiler.stages.check.copies import Copy, follows
from compiler.stages.check.placing import open_axes
from compiler.stages.check.rules import PartRule
from compiler.stages.check.scope import HIGH, LOW, Piece, Scope
from compiler.stages.check.thickness import key_of
from compiler.stages.check.work import Work
from compiler.values.model import AXES, FACES, Axis


class Judging:
    """Gathers parts that can't be, until it is known which of them is the cause."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._faults: list[tuple[tuple[str, ...], Diagnostic]] = []

    def judged(self, scope: Scope, rule: PartRule, copies: tuple[Copy, ...]) -> bool:
        """Whether a part's extents are more than nothing and its copies stand where they should."""
        good = True
        for copy in copies:
            if copy.index and follows(rule) is None and rule.run is None:
                break
            for axis in AXES:
                try:
                    size = scope.span_size(rule, copy, axis)
                except Unsolved:
                    good = False
                    continue
                if size.inches <= 0:
                    self._nothing(scope, rule, copy, axis, size)
                    good = False
        if good and rule.copies is not None:
            good = self._copies_placed(scope, rule, copies)
        return good

    def _nothing(self, scope: Scope, rule: PartRule, copy: Copy, axis: Axis, size: Length) -> None:
        """An extent that is nothing or less."""
        units = self._work.edition
        extent = rule.extents.get(axis)
        name = f"{scope.prefix}{copy.called(scope.flipped)}"
        low, high = scope.face(rule, copy, LOW[axis]), scope.face(rule, copy, HIGH[axis])
        names = tuple(f"{scope.prefix}{each.called(scope.flipped)}.{face}" for each in scope.copies(rule) for face in (LOW[axis], HIGH[axis]))
        if extent is None:
            self._faults.append((names, Diagnostic("no-size", f"`{name}.{axis}` comes out at {say(size, units, unit=True)}.", key_of(rule))))
            return
        match extent.tree:
            case Between(left, right):
                says = f"Nothing lies between: {left.text} ends at {say(low, units)}, {right.text} starts at {say(high, units)}."
                at = extent.at.within(left.start, right.end)
                self._faults.append((names, Diagnostic("nothing-between", says, at, "The lower one (left, front, bottom) is named first.")))
            case tree:
                first, last = _ends_in_words(tree, extent.sized.text)
                says = f"`{name}.{axis}` comes out at {say(size, units, unit=True)}: {last} is {say(high, units)}, {first} is {say(low, units)}."
                self._faults.append((names, Diagnostic("no-size", says, extent.at, "The first place must lie left, in front or below.")))

    def _copies_placed(self, scope: Scope, rule: PartRule, copies: tuple[Copy, ...]) -> bool:
        assert rule.copies is not None
        tree, units = rule.copies.tree, self._work.edition
        try:
            match tree:
                case Mirror(axes):
                    for axis in axes:
                        middle = scope.middle(axis, rule.copies.at)
                        low, high = scope.face(rule, copies[0], LOW[axis]), scope.face(rule, copies[0], HIGH[axis])
                        names = tuple(f"{scope.prefix}{each.called(scope.flipped)}.{face}" for each in copies for face in (LOW[axis], HIGH[axis]))
                        line = f"the middle line ({say(middle, units)})"
                        if low >= middle:
                            says = f"`{rule.name}` is written on the far side of {line}: it starts at {say(low, units)}."
                            self._faults.append((names, Diagnostic("far-side", says, rule.copies.at, f"Write the {LOW[axis]} one.")))
                            return False
                        if high > middle:
                            says = f"`{rule.name}` lies across {line}, so its mirror image would lie in it: it ends at {say(high, units)}."
                            hint = "Let it end before the middle, or leave out `copies`."
                            self._faults.append((names, Diagnostic("across-middle", says, rule.copies.at, hint)))
                            return False
                case Repeat(_, axis, _):
                    extent = rule.extents.get(axis)
                    if len(copies) > 1 and scope.face(rule, copies[1], LOW[axis]) == scope.face(rule, copies[0], LOW[axis]):
                        raise self._work.refuse("no-pitch", f"The copies of `{rule.name}` would stand in one place.", extent.at if extent else rule.copies.at)
                case Evenly(_, axis, _, _):
                    extent = rule.extents.get(axis)
                    if extent is not None and axis in open_axes(rule):
                        says = f"`{rule.name}` is placed by `copies`, so its own `{axis}` is not used."
                        self._work.findings.warning("evenly-placed", says, extent.at, f"Remove `{axis}`.")
                case _:
                    pass
        except Unsolved:
            return False
        return True

    def stands_on_fault(self, piece: Piece) -> bool:
        """Whether a part stands on one whose place is reported as impossible: what follows from that is not reported."""
        bad = {name for names, _ in self._faults for name in names}
        return bool(bad) and any(need in bad for face in FACES for need in self._work.stands_on(f"{piece.name}.{face}"))

    def report(self) -> None:
        """Report parts that can't be; not those that only stand on one of them."""
        bad = {name for names, _ in self._faults for name in names}
        for names, fault in self._faults:
            if not any(need in bad and need not in names for name in names for need in self._work.stands_on(name)):
                self._work.findings.add(fault)


def _ends_in_words(tree: Extent, text: str) -> tuple[str, str]:
    """The two ends of an extent as they are written."""
    match tree:
        case FromTo(first, last):
            return text[first.start:first.end], text[last.start:last.end]
        case From(place, _):
            return text[place.start:place.end], "its other end"
        case To(place, _):
            return "its other end", text[place.start:place.end]
        case As(thing):
            return f"the start of {thing.text}", "its end"
        case _:
            return "its first end", "its last end"

