"""A joint's items and fasteners as its maker wrote them, else as its kind has them.

In: a field, the maker's text. Out: an item of the library, or fasteners with their number and slotted parts.
"""

from __future__ import annotations

from collections.abc import Mapping

from compiler.base.measures import ZERO, Length
from compiler.base.report import Findings
from compiler.language import (
    Names,
    Want,
    did_you_mean,
    evaluate,
)
from compiler.stages.assemble.texts import Texts
from compiler.stages.assemble.wording import said_value
from compiler.values.ask import Asked, Fasteners
from compiler.values.design import Known, Written
from compiler.values.library import Item


def item_field(asked: Asked, written: Written | None, texts: Texts, findings: Findings) -> Item | None:
    text = written.value if written else asked.default
    if not isinstance(text, str) or not text:
        return None
    word = asked.key.removesuffix("s").rpartition(" ")[2]
    item = texts.items.find(text, word, texts.wish.scope)
    if item is None:
        findings.add(texts.items.fault(text, word, written.at if written else texts.wish.at))
    return item


def fasteners_field(asked: Asked, written: Written | None, texts: Texts, known: Mapping[str, Known],
               findings: Findings) -> Fasteners | None:
    item = item_field(asked, written, texts, findings)
    if item is None:
        return None
    count, every = _number_of(texts, findings)
    if count is None and every is None:
        every_text, count_text = asked.words or ("", "")
        at = texts.wish.at
        if count_text:
            value = evaluate(count_text, Names(known), "inch", at, edition=texts.edition, want="count").value
            count = value if isinstance(value, int) else None
        elif every_text:
            value = evaluate(every_text, Names(known), "inch", at, edition=texts.edition, want="length").value
            every = value if isinstance(value, Length) else None
    return Fasteners(item, count, every, _slotted(texts, findings))


def _number_of(texts: Texts, findings: Findings) -> tuple[int | None, Length | None]:
    """The maker's `count:` or `every:`."""
    found: list[Known | None] = []
    wants: tuple[tuple[str, Want], ...] = (("count", "count"), ("every", "length"))
    for key, want in wants:
        written = texts.written(key)
        if written is None or not isinstance(written.value, str):
            found.append(None)
            continue
        lookup = texts.items.names(texts.wish.scope, axis=texts.along)
        outcome = evaluate(written.value, lookup, texts.units, written.at, edition=texts.edition, want=want)
        findings.extend(outcome.report)
        value = outcome.value
        if isinstance(value, (Length, int)) and not (value > ZERO if isinstance(value, Length) else value > 0):
            findings.error("nothing-or-less", f"`{key}` is {said_value(value, texts.edition)}; it should be more than nothing.", written.at)
            value = None
        found.append(value)
    count, every = found
    if count is not None and every is not None:
        findings.error("count-and-every", "Both `count` and `every` say how many.", texts.wish.at, "Remove one.")
    return count if isinstance(count, int) else None, every if isinstance(every, Length) else None


def _slotted(texts: Texts, findings: Findings) -> tuple[str, ...]:
    """The names under `slotted:`: those of the joint that get slotted holes; `yes` = all receivers."""
    written = texts.written("slotted")
    if written is None:
        return ()
    names = [entry.value for entry in written.value if isinstance(entry, Written)] if isinstance(written.value, tuple) else [written.value]
    if names == ["yes"]:
        return tuple(name for group, _ in texts.wish.receivers for name in group)
    if names == ["no"]:
        return ()
    here = {name for group, _ in (*texts.wish.acting, *texts.wish.receivers) for name in group}
    slotted: list[str] = []
    for name in names:
        text = str(name)
        meant = sorted(part for part in here if part == text or part.endswith((f" {text}", f".{text}")))
        if not meant:
            near = did_you_mean(text, sorted(here))
            findings.error("unknown-part", f"`{text}` is not in this joint.", written.at, f"Did you mean {near}?" if near else "")
        slotted.extend(meant)
    return tuple(slotted)
