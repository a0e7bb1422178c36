"""notes.md → Notes: headings become steps, `{{ … }}` becomes exact sizes and references.

In: the text, the Model, and two ways to ask: `evaluate` (a size expression) and `photo` (a picture of the plan's folder).
Out: Notes and a report. Nothing in the text is run as code: what stands between the braces is read by the grammar of
sizes, or is one of seven quoted forms. This stage must not know pages, numbers or themes.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from markdown_it import MarkdownIt
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token

from compiler.base.measures import Angle, Length, inch, mm
from compiler.base.report import Findings, Outcome, Spot
from compiler.base.showing import Style, nearest, show
from compiler.values import document as doc
from compiler.values.model import AXES, FACES, Model
from compiler.values.notes import Notes, NoteStep

Known = Length | Angle | Fraction | int | str
Evaluate = Callable[[str, Spot], Outcome[Known]]
TakePhoto = Callable[[str, str, str, Spot], Outcome[doc.Photo]]

STEP_FIELDS = ("makes", "adds", "works", "view", "photo", "time", "tools", "repeat", "only", "video")
TITLE_FIELDS = ("skill", "subtitle", "time")
SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")

_FIELD = re.compile(r":([a-z][a-z -]*):(?:\s+(.*))?$")
_CALL = re.compile(
    r'(part|figure|table|step|section|joint|count)\s*\(\s*"([^"]*)"\s*(?:,\s*"([^"]*)"\s*)?\)\s*(?:\.\s*([a-z ]+))?$'
)
_HAND = re.compile(
    r"(?<![\w./])(\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+)(\s?(?:mm|cm|in)\b|[\"″'′])?(?![\w/.]*\d)(?!\s*(?:h|hours?|min|minutes?|coats?|turns?)\b)"
)
_FILL = re.compile(r"\s*\[fill: ?([^\]]*)\]")
_TIME = re.compile(r"(?:(\d+)\s*h)?\s*(?:(\d+)\s*min)?$")


def read_notes(text: str, file: str, model: Model, evaluate: Evaluate, photo: TakePhoto) -> Outcome[Notes]:
    """The notes of one edition. Every fault is reported; a step with faults is kept, without what was wrong in it."""
    return _Reader(text, file, model, evaluate, photo).read()


@dataclass(frozen=True, slots=True)
class _Head:
    level: int
    inline: Token
    line: int


class _Reader:
    """Walks the tokens once; holds what the walk needs and nothing that outlives it."""

    def __init__(self, text: str, file: str, model: Model, evaluate: Evaluate, photo: TakePhoto) -> None:
        self.lines = text.splitlines()
        self.text, self.file, self.model = text, file, model
        self.evaluate, self.photo = evaluate, photo
        self.found = Findings()
        self.style = Style(
            model.edition.units, Fraction(1, 64) if model.edition.units == "inch" else Fraction(1, 2)
        )
        self.known = _values(model)
        self.figures_seen = 0

    # ---- structure ----

    def read(self) -> Outcome[Notes]:
        tokens = _markdown().parse(self.text)
        title, skill, group = "", 0, ""
        subtitle: doc.Inlines = ()
        introduction: tuple[doc.Block, ...] = ()
        steps: list[NoteStep] = []
        fields_of_title: dict[str, tuple[str, Spot]] = {}
        for head, body in _chunks(tokens):
            if head is None or (head.level == 1 and not title):
                fields, rest = self.fields(body, TITLE_FIELDS if head else ())
                if head is not None:
                    title = head.inline.content
                    fields_of_title = fields
                introduction += self.blocks(rest, head)
            elif head.level == 1:
                group = head.inline.content
                introduction_of_group = self.blocks(body, head)
                if introduction_of_group:
                    self.found.warning(
                        "text-between-steps",
                        f"The text under {group!r} belongs to no step.",
                        self.spot(head.line),
                        "Put it under a ## heading.",
                    )
            else:
                step = self.step(head, body, group)
                if step is not None:
                    steps.append(step)
        if "subtitle" in fields_of_title:
            subtitle = self.plain(*fields_of_title["subtitle"])
        if "skill" in fields_of_title:
            value, at = fields_of_title["skill"]
            skill = int(value) if value in ("1", "2", "3", "4") else 0
            if not skill:
                self.found.error("bad-field", f"skill is {value!r}.", at, "Write 1, 2, 3 or 4.")
        notes = Notes(
            title=title, subtitle=subtitle, introduction=introduction, skill=skill, steps=tuple(steps)
        )
        self.check_adds(notes)
        return Outcome(notes, self.found.report())

    def step(self, head: _Head, body: list[Token], group: str) -> NoteStep | None:
        fields, rest = self.fields(body, STEP_FIELDS)
        if "only" in fields:
            value, at = fields["only"]
            if value not in ("inch", "metric"):
                self.found.error("bad-field", f"only is {value!r}.", at, "Write inch or metric.")
            elif (value == "metric") != (self.model.edition.units == "mm"):
                return None
        step = NoteStep(
            key=head.inline.content,
            title=self.inlines(head.inline, head.line),
            content=self.blocks(rest, head),
            group=group,
            adds=self.names(fields.get("adds")),
            works=self.names(fields.get("works")),
            makes=self.names(fields.get("makes")),
            made=fields["makes"][0] if "makes" in fields else "",
            at=self.spot(head.line),
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
            step = replace(step, time=fields["time"][0], minutes=self.minutes(*fields["time"]))
        if "tools" in fields:
            step = replace(
                step, tools=tuple(word.strip() for word in fields["tools"][0].split(",") if word.strip())
            )
        if "repeat" in fields:
            value, at = fields["repeat"]
            if value.isdigit() and int(value) > 0:
                step = replace(step, repeat=int(value))
            else:
                self.found.error("bad-field", f"repeat is {value!r}.", at, "Write a whole number: 2.")
        return replace(step, video=fields["video"][0]) if "video" in fields else step

    def fields(
        self, body: list[Token], allowed: Iterable[str]
    ) -> tuple[dict[str, tuple[str, Spot]], list[Token]]:
        """The field list that follows a heading, and the rest. A field's place is its value's."""
        if len(body) < 3 or body[0].type != "paragraph_open" or not body[1].content.startswith(":"):
            return {}, body
        first = body[1].map[0] if body[1].map else 0
        found: dict[str, tuple[str, Spot]] = {}
        for number, line in enumerate(body[1].content.splitlines()):
            match = _FIELD.match(line.strip())
            column = self.lines[first + number].find(":") + 1
            if match is None:
                self.found.error(
                    "bad-field",
                    "This line stands in the field list and is no field.",
                    self.spot(first + number),
                    "Leave a blank line after the fields.",
                )
                continue
            name, value = match.group(1), (match.group(2) or "").strip()
            at = Spot(self.file, line=first + number + 1, column=column + len(name) + 2 + 1)
            key_at = Spot(self.file, line=first + number + 1, column=column + 1)
            if name not in allowed:
                close = difflib.get_close_matches(name, list(allowed), 1)
                self.found.error(
                    "unknown-field",
                    f"Unknown field `{name}`.",
                    key_at,
                    f"{close[0]}" if close else f"The fields are {', '.join(allowed)}.",
                )
            elif name in found:
                self.found.error(
                    "duplicate-key", f"`{name}` is written twice in this step.", key_at, "Remove one."
                )
            elif not value:
                self.found.error(
                    "empty-field", f"`{name}` has no value.", key_at, "Write it behind the second colon."
                )
            else:
                found[name] = (value, at)
        return found, body[3:]

    def check_adds(self, notes: Notes) -> None:
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

    def names(self, field: tuple[str, Spot] | None) -> tuple[str, ...]:
        if field is None:
            return ()
        found: list[str] = []
        for match in re.finditer(r"[^,]+", field[0]):
            word = match.group().strip()
            at = replace(
                field[1],
                column=(field[1].column or 1)
                + match.start()
                + len(match.group())
                - len(match.group().lstrip()),
            )
            names = self.model.named(word)
            if word and not names:
                self.unknown_part(word, at)
            found.extend(name for name in names if name not in found)
        return tuple(found)

    def minutes(self, text: str, at: Spot) -> int:
        match = _TIME.match(text.strip())
        if not text.strip() or match is None or not any(match.groups()):
            self.found.error("bad-field", f"time is {text!r}.", at, "Write 40 min, 2 h or 1 h 30 min.")
            return 0
        return int(match.group(1) or 0) * 60 + int(match.group(2) or 0)

    # ---- blocks ----

    def blocks(self, tokens: list[Token], head: _Head | None) -> tuple[doc.Block, ...]:
        made: list[doc.Block] = []
        at = 0
        while at < len(tokens):
            token = tokens[at]
            end = _closing(tokens, at)
            inner = tokens[at + 1 : end]
            if token.type == "paragraph_open":
                made.extend(self.paragraph(inner[0]))
            elif token.type in ("bullet_list_open", "ordered_list_open"):
                made.append(self.item_list(inner, "numbers" if token.type[0] == "o" else "bullets"))
            elif token.type == "heading_open":
                made.append(doc.Heading(content=self.inlines(inner[0], _line(token)), level=3))
            elif token.type == "blockquote_open":
                made.append(doc.Note(title="", content=self.blocks(inner, head)))
            elif token.type in ("fence", "code_block"):
                self.found.warning(
                    "unprintable-block",
                    "Notes don't print blocks of code.",
                    self.spot(_line(token)),
                    "Write it as text.",
                )
            elif token.type == "table_open":
                self.found.warning(
                    "unprintable-block",
                    "Notes don't print tables typed by hand.",
                    self.spot(_line(token)),
                    'Refer to a table of the plan: {{ table("cut list") }}.',
                )
            at = end + 1
        return tuple(made)

    def item_list(self, tokens: list[Token], style: str) -> doc.ItemList:
        items: list[tuple[doc.Block | doc.Inlines, ...]] = []
        at = 0
        while at < len(tokens):
            end = _closing(tokens, at)
            inner = tokens[at + 1 : end]
            if inner and inner[0].type == "paragraph_open":
                items.append((self.inlines(inner[1], _line(inner[0])), *self.blocks(inner[3:], None)))
            else:
                items.append(tuple(self.blocks(inner, None)))
            at = end + 1
        return doc.ItemList(items=tuple(items), style="numbers" if style == "numbers" else "bullets")

    def paragraph(self, token: Token) -> Iterator[doc.Block]:
        children = token.children or []
        if len(children) == 1 and children[0].type == "image":
            image = children[0]
            at = self.spot(_line(token))
            taken = self.photo(
                str(image.attrGet("src") or ""), image.content, str(image.attrGet("title") or ""), at
            )
            self.found.extend(taken.report)
            if taken.value is not None:
                yield taken.value
            return
        content = self.inlines(token, _line(token))
        first = content[0] if content else ""
        word, colon, rest = first.partition(":") if isinstance(first, str) else ("", "", "")
        if colon and word in SIGNALS:
            yield doc.Signal(word=word, content=(_trimmed(rest, content),), source="author")  # type: ignore[arg-type]
        elif colon and word == "Check":
            yield doc.Check(content=_trimmed(rest, content))
        elif colon and word == "Note":
            yield doc.Note(title="Note", content=(doc.Paragraph(content=_trimmed(rest, content)),))
        else:
            yield doc.Paragraph(content=content)

    # ---- inline ----

    def inlines(self, token: Token, line: int) -> doc.Inlines:
        made, _ = self.children(list(token.children or []), 0, line, "")
        return tuple(made)

    def plain(self, text: str, at: Spot) -> doc.Inlines:
        token = _markdown().parseInline(text)[0]
        return self.inlines(token, (at.line or 1) - 1)

    def children(self, tokens: list[Token], at: int, line: int, until: str) -> tuple[list[doc.Inline], int]:
        made: list[doc.Inline] = []
        while at < len(tokens):
            token = tokens[at]
            at += 1
            if token.type == until:
                return made, at
            if token.type == "text":
                text = self.without_fills(token.content, line)
                self.hand_typed(text, line)
                made.append(text)
            elif token.type == "softbreak":
                line += 1
                made.append(" ")
            elif token.type == "hardbreak":
                line += 1
                made.append(doc.Break())
            elif token.type in ("strong_open", "em_open", "link_open"):
                inner, at = self.children(tokens, at, line, token.type.replace("open", "close"))
                if token.type == "strong_open":
                    made.append(doc.Strong(tuple(inner)))
                elif token.type == "em_open":
                    made.append(doc.Emphasis(tuple(inner)))
                else:
                    made.append(doc.Link(tuple(inner), str(token.attrGet("href") or "")))
            elif token.type == "code_inline":
                made.append(doc.Code(token.content))
            elif token.type == "size":
                made.extend(self.between_braces(token.content, self.find(token.content, line)))
            elif token.type == "image":
                self.found.warning(
                    "photo-in-text", "A photo stands alone, with blank lines round it.", self.spot(line)
                )
        return _joined(made), at

    def without_fills(self, text: str, line: int) -> str:
        """The text without its `[fill: …]` marks: they are told to the author until they are gone, and never printed."""
        for match in _FILL.finditer(text):
            self.found.advice("to-fill", f"To fill: {match.group(1).strip()}.", self.find(match.group(), line))
        return _FILL.sub("", text)

    def find(self, content: str, line: int) -> Spot:
        """The place of an expression: its own text in this line or the following ones."""
        for number in range(line, min(line + 40, len(self.lines))):
            column = self.lines[number].find(content)
            if column >= 0:
                return Spot(
                    self.file, line=number + 1, column=column + 1 + len(content) - len(content.lstrip())
                )
        return self.spot(line)

    def between_braces(self, raw: str, at: Spot) -> list[doc.Inline]:
        text = raw.strip()
        if raw.startswith("%"):
            at = replace(at, column=(at.column or 2) - 1)
            self.found.error(
                "statement-in-notes",
                "Notes hold sizes and references, no template statements.",
                at,
                ":only: inch under a heading chooses a step for one edition.",
            )
            return []
        call = _CALL.match(text)
        if call is not None:
            return self.call(call, at)
        outcome = self.evaluate(text, at)
        self.found.extend(outcome.report)
        value = outcome.value
        if value is None:
            return []
        return [value]

    def call(self, match: re.Match[str], at: Spot) -> list[doc.Inline]:
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
            return self.count(name, at)
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

    def count(self, name: str, at: Spot) -> list[doc.Inline]:
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
                1
                for working in parts[0].workings
                if working.kind in (*wanted, tail)
                for _ in working.features or (None,)
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
        words = sorted(
            {kind.name for kind in self.model.kinds}
            | {part.name for part in self.model.parts}
            | {group for part in self.model.parts for group in part.assembly}
        )
        close = difflib.get_close_matches(name, words, 1)
        self.found.error(
            "unknown-part", f"There is no part called `{name}`.", at, f"{close[0]}?" if close else ""
        )

    def hand_typed(self, text: str, line: int) -> None:
        """Warn of a measurement typed by hand that equals no size of this edition."""
        for match in _HAND.finditer(text):
            number, unit = match.group(1), (match.group(2) or "").strip()
            if "/" not in number and not unit:
                continue
            if "/" in number and Fraction(number.split("/")[0].split()[-1]) == 0:
                continue
            if number.endswith("/0"):
                continue
            value = _typed(number, unit, self.model)
            if any(
                value == known or nearest(known.inches, Fraction(1, 64)) == value.inches
                for known in self.known
            ):
                continue
            if not self.known:
                continue
            close = min(self.known, key=lambda known: (abs(known - value), known))
            name = self.known[close]
            self.found.warning(
                "hand-typed-size",
                f"{match.group().strip()} is no size of this plan; {name} is {show(close, self.style).text}.",
                self.find(match.group().strip(), line),
                f"{{{{ {name} }}}}; or {{{{ {number} }}}} if you mean it.",
            )

    def spot(self, line: int) -> Spot:
        text = self.lines[line] if line < len(self.lines) else ""
        return Spot(self.file, line=line + 1, column=len(text) - len(text.lstrip()) + 1)


def _markdown() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    parser.inline.ruler.before("text", "size", _size_rule)
    return parser


def _size_rule(state: StateInline, silent: bool) -> bool:
    for opening, closing in (("{{", "}}"), ("{%", "%}")):
        if state.src.startswith(opening, state.pos):
            end = state.src.find(closing, state.pos + 2)
            if end < 0:
                return False
            if not silent:
                token = state.push("size", "", 0)
                token.content = ("%" if opening == "{%" else "") + state.src[state.pos + 2 : end]
            state.pos = end + 2
            return True
    return False


def _chunks(tokens: list[Token]) -> Iterator[tuple[_Head | None, list[Token]]]:
    """Each level 1 or 2 heading with what follows it; first what stands before any."""
    head: _Head | None = None
    body: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.type == "heading_open" and token.tag in ("h1", "h2"):
            if head is not None or body:
                yield head, body
            head, body = _Head(int(token.tag[1]), tokens[at + 1], _line(token)), []
            at += 3
            continue
        body.append(token)
        at += 1
    if head is not None or body:
        yield head, body


def _closing(tokens: list[Token], at: int) -> int:
    """Where the block that opens at `at` ends."""
    depth = 0
    for index in range(at, len(tokens)):
        depth += tokens[index].nesting
        if depth == 0:
            return index
    return len(tokens) - 1


def _line(token: Token) -> int:
    return token.map[0] if token.map else 0


def _trimmed(rest: str, content: doc.Inlines) -> doc.Inlines:
    """What follows the word and its colon, with a capital."""
    rest = rest.lstrip()
    return (rest[:1].upper() + rest[1:], *content[1:]) if rest else tuple(content[1:])


def _joined(inlines: list[doc.Inline]) -> list[doc.Inline]:
    made: list[doc.Inline] = []
    for item in inlines:
        if isinstance(item, str) and made and isinstance(made[-1], str):
            made[-1] += item
        else:
            made.append(item)
    return made


def _typed(number: str, unit: str, model: Model) -> Length:
    if unit == "mm":
        return mm(number)
    if unit == "cm":
        return mm(number) * 10
    if unit in ("'", "′"):
        return inch(number) * 12
    if unit in ("in", '"', "″") or model.edition.units == "inch":
        return inch(number)
    return mm(number)


def _values(model: Model) -> dict[Length, str]:
    """Every size and place that a step may speak of, with the first name it has."""
    found: dict[Length, str] = {}
    for name, length in model.measures:
        found.setdefault(length, name)
    for part in model.parts:
        for name, length in (("length", part.length), ("width", part.width), ("thickness", part.thickness)):
            found.setdefault(length, f"{part.kind}.{name}")
        for axis in AXES:
            found.setdefault(part.box.span(axis).size, f"{part.name}.{axis}")
        for face in FACES:
            found.setdefault(part.box.face(face), f"{part.name}.{face}")
        for working in part.workings:
            for name, value in working.values:
                if isinstance(value, Length):
                    found.setdefault(value, f"{part.kind} {working.kind} {name}")
    for joint in model.joints:
        for name, value in joint.values:
            if isinstance(value, Length):
                found.setdefault(value, f'joint("{joint.acting}", "{joint.receiver}").{name}')
    for use in model.hardware:
        for name, length in use.item.measures:
            found.setdefault(length, f"{use.item.name} {name}")
    return found
