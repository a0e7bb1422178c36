"""Document + Theme → Pages.

In: a numbered, resolved Document and a Theme. Out: well-formed markup, one style sheet, the drawings and files
they name. A template that fails is one diagnostic that names the template, its line and the block it was given.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from html import unescape
from types import MappingProxyType
from typing import Any

from markupsafe import Markup

from compiler.base.report import Findings, Outcome, Spot
from compiler.base.showing import Style
from compiler.draw.stylesheet import StyleText, judge_style
from compiler.language.names import listed, meant
from compiler.stages.dress.blocks import (
    BLOCKS,
    anchors,
    describe,
    full_size,
    halves,
    kind_of,
    lines,
    room,
    runs,
)
from compiler.stages.dress.cells import Cells
from compiler.stages.dress.forming import CLOSE, unclosed, unformed
from compiler.stages.dress.pictures import Pictures
from compiler.stages.dress.template_faults import TemplateFault
from compiler.stages.dress.templates import Templates, safe
from compiler.stages.dress.words import Words, letters_in, plain, ring
from compiler.values import document as doc
from compiler.values.pages import PAGE_MARK, Pages, page_mark
from compiler.values.theme import Theme

_CALLED = re.compile(r"\b(?:id|name)=[\"']([^\"']*)")

SHORT_TITLE = 64
"""Letters of a plan's name that fit a running head beside a section's."""


@dataclass(frozen=True, slots=True)
class PlanFacts:
    """What every template may know of the plan."""

    title: str
    short_title: str
    shop: str
    number: str
    issue: int
    date: str
    units: str
    paper: str
    language: str
    subject: str
    sample: bool
    disclosure: str
    edition: str


def dress(document: doc.Document, theme: Theme) -> Outcome[Pages]:
    """The document in the theme's clothes. A failing template is an error; its block is left out to find further faults."""
    return _Dresser(document, theme).dress()


class _Dresser:
    def __init__(self, document: doc.Document, theme: Theme) -> None:
        self.document = document
        self.theme = theme
        self.found = Findings()
        self.sections = tuple(section for section in document.sections if section.name not in theme.leave_out)
        self.pictures = Pictures()
        self.words = Words(Style(document.units, document.step), frozenset(anchors(self.sections)))
        self.cells = Cells(self.words, self.pictures)
        self.facts = _facts(document)
        self.trail: list[str] = []
        self.rendering: list[str] = []
        self.failed: set[tuple[str, str]] = set()
        self.runaways: set[str] = set()
        self.paged: dict[str, str] = {}
        self.careful = False
        self.level = 1
        self.grouped = False
        self.templates = Templates(dict(theme.templates), {
            "plan": self.facts,
            "options": MappingProxyType({option.name.replace("-", "_"): option.value for option in theme.options}),
            "inline": safe(self.words.inline),
            "plain": plain,
            "ring": safe(ring),
            "letters": safe(letters_in),
            "blocks": safe(self.blocks),
            "items": self.items,
            "picture": safe(self.pictures.drawing),
            "photo": safe(self.pictures.photo),
            "mark": safe(self.pictures.mark),
            "code": safe(self.pictures.code),
            "theme_picture": safe(self.pictures.of_theme),
            "page": self.page,
            "cell": self.cells.cell,
            "span": self.cells.span,
            "kind": kind_of,
            "room": room,
            "lines": lines,
            "runs": runs,
            "heading_level": self.heading_level,
            "halves": halves,
            "full_size": full_size,
            "step_level": self.step_level,
        })

    def dress(self) -> Outcome[Pages]:
        before, after = (None, *self.sections), (*self.sections[1:], None)
        body = Markup("").join(self._section(*three) for three in zip(self.sections, before, after, strict=False))
        document = self.document
        self.trail = []
        markup = self._render("document", body=body, has_cover=self._has_cover())
        sheets = self.theme.sheets(document.paper)
        style = StyleText(sheets)
        if self.found.report().ok and not self.careful and (fault := unformed(str(markup))):
            return self._carefully(fault)
        self._judge_pages(str(markup))
        if not self.found.report().ok:  # the layout, which would name what it ignores, isn't reached
            judge_style(style, self.found)
            return Outcome(None, self.found.report())
        return Outcome(Pages(
            markup=str(markup),
            style=style.text,
            figures=tuple(self.pictures.figures),
            files=(*((f"theme:{name}", content) for name, content in self.theme.files), *self.pictures.files),
            faces=self.theme.faces,
            pens=self.theme.pens,
            sections=tuple((section.anchor, " ".join(filter(None, (section.number, section.title))))
                           for section in self.sections if section.anchor),
            title=f"{document.title}, {self.facts.edition[0].lower()}{self.facts.edition[1:]}",
            author=document.shop,
            subject=document.subject,
            language=document.language,
            date=document.date,
            cover=self._has_cover(),
            sheets=sheets,
            templates=self.theme.sources(),
        ), self.found.report())

    def _carefully(self, fault: str) -> Outcome[Pages]:
        """The same once more, each template's markup looked at by itself, to name those that are not well-formed."""
        again = _Dresser(self.document, self.theme)
        again.careful = True
        outcome = again.dress()
        if outcome.report.ok:
            again.found.error("markup-broken", f"The theme's templates make markup that is not well-formed: {fault}.", None, CLOSE)
        return Outcome(None, again.found.report())

    def _judge_pages(self, markup: str) -> None:
        """Page numbers are asked only of what is called so somewhere."""
        called = {unescape(name) for name in _CALLED.findall(markup)}
        lost: dict[str, list[str]] = {}
        for anchor in dict.fromkeys(PAGE_MARK.findall(markup)):
            if anchor in self.paged and anchor not in called:
                lost.setdefault(self.paged[anchor], []).append(anchor)
        for template, anchors_of in lost.items():
            name = f"{template}.html"
            fault = TemplateFault("", name, _line_of("page(", dict(self.theme.templates)[name]), "page(")
            what = listed(f"`{anchor}`" for anchor in anchors_of)
            self.found.error("page-of-nothing", f"The template `{template}` prints the page number of {what}, and nothing in the pages is called so.",
                             self._spot(fault), meant(anchors_of[0], sorted(called), "Give an element that id, or print no number."))

    def page(self, anchor: str) -> str:
        """The mark for a page's number."""
        self.paged.setdefault(anchor, self.rendering[-1])
        return page_mark(anchor)

    def _has_cover(self) -> bool:
        return any(isinstance(block, doc.Cover) for section in self.sections[:1] for block in section.blocks)

    def _section(self, section: doc.Section, before: doc.Section | None, after: doc.Section | None) -> Markup:
        self.trail = [f"section {section.title or section.name}"]
        self.level = 1
        self.grouped = any(isinstance(block, doc.Heading) and not block.minor for block in section.blocks)
        if any(isinstance(block, doc.Cover) for block in section.blocks):
            return Markup(self.blocks(section.blocks))
        flows, goes_on = self._flows(before, section), self._flows(section, after)
        return self._render("section", section=section, flows=flows, goes_on=goes_on)

    def _flows(self, section: doc.Section | None, after: doc.Section | None) -> bool:
        """Whether the section after begins on the page on which a section ends."""
        return section is not None and after is not None and after.name in self.theme.flows and not full_size(section.blocks)

    def blocks(self, blocks: Iterable[doc.Block]) -> str:
        """The markup of blocks, one after another."""
        return "".join(self._block(block) for block in blocks)

    def _block(self, block: doc.Block) -> str:
        self.trail.append(describe(block))
        try:
            return str(self._render(kind_of(block), block=block))
        finally:
            self.trail.pop()

    def items(self, entry: Any) -> Markup:
        """An item of a list: inlines, or blocks in it."""
        if isinstance(entry, tuple) and any(isinstance(part, BLOCKS) for part in entry):
            return Markup("".join(self._block(part) if isinstance(part, BLOCKS) else self.words.inline(part) for part in entry))
        return Markup(self.words.inline(entry))

    def heading_level(self, level: int) -> int:
        """The level a heading may have here: levels are not skipped, so that the tags make an outline."""
        self.level = min(level, self.level + 1)
        return self.level

    def step_level(self) -> int:
        """The level of a step's heading: below that of a group of steps, where the section has groups."""
        self.level = 3 if self.grouped else 2
        return self.level

    def _render(self, template: str, **given: object) -> Markup:
        if f"{template}.html" in self.runaways:
            return Markup("")
        self.rendering.append(template)
        try:
            markup = self.templates.render(f"{template}.html", **given)
            if self.careful and (says := unformed(f"<body>{markup}</body>" if template != "document" else str(markup))):
                source = dict(self.theme.templates)[f"{template}.html"]
                line, word, hint = unclosed(source)
                raise TemplateFault(says, f"{template}.html", line, word, hint)
            return markup
        except TemplateFault as fault:
            self.runaways |= {fault.template} if fault.runaway else set()
            name = fault.template.removesuffix(".html")
            if (fault.template, fault.says) not in self.failed:  # the same mistake may be met in another section
                self.failed.add((fault.template, fault.says))
                where = f" (in {', '.join(self.trail)})" if self.trail else ""
                if self.careful:
                    says = f"The template `{name}` makes markup that is not well-formed{where}: {fault.says}."
                    self.found.error("markup-broken", says, self._spot(fault), fault.hint or CLOSE)
                else:
                    self.found.error("template-failed", f"The template `{name}` failed{where}: {fault.says}.", self._spot(fault), fault.hint
                                     or "Templates see `block`, `plan`, `options` and the functions listed in themes/README.md.")
            return Markup("")
        finally:
            self.rendering.pop()

    def _spot(self, fault: TemplateFault) -> Spot:
        return fault.spot(self.theme.place(f"templates/{fault.template}"), dict(self.theme.templates).get(fault.template, ""))


def _line_of(words: str, source: str) -> int:
    """The first line with these words, 0 when there is none."""
    return next((number for number, line in enumerate(source.split("\n"), start=1) if words in line), 0)


def _facts(document: doc.Document) -> PlanFacts:
    title = document.title
    if len(title) > SHORT_TITLE:
        title = title[:SHORT_TITLE].rsplit(" ", 1)[0].rstrip(" ,;:–—") + "…"
    return PlanFacts(
        title=document.title, short_title=title, shop=document.shop, number=document.number, issue=document.issue,
        date=document.date, units=document.units, paper=document.paper, language=document.language,
        subject=document.subject, sample=document.sample, disclosure=document.disclosure,
        edition=f"Plan {document.number}, issue {document.issue}",
    )
