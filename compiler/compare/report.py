"""One HTML file that shows what changed: the most changed plan first, lists loud, pages side by side.

In: the comparisons of one or more plans, with pictures. Out: the text of a page that needs nothing beside it.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from compiler.compare.lists import RowChange
from compiler.compare.pages import PageChange

MOST_WORDS, MOST_LETTERS = 12, 60
"""Differences of a page's words that the report shows, and how much of each."""
_BROKEN = re.compile(r"\d+(?: \d+)+")
"""What is read of a fraction in a drawing, whose bar is a line: the picture tells it better."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanComparison:
    """One plan: its pages, its rows, and PNG pictures of changed pages (page → bytes) before and after."""

    plan: str
    pages: tuple[PageChange, ...] = ()
    rows: tuple[RowChange, ...] = ()
    before: dict[int, bytes]
    after: dict[int, bytes]
    remark: str = ""

    @property
    def how_much(self) -> float:
        """For sorting: rows weigh most, then pages by how much of each changed."""
        return 10 * len(self.rows) + sum(change.how_much for change in self.pages)

    @property
    def sentences(self) -> tuple[str, ...]:
        """The change list in plain sentences, for release notes."""
        told = [row.sentence for row in self.rows]
        for change in self.pages:
            if change.kind == "changed":
                told.append(f"page {change.after}: {listed(change.what)} changed")
            elif change.kind == "moved":
                told.append(f"page {change.before} is now page {change.after}")
            elif change.kind == "added":
                told.append(f"page {change.after} is new")
            elif change.kind == "removed":
                told.append(f"page {change.before} is gone")
        return tuple(told)


def listed(words: tuple[str, ...]) -> str:
    """`text, numbers and drawings`."""
    return " and ".join((*((", ".join(words[:-1]),) if words[:-1] else ()), *words[-1:]))


def html(sections: Iterable[tuple[str, float, str]], failed: Iterable[str] = ()) -> str:
    """The report, from (plan, how much changed, its section): what changed most comes first. `failed` are plans that could not be made."""
    ordered = sorted(sections, key=lambda one: (-one[1], one[0]))
    changed = [section for _, _, section in ordered if section]
    same = [plan for plan, _, section in ordered if not section]
    broken = list(failed)
    body = f"<h2>Not made, because of errors</h2><p><b>{escape(', '.join(broken))}</b>: as published before.</p>" if broken else ""
    body += "".join(changed)
    if same:
        body += f"<h2>Unchanged</h2><p>{escape(', '.join(same))}</p>"
    return _PAGE.format(title=f"What changed in {len(changed)} of {len(ordered) + len(broken)} plans", body=body)


def section(one: PlanComparison) -> str:
    """One plan's part of the report; empty when nothing changed."""
    if not one.how_much and not one.remark:
        return ""
    rows = "".join(_row(row) for row in one.rows)
    table = f"<table><tr><th>List<th>Row<th>What<th>Before<th>After</tr>{rows}</table>" if rows else "<p>No list changed.</p>"
    pages = "".join(_page(change, one) for change in sorted(one.pages, key=lambda change: -change.how_much) if change.kind != "same")
    remark = f"<p><b>{escape(one.remark)}</b></p>" if one.remark else ""
    notes = "".join(f"<li>{escape(sentence)}</li>" for sentence in one.sentences)
    told = f"<details><summary>In sentences, for release notes</summary><ul>{notes}</ul></details>" if notes else ""
    return f"<h2>{escape(one.plan)}</h2>{remark}{table if one.pages or rows else ''}{told}{pages}"


def _row(row: RowChange) -> str:
    """A line of the table for each cell that changed."""
    head = f"<tr{' class=loud' if row.of == 'cut list' else ''}>"
    if not row.cells:
        return f"{head}<td>{escape(row.of)}</td><td>{escape(row.row)}</td><td colspan=3>{escape(row.kind)}</td></tr>"
    return "".join(
        f"{head}<td>{escape(row.of)}</td><td>{escape(row.row)}</td><td>{escape(cell)}</td><td>{escape(old)}</td><td>{escape(new)}</td></tr>"
        for cell, old, new in row.cells
    )


def _page(change: PageChange, one: PlanComparison) -> str:
    names = {"moved": f"was page {change.before}", "added": "new", "removed": "gone", "changed": f"changed: {listed(change.what)}"}
    number = change.after or change.before
    before, after = one.before.get(change.before or 0), one.after.get(change.after or 0)
    pair = (
        f"<div class=pair>{_picture(before, f'page {change.before} before')}{_picture(after, f'page {change.after} after')}</div>"
        if before or after else ""
    )
    return f"<h3>Page {number}, {names[change.kind]}</h3>{_words(change)}{pair}"


def _words(change: PageChange) -> str:
    """What the page said and says, in the order of the page; of many places the first."""
    gone, come = {old for old, new in change.words if not new}, {new for old, new in change.words if not old}
    told = [pair for pair in change.words if (pair[0] or pair[1]) not in gone & come and not any(map(_BROKEN.fullmatch, pair))]
    said = [" ".join(f"<{tag}>{escape(_cut(words))}</{tag}>" for tag, words in zip(("del", "ins"), pair, strict=True) if words)
            for pair in told[:MOST_WORDS]]
    more = f" and {len(told) - MOST_WORDS} more" if len(told) > MOST_WORDS else ""
    return f"<p class=words>{' · '.join(said)}{more}</p>" if said else ""


def _cut(words: str) -> str:
    return words if len(words) <= MOST_LETTERS else f"{words[:MOST_LETTERS]}…"


def _picture(content: bytes | None, says: str) -> str:
    if content is None:
        return "<div class=none></div>"
    shown = f'<img alt="{escape(says)}" src="data:image/png;base64,{base64.b64encode(content).decode()}">'
    return f"<figure>{shown}<figcaption>{escape(says)}</figcaption></figure>"


_PAGE = """<!DOCTYPE html>
<html lang="en"><meta charset="utf-8"><title>{title}</title>
<style>
body {{ font: 16px/1.45 system-ui, sans-serif; max-width: 1100px; margin: 2em auto; padding: 0 1em }}
table {{ border-collapse: collapse; margin: .5em 0 1em }}
tr.loud td {{ background: #ffe9e0; font-weight: 600 }}
th, td {{ text-align: left; padding: .2em .9em .2em 0; border-bottom: 1px solid #bbb }}
.pair {{ display: grid; grid-template-columns: 1fr 1fr; gap: 1em }}
.pair img {{ width: 100%; border: 1px solid #999 }}
figure {{ margin: 0 }}
figcaption, .words {{ font-size: 14px; color: #444 }}
del {{ background: #fbd9d0 }}
ins {{ background: #d8efd3; text-decoration: none }}
.none {{ border: 1px dashed #bbb }}
</style>
<h1>{title}</h1>
{body}
</html>
"""
