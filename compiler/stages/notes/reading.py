"""The notes as a whole: title, introduction, steps with their fields, and that every part is added once.

In: the text, the Model, and two ways to ask: `evaluate` (a size expression) and `photo` (a picture of the plan's folder).
Out: Notes and a report. This stage must not know pages, numbers or themes.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import replace

from markdown_it.token import Token

from compiler.base.report import Findings, Outcome, Spot
from compiler.language.fills import without_fills
from compiler.stages.notes.blocks import Blocks, TakePhoto
from compiler.stages.notes.inline import Evaluate, Inline
from compiler.stages.notes.markdown import Head, chunks, markdown
from compiler.stages.notes.page import Page
from compiler.values import document as doc
from compiler.values.model import Model
from compiler.values.notes import Notes, NoteStep

STEP_FIELDS = ("makes", "adds", "works", "view", "photo", "time", "tools", "repeat", "only", "video")
TITLE_FIELDS = ("skill", "subtitle", "time")

_FIELD = re.compile(r":([a-z][a-z -]*):(?:\s+(.*))?$")
_ADDRESS = re.compile(r"https?://[!-~]{3,192}")
_TIME = re.compile(r"(?:(\d+)\s*h)?\s*(?:(\d+)\s*min)?$")


def read_notes(text: str, file: str, model: Model, evaluate: Evaluate, photo: TakePhoto) -> Outcome[Notes]:
    """The notes of one edition. Every fault is reported; a step with faults is kept, without what was wrong in it."""
    return _Reader(text, file, model, evaluate, photo).read()


class _Reader:
    """Walks the tokens once; holds what the walk needs and nothing that outlives it."""

    def __init__(self, text: str, file: str, model: Model, evaluate: Evaluate, photo: TakePhoto) -> None:
        self.text, self.model, self.photo = text, model, photo
        self.page = Page(file, tuple(text.splitlines()))
        self.found = Findings()
        self.inline = Inline(model, self.page, evaluate, self.found)
        self.blocks = Blocks(self.inline, self.page, photo, self.found)

    def read(self) -> Outcome[Notes]:
        tokens = markdown().parse(self.text)
        title, skill, group = "", 0, ""
        subtitle: doc.Inlines = ()
        introduction: tuple[doc.Block, ...] = ()
        steps: list[NoteStep] = []
        fields_of_title: dict[str, tuple[str, Spot]] = {}
        for head, body in chunks(tokens):
            if head is None or (head.level == 1 and not title):
                fields, rest = self._fields(body, TITLE_FIELDS if head else ())
                self._stray_fields(rest, TITLE_FIELDS)
                if head is not None:
                    title = head.inline.content
                    fields_of_title = fields
                introduction += self.blocks.blocks(rest)
            elif head.level == 1:
                group = self.inline.bare(head.inline.content, head.line)
                introduction_of_group = self.blocks.blocks(body)
                if introduction_of_group:
                    self.found.warning(
                        "text-between-steps",
                        f"The text under {group!r} belongs to no step.",
                        self.page.spot(head.line),
                        "Put it under a ## heading.",
                    )
            else:
                step = self._step(head, body, group)
                if step is not None:
                    steps.append(step)
        if "subtitle" in fields_of_title:
            subtitle = self.inline.plain(*fields_of_title["subtitle"])
        if "skill" in fields_of_title:
            value, at = fields_of_title["skill"]
            skill = int(value) if value in ("1", "2", "3", "4") else 0
            if not skill:
                self.found.error("bad-field", f"`skill` is {value!r}.", at, "Write 1, 2, 3 or 4.")
        notes = Notes(title=title, subtitle=subtitle, introduction=introduction, skill=skill, steps=tuple(steps))
        self._check_adds(notes)
        return Outcome(notes, self.found.report())

    def _step(self, head: Head, body: list[Token], group: str) -> NoteStep | None:
        fields, rest = self._fields(body, STEP_FIELDS)
        self._stray_fields(rest, STEP_FIELDS)
        if "only" in fields:
            value, at = fields["only"]
            if value not in ("inch", "metric"):
                self.found.error("bad-field", f"`only` is {value!r}.", at, "Write inch or metric.")
            elif (value == "metric") != (self.model.edition.units == "mm"):
                return None
        step = NoteStep(
            key=without_fills(head.inline.content)[0],
            title=self.inline.inlines(head.inline, head.line),
            content=self.blocks.blocks(rest),
            group=group,
            adds=self._names(fields.get("adds")),
            works=self._names(fields.get("works")),
            makes=self._names(fields.get("makes")),
            made=fields["makes"][0] if "makes" in fields else "",
            at=self.page.spot(head.line),
        )
        if "view" in fields:
            step = replace(step, view=fields["view"][0], view_at=fields["view"][1])
        if "photo" in fields:
            path, _, says = fields["photo"][0].partition(",")
            taken = self.photo(path.strip(), says.strip(), "", fields["photo"][1])
            self.found.extend(taken.report)
            if taken.value is not None:
                step = replace(step, content=(*step.content, taken.value))
        if "time" in fields:
            step = replace(step, time=fields["time"][0], minutes=self._minutes(*fields["time"]))
        if "tools" in fields:
            step = replace(step, tools=tuple(word.strip() for word in fields["tools"][0].split(",") if word.strip()))
        if "repeat" in fields:
            value, at = fields["repeat"]
            if value.isdigit() and int(value) > 0:
                step = replace(step, repeat=int(value))
            else:
                self.found.error("bad-field", f"`repeat` is {value!r}.", at, "Write a whole number: 2.")
        if "video" in fields:
            address, at = fields["video"]
            if _ADDRESS.fullmatch(address):
                step = replace(step, video=address)
            else:
                self.found.error("bad-field", f"`video` is {address!r}.", at, "Write the whole address, at most 200 letters: https://…")
        return step

    def _fields(self, body: list[Token], allowed: Iterable[str]) -> tuple[dict[str, tuple[str, Spot]], list[Token]]:
        """The field list that follows a heading, and the rest. A field's place is its value's."""
        if len(body) < 3 or body[0].type != "paragraph_open" or not body[1].content.startswith(":"):
            return {}, body
        first = body[1].map[0] if body[1].map else 0
        found: dict[str, tuple[str, Spot]] = {}
        for number, line in enumerate(body[1].content.splitlines()):
            match = _FIELD.match(line.strip())
            column = self.page.lines[first + number].find(":") + 1
            if match is None:
                self.found.error(
                    "bad-field",
                    "This line stands in the field list and is no field.",
                    self.page.spot(first + number),
                    "Leave a blank line after the fields.",
                )
                continue
            name, value = match.group(1), (match.group(2) or "").strip()
            at = Spot(self.page.file, line=first + number + 1, column=column + len(name) + 2 + 1)
            key_at = Spot(self.page.file, line=first + number + 1, column=column + 1)
            if name not in allowed:
                close = difflib.get_close_matches(name, list(allowed), 1)
                self.found.error(
                    "unknown-field",
                    f"Unknown field `{name}`.",
                    key_at,
                    f"Did you mean {close[0]}?" if close else f"The fields are {', '.join(allowed)}.",
                )
            elif name in found:
                self.found.error("duplicate-key", f"`{name}` is written twice in this step.", key_at, "Remove one.")
            elif not value:
                self.found.error("empty-field", f"`{name}` has no value.", key_at, "Write it behind the second colon.")
            elif bare := self.inline.bare(value, first + number).strip() if name != "subtitle" else value:
                found[name] = (bare, at)
        return found, body[3:]

    def _stray_fields(self, body: list[Token], allowed: tuple[str, ...]) -> None:
        """Fields that stand anywhere but right below their heading: they would be printed as text."""
        for token in body:
            for number, line in enumerate(token.content.splitlines() if token.type == "inline" and token.map else ()):
                match = _FIELD.match(line.strip())
                if match is None or not (match[1] in allowed or difflib.get_close_matches(match[1], allowed, 1, 0.8)):
                    continue
                row = token.map[0] + number if token.map else 0
                spot = Spot(self.page.file, line=row + 1, column=self.page.lines[row].find(":") + 2)
                self.found.error("stray-field", f"`:{match[1]}:` stands below the text and would be printed.", spot,
                                 "Write it right below the heading, before everything else.")

    def _check_adds(self, notes: Notes) -> None:
        """Each part is added once; one never added is an error at its place in the design."""
        if not notes.steps:
            return
        first: dict[str, tuple[int, NoteStep]] = {}
        told: set[str] = set()
        for number, step in enumerate(notes.steps, start=1):
            for name in step.adds:
                if name not in first:
                    first[name] = (number, step)
                    continue
                kind = self.model.part(name).kind
                if kind not in told:
                    told.add(kind)
                    before = first[name]
                    self.found.error(
                        "added-twice",
                        f"`{kind}` is added in step {before[0]} and again in step {number}.",
                        step.at,
                        "Keep one; use :works: in the other.",
                        also=(before[1].at,) if before[1].at else (),
                    )
        for row in self.model.kinds:
            missing = [name for name in row.parts if name not in first]
            if missing:
                what = row.name if len(missing) == len(row.parts) else ", ".join(missing)
                self.found.error(
                    "never-added",
                    f"No step adds `{what}`.",
                    self.model.part(missing[0]).at,
                    "Name it under :adds: in the step that puts it in place.",
                )

    def _names(self, field: tuple[str, Spot] | None) -> tuple[str, ...]:
        if field is None:
            return ()
        found: list[str] = []
        for match in re.finditer(r"[^,]+", field[0]):
            word = match.group().strip()
            at = replace(
                field[1],
                column=(field[1].column or 1) + match.start() + len(match.group()) - len(match.group().lstrip()),
            )
            names = self.model.named(word)
            if word and not names:
                self.inline.unknown_part(word, at)
            found.extend(name for name in names if name not in found)
        return tuple(found)

    def _minutes(self, text: str, at: Spot) -> int:
        match = _TIME.match(text.strip())
        if not text.strip() or match is None or not any(match.groups()):
            self.found.error("bad-field", f"`time` is {text!r}.", at, "Write 40 min, 2 h or 1 h 30 min.")
            return 0
        return int(match.group(1) or 0) * 60 + int(match.group(2) or 0)
