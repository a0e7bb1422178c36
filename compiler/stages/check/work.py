"""What one run of `check` holds while it works: values found once, circles named, traces kept.

In: asked for a quantity by key. Out: its value, found at most once, with the quantities it stands on. Nothing of this
outlives the stage. Knows nothing of parts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

from compiler.base.measures import Angle, Length
from compiler.base.report import Diagnostic, Findings, Spot
from compiler.base.showing import Units
from compiler.language import (
    Lookup,
    Reading,
    Refused,
    Unsolved,
    Want,
    diagnostic,
    odd_numbers,
    value_of,
    wanted,
)
from compiler.language.parsing import parse_size
from compiler.language.trees import Size
from compiler.stages.check.rules import Sized
from compiler.values.design import Known
from compiler.values.model import Trace
from compiler.values.source import Library

DEEPEST = 400

Key = tuple[object, ...]


@dataclass(slots=True)
class _Open:
    """A quantity that is being worked out."""

    key: Key
    name: str
    at: Spot | None
    needs: dict[str, None] = field(default_factory=dict)


class Work:
    """The memory of one check."""

    def __init__(self, library: Library, written: Units, edition: Units) -> None:
        self.library, self.written, self.edition = library, written, edition
        self.findings = Findings()
        self.components: tuple[str, ...] = ()
        self._traces: dict[str, Trace] = {}
        self._known: dict[Key, object] = {}
        self._failed: set[Key] = set()
        self._too_deep = False
        self._words: dict[str, tuple[str, str]] = {}
        self._stack: list[_Open] = []

    def solve[T](self, key: Key, name: str, at: Spot | None, compute: Callable[[], T], *, called: str = "") -> T:
        """The value of a quantity. Raises `Unsolved` when it has a fault, which is reported once.

        The name is what `why` and the messages call it; the quantity that asks notes it as needed. What has no value to show
        (copies, groups) has no name, and is `called` something in messages.
        """
        if self._stack and name:
            self._stack[-1].needs[name] = None
        if key in self._known:
            return self._known[key]  # type: ignore[return-value]  # stored below, under the same key
        if key in self._failed:
            raise Unsolved
        if self.busy(key):
            self._circle(key)
            raise Unsolved
        if len(self._stack) >= DEEPEST:
            if not self._too_deep:
                self._too_deep = True
                self.findings.error("too-deep", f"`{name}` stands at the end of a chain of more than {DEEPEST} sizes.", at, "Shorten the chain.")
            raise Unsolved
        self._stack.append(_Open(key, name or called, at))
        try:
            value = compute()
        except Unsolved:
            self._failed.add(key)
            raise
        finally:
            opened = self._stack.pop()
        self._known[key] = value
        if isinstance(value, (Length, Angle, Fraction, int, str)) and name and name not in self._traces:
            self._traces[name] = Trace(name=name, text="", value=int(value) if isinstance(value, Fraction) and value.denominator == 1 else
                                      str(value) if isinstance(value, Fraction) else value, needs=tuple(opened.needs), at=at)
        return value

    def knows(self, key: Key) -> bool:
        """Whether a quantity has been worked out."""
        return key in self._known

    def busy(self, key: Key) -> bool:
        """Whether a quantity is being worked out just now."""
        return any(each.key == key for each in self._stack)

    def tell(self, name: str, text: str, because: str = "") -> None:
        """Say how a quantity is written, and why it is so."""
        self._words.setdefault(name, (text, because))

    def stands_on(self, name: str) -> set[str]:
        """All quantities that one stands on, near and far."""
        found: set[str] = set()
        waiting = [name]
        while waiting:
            trace = self._traces.get(waiting.pop())
            for need in trace.needs if trace else ():
                if need not in found:
                    found.add(need)
                    waiting.append(need)
        return found

    def need(self, name: str) -> None:
        """Note that the quantity being worked out stands on another."""
        if self._stack:
            self._stack[-1].needs[name] = None

    def value(self, sized: Sized, lookup: Lookup, want: Want) -> Known:
        """The value of a size as written. Raises `Unsolved` after reporting what is wrong."""
        try:
            tree = parse_size(sized.text)
        except Refused as fault:
            self.report(fault, sized.at)
            raise Unsolved from None
        return self.tree_value(tree, sized, lookup, want)

    def tree_value(self, tree: Size, sized: Sized, lookup: Lookup, want: Want) -> Known:
        """The value of a size that is part of a spoken text. Raises `Unsolved` after reporting."""
        self.findings.extend(odd_numbers(tree, sized.text, sized.at))
        units = sized.units or self.written
        try:
            return wanted(value_of(tree, lookup, Reading(units, self.edition)), want, tree, sized.text)
        except Refused as fault:
            self.report(fault, sized.at)
            raise Unsolved from None

    def report(self, fault: Refused, at: Spot) -> None:
        """Record the fault of a text, once."""
        self.findings.add(diagnostic(fault, at))

    def refuse(self, code: str, says: str, at: Spot | None, hint: str = "", *, also: tuple[Spot, ...] = ()) -> Unsolved:
        """Record an error and give the exception to raise."""
        self.findings.error(code, says, at, hint, also=also)
        return Unsolved()

    def _circle(self, key: Key) -> None:
        first = next(index for index, each in enumerate(self._stack) if each.key == key)
        ring = self._stack[first:]
        for each in ring:
            self._failed.add(each.key)
        names = [each.name for each in ring]
        links = ", ".join(f"{name} needs {following}" for name, following in zip(names, [*names[1:], names[0]], strict=True))
        spots = tuple(dict.fromkeys(each.at for each in ring if each.at is not None))
        says = f"These sizes go round in a circle: {links}." if len(names) > 1 else f"`{names[0]}` needs itself."
        self.findings.add(Diagnostic("circle", says, spots[0] if spots else None, "Write one of them without the others.", also=spots[1:]))

    def agree(self, name: str, first: str) -> None:
        """Keep a trace for a name that all copies share, by way of the first of them."""
        trace = self._traces.get(first)
        if trace is not None and name not in self._traces:
            self._traces[name] = Trace(name=name, text="", value=trace.value, needs=(first,), at=trace.at)
            self.tell(name, first, "the same for all copies")

    def traces(self) -> tuple[Trace, ...]:
        """How each quantity came about, in the order of their names."""
        found = []
        for name in sorted(self._traces):
            trace = self._traces[name]
            text, because = self._words.get(name, ("", ""))
            found.append(Trace(name=name, text=text, value=trace.value, needs=trace.needs, because=because, at=trace.at))
        return tuple(found)
