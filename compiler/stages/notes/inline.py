"""Inline text: words, marks, and what stands between braces.

In: inline tokens, the model, and `evaluate` for sizes. Out: inline content with exact sizes, part marks and references. Nothing
is run as code: what stands between braces is a size in the grammar of design.yaml, or one of seven quoted forms.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from markdown_it.token import Token

from compiler.base.measures import Angle, Length
from compiler.base.report import Findings, Outcome, Spot
from compiler.language.fills import without_fills
from compiler.stages.notes.hand_typed import HandTyped
from compiler.stages.notes.markdown import markdown
from compiler.stages.notes.page import Page
from compiler.values import document as doc
from compiler.values.model import Model

Known = Length | Angle | Fraction | int | str
Evaluate = Callable[[str, Spot], Outcome[Known]]

_CALL = re.compile(
    r'(part|figure|table|step|section|joint|count)\s*\(\s*"([^"]*)"\s*(?:,\s*"([^"]*)"\s*)?\)\s*(?:\.\s*([a-z ]+))?$'
)


UNCLOSED = (("{{", "}}"), ("{%", "%}"), ("[fill:", "]"))
"""What would be printed as it was typed, and what it lacks."""


class Inline:
    """Turns inline tokens into inline content, and reports what is wrong in them."""

    def __init__(self, model: Model, page: Page, evaluate: Evaluate, found: Findings) -> None:
        self.model, self.page, self.evaluate, self.found = model, page, evaluate, found
        self.hand = HandTyped(model, page, found)

    def inlines(self, token: Token, line: int) -> doc.Inlines:
        """The content of an inline token that begins on a line."""
        made, _ = self._children(list(token.children or []), 0, line, "")
        return tuple(made)

    def plain(self, text: str, at: Spot) -> doc.Inlines:
        """The content of a text of its own, such as a field."""
        token = markdown().parseInline(text)[0]
        return self.inlines(token, (at.line or 1) - 1)

    def _children(self, tokens: list[Token], at: int, line: int, until: str) -> tuple[list[doc.Inline], int]:
        made: list[doc.Inline] = []
        while at < len(tokens):
            token = tokens[at]
            at += 1
            if token.type == until:
                return made, at
            if token.type == "text":
                text = self.bare(token.content, line)
                self.hand.judge(text, line)
                made.append(text)
            elif token.type == "softbreak":
                line += 1
                made.append(" ")
            elif token.type == "hardbreak":
                line += 1
                made.append(doc.Break())
            elif token.type in ("strong_open", "em_open", "link_open"):
                inner, at = self._children(tokens, at, line, token.type.replace("open", "close"))
                if token.type == "strong_open":
                    made.append(doc.Strong(tuple(inner)))
                elif token.type == "em_open":
                    made.append(doc.Emphasis(tuple(inner)))
                else:
                    made.append(doc.Link(tuple(inner), str(token.attrGet("href") or "")))
            elif token.type == "code_inline":
                made.append(doc.Code(token.content))
            elif token.type == "size":
                made.extend(self._between_braces(token.content, self.page.find(token.content, line)))
            elif token.type == "image":
                self.found.warning("photo-in-text", "A photo stands alone, with blank lines round it.", self.page.spot(line))
        return _joined(made), at

    def bare(self, text: str, line: int) -> str:
        """The text without its places to fill, which are told."""
        bare, told = without_fills(text)
        for mark, says in told:
            self.found.advice("to-fill", says, self.page.find(mark, line))
        for mark, end in UNCLOSED:
            if mark in bare:
                self.found.error("not-closed", f"`{mark}` has no `{end}` behind it.", self.page.find(mark, line), f"Write {mark} … {end}.")
        return bare

    def _between_braces(self, raw: str, at: Spot) -> list[doc.Inline]:
        text = raw.strip()
        if raw.startswith("%"):
            at = replace(at, column=(at.column or 2) - 1)
            self.found.error(
                "statement-in-notes",
                "Notes hold sizes and references, no template statements.",
                at,
                "`:only: inch` under a heading chooses a step for one edition.",
            )
            return []
        call = _CALL.match(text)
        if call is not None:
            return self._call(call, at)
        outcome = self.evaluate(text, at)
        self.found.extend(outcome.report)
        value = outcome.value
        if value is None:
            return []
        return [value]

    def _call(self, match: re.Match[str], at: Spot) -> list[doc.Inline]:
        form, name, other, tail = (
            match.group(1),
            match.group(2),
            match.group(3),
            (match.group(4) or "").strip(),
        )
        at = replace(at, column=(at.column or 1) + match.start(2))
        if form in ("figure", "table", "step", "section"):
            return [doc.Ref(form, name, at=at)]  # type: ignore[arg-type]
        if form == "count":
            return self._count(name, at)
        names = self.model.named(name)
        if not names:
            self.unknown_part(name, at)
            return []
        if form == "part":
            part = self.model.part(names[0])
            shown = name.replace(".", " ") if len({self.model.part(n).letter for n in names}) == 1 else name
            return [doc.PartMark(names[0], part.letter, shown, at=at)]
        others = self.model.named(other or "")
        if not others:
            self.unknown_part(other or "", at)
            return []
        for joint in self.model.joints:
            if joint.acting in names and joint.receiver in others:
                value = joint.value(tail)
                if value is None:
                    have = ", ".join(key for key, _ in joint.values)
                    self.found.error(
                        "unknown-name",
                        f"The joint of `{name}` and `{other}` has no `{tail}`.",
                        at,
                        f"It has {have}.",
                    )
                    return []
                return [value]
        self.found.error(
            "no-such-joint",
            f"There is no joint of `{name}` into `{other}`.",
            at,
            "The part that acts is named first.",
        )
        return []

    def _count(self, name: str, at: Spot) -> list[doc.Inline]:
        names = self.model.named(name)
        if names:
            return [len(names)]
        head, _, tail = name.rpartition(".")
        parts = [self.model.part(part) for part in self.model.named(head)]
        if parts and tail == "strips":
            return [parts[0].strips]
        if parts:
            wanted = {tail, tail.removesuffix("s")}
            total = sum(
                1 for working in parts[0].workings if working.kind in (*wanted, tail) for _ in working.features or (None,)
            )
            if total:
                return [total]
        self.found.error(
            "unknown-name",
            f"There is nothing to count called `{name}`.",
            at,
            "Count parts (shelf), strips (top.strips) or workings (side.holes).",
        )
        return []

    def unknown_part(self, name: str, at: Spot) -> None:
        """Report a name that no part has, with the nearest that one has."""
        words = sorted(
            {kind.name for kind in self.model.kinds}
            | {part.name for part in self.model.parts}
            | {group for part in self.model.parts for group in part.assembly}
        )
        close = difflib.get_close_matches(name, words, 1)
        self.found.error("unknown-part", f"There is no part called `{name}`.", at, f"Did you mean {close[0]}?" if close else "")


def _joined(inlines: list[doc.Inline]) -> list[doc.Inline]:
    made: list[doc.Inline] = []
    for item in inlines:
        if isinstance(item, str) and made and isinstance(made[-1], str):
            made[-1] += item
        else:
            made.append(item)
    return made
