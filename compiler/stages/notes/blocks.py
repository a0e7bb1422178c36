"""Blocks of the notes: paragraphs, lists, headings, photographs, and paragraphs that say with their first word what they are.

In: block tokens. Out: document blocks. `WARNING:` and its kin become signals, `Check:` a check, `Note:` a note.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from markdown_it.token import Token

from compiler.base.report import Findings, Outcome, Spot
from compiler.stages.notes.inline import Inline
from compiler.stages.notes.markdown import closing, line_of
from compiler.stages.notes.page import Page
from compiler.values import document as doc

TakePhoto = Callable[[str, str, str, Spot], Outcome[doc.Photo]]

SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")


class Blocks:
    """Turns block tokens into document blocks."""

    def __init__(self, inline: Inline, page: Page, photo: TakePhoto, found: Findings) -> None:
        self.inline, self.page, self.photo, self.found = inline, page, photo, found

    def blocks(self, tokens: list[Token]) -> tuple[doc.Block, ...]:
        """The blocks of some tokens; what can't be printed is reported and left out."""
        made: list[doc.Block] = []
        at = 0
        while at < len(tokens):
            token = tokens[at]
            end = closing(tokens, at)
            inner = tokens[at + 1 : end]
            if token.type == "paragraph_open":
                made.extend(self._paragraph(inner[0]))
            elif token.type in ("bullet_list_open", "ordered_list_open"):
                items = self._item_list(inner, "numbers" if token.type[0] == "o" else "bullets")
                made.extend([items] if items.items else [])
            elif token.type == "heading_open":
                made.append(doc.Heading(content=self.inline.inlines(inner[0], line_of(token)), level=3))
            elif token.type == "blockquote_open":
                made.append(doc.Note(title="", content=self.blocks(inner)))
            elif token.type in ("fence", "code_block"):
                self.found.warning(
                    "unprintable-block",
                    "Notes don't print blocks of code.",
                    self.page.spot(line_of(token)),
                    "Write it as text.",
                )
            elif token.type == "table_open":
                self.found.warning(
                    "unprintable-block",
                    "Notes don't print tables typed by hand.",
                    self.page.spot(line_of(token)),
                    'Refer to a table of the plan: {{ table("cut list") }}.',
                )
            at = end + 1
        return tuple(made)

    def _item_list(self, tokens: list[Token], style: str) -> doc.ItemList:
        items: list[tuple[doc.Block | doc.Inlines, ...]] = []
        at = 0
        while at < len(tokens):
            end = closing(tokens, at)
            inner = tokens[at + 1 : end]
            if inner and inner[0].type == "paragraph_open":
                words = self.inline.inlines(inner[1], line_of(inner[0]))
                item = (*((words,) if _said(words) else ()), *self.blocks(inner[3:]))
            else:
                item = tuple(self.blocks(inner))
            if item:
                items.append(item)
            at = end + 1
        return doc.ItemList(items=tuple(items), style="numbers" if style == "numbers" else "bullets")

    def _paragraph(self, token: Token) -> Iterator[doc.Block]:
        children = token.children or []
        if len(children) == 1 and children[0].type == "image":
            image = children[0]
            at = self.page.spot(line_of(token))
            taken = self.photo(str(image.attrGet("src") or ""), image.content, str(image.attrGet("title") or ""), at)
            self.found.extend(taken.report)
            if taken.value is not None:
                yield taken.value
            return
        content = self.inline.inlines(token, line_of(token))
        if not _said(content):
            return
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


def _said(content: doc.Inlines) -> bool:
    """Whether anything is left to print when places to fill are taken out; `Check:` alone says nothing."""
    return any(not isinstance(item, str) or item.strip() for item in content) and content != ("Check:",) and content != ("Note:",)


def _trimmed(rest: str, content: doc.Inlines) -> doc.Inlines:
    """What follows the word and its colon, with a capital."""
    rest = rest.lstrip()
    return (rest[:1].upper() + rest[1:], *content[1:]) if rest else tuple(content[1:])
