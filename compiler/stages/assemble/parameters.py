"""A joint's fields: what the maker wrote, else the kind's defaults, inside its limits.

In: a kind of joint, one contact, the maker's texts and the names that they may use. Out: the joint with all its
fields worked out, and what is wrong with them. It makes no joint and knows no other contact.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from compiler.base.measures import ZERO, Angle, Length
from compiler.base.report import Findings, Outcome
from compiler.language import (
    Names,
    Refused,
    Want,
    diagnostic,
    did_you_mean,
    evaluate,
    listed,
    parse_place,
)
from compiler.language.trees import Offset
from compiler.stages.assemble.fastener_fields import fasteners_field, item_field
from compiler.stages.assemble.placing import is_low
from compiler.stages.assemble.texts import Texts
from compiler.stages.assemble.wording import said, said_value
from compiler.values.ask import Asked
from compiler.values.design import Known, Written
from compiler.values.joinery import Contact, Joint
from compiler.values.model import AXIS_OF
from compiler.values.shapes import Stopped

ALWAYS = ("glue", "note")
WITH_FASTENERS = ("count", "every", "slotted")
_WANTS: dict[str, Want] = {"size": "length", "count": "count", "ratio": "number", "angle": "angle"}


def names_of(contact: Contact) -> dict[str, Known]:
    """The names of one contact that defaults, limits and makers may use."""
    return {
        "receiver.thickness": contact.receiver.thickness, "acting.thickness": contact.acting.thickness,
        "receiver.depth": contact.receiver.depth, "acting.depth": contact.acting.depth,
        "contact.length": contact.length, "contact.width": contact.width, "contact.depth": contact.depth,
    }


def joint_with(kind: type[Joint], contact: Contact, texts: Texts) -> Outcome[Joint]:
    """The joint with its fields: one of `kind`, for this contact."""
    findings = Findings()
    _judge_keys(kind, texts, findings)
    known: dict[str, Known] = {**names_of(contact), **texts.shop}
    values: dict[str, Any] = {}
    for asked in kind.asks:
        value = _field(asked, contact, texts, known, findings)
        if value is None and not asked.optional:
            continue
        values[asked.field] = value
        if isinstance(value, (Length, Fraction, int, str)):
            known[asked.key] = Angle(value) if asked.takes == "angle" and isinstance(value, Fraction) else value
    report = findings.report()
    if len(values) < len(kind.asks):
        return Outcome(None, report)
    return Outcome(kind(**values), report)


def _judge_keys(kind: type[Joint], texts: Texts, findings: Findings) -> None:
    keys = [asked.key for asked in kind.asks]
    takes_fasteners = any(asked.takes == "fasteners" for asked in kind.asks)
    allowed = (*keys, *(WITH_FASTENERS if takes_fasteners else ()), *ALWAYS)
    for key, written in texts.wish.parameters:
        if key not in allowed:
            near = did_you_mean(key, allowed)
            findings.error("unknown-key", f"A {kind.kind} has no `{key}`.", replace(written.at, on_key=True, start=None, end=None),
                           f"Did you mean {near}?" if near else f"The keys of a {kind.kind} are {listed(allowed)}.")


def _field(asked: Asked, contact: Contact, texts: Texts, known: Mapping[str, Known], findings: Findings) -> Any:
    written = texts.written(asked.key)
    if asked.takes == "fasteners":
        return fasteners_field(asked, written, texts, known, findings)
    if asked.takes == "stop":
        return _stopped(written, contact, texts, findings)
    if written is not None and not isinstance(written.value, str):
        findings.error("one-text", f"`{asked.key}` takes one text.", written.at)
        return None
    text = written.value if written is not None and isinstance(written.value, str) else None
    if asked.takes == "item":
        return item_field(asked, written, texts, findings)
    if asked.takes == "word":
        return _word(asked, written, findings)
    if text is None and asked.default is None:
        findings.error("missing-key", f"A {texts.wish.kind} needs `{asked.key}`: {asked.says}.", texts.wish.at)
        return None
    value = _size(asked, text, written, texts, known, findings)
    return value if value is None or _within(asked, value, written, texts, known, findings) else None


def _size(asked: Asked, text: str | None, written: Written | None, texts: Texts, known: Mapping[str, Known],
          findings: Findings) -> Length | Fraction | int | None:
    """A size, count, ratio or angle: the maker's text in the plan's names, or the kind's default in its own."""
    want = _WANTS[asked.takes]
    if text is not None and written is not None:
        if asked.takes == "ratio" and (slope := re.fullmatch(r"\s*(\d+)\s+in\s+(\d+)\s*", text)):
            return Fraction(int(slope[1]), int(slope[2]) or 1)
        own = {name: value for name, value in known.items() if "." in name}
        lookup = texts.items.names(texts.wish.scope, axis=texts.along, first=own)
        outcome = evaluate(text, lookup, texts.units, written.at, edition=texts.edition, want=want)
        findings.extend(outcome.report)
    else:
        outcome = _own_text(asked, texts, known, want)
        findings.extend(outcome.report)
    value = outcome.value
    if isinstance(value, Angle):
        return value.degrees
    return value if isinstance(value, (Length, Fraction, int)) else None


def _own_text(asked: Asked, texts: Texts, known: Mapping[str, Known], want: Want) -> Outcome[Known]:
    """A default of the kind's: inches, unless it has its own text for the metric edition."""
    metric = texts.edition == "mm" and asked.metric is not None
    text = (asked.metric if metric else asked.default) or "0"
    if asked.takes == "ratio" and (slope := re.fullmatch(r"\s*(\d+)\s+in\s+(\d+)\s*", text)):
        return Outcome(Fraction(int(slope[1]), int(slope[2])))
    at = texts.wish.kind_at
    return evaluate(text, Names(known), "mm" if metric else "inch", at, edition=texts.edition, want=want)


def _within(asked: Asked, value: Length | Fraction | int, written: Written | None, texts: Texts, known: Mapping[str, Known],
            findings: Findings) -> bool:
    """True when a value lies inside the limits of its field."""
    at = written.at if written else texts.wish.at
    want = _WANTS[asked.takes]
    for limit, word in ((asked.least, "less than the least"), (asked.most, "more than the most")):
        if not limit:
            continue
        bound = evaluate(limit, Names(known), "inch", at, edition=texts.edition, want=want).value
        edge = bound.degrees if isinstance(bound, Angle) else bound
        if edge is None or isinstance(edge, str):
            continue
        low = limit is asked.least
        outside = value < edge if low else value > edge  # type: ignore[operator]  # both are what `want` asks for
        if outside:
            shown = said_value(edge, texts.edition)
            sum_of = f"{limit} = {shown}" if any(letter.isalpha() for letter in limit) else shown
            findings.error("outside-limits", f"`{asked.key}` {said_value(value, texts.edition)} is {word}, {sum_of}.", at,
                           f"`{asked.key}`: {asked.says}.")
            return False
    return True


def _word(asked: Asked, written: Written | None, findings: Findings) -> str | None:
    text = written.value if written else asked.default or ""
    if not isinstance(text, str):
        return None
    if asked.words and text not in asked.words:
        near = did_you_mean(text, asked.words)
        findings.error("unknown-word", f"`{text}` is no word for `{asked.key}`.", written.at if written else None,
                       f"Did you mean {near}?" if near else f"It takes {listed(asked.words, 'or')}.")
        return None
    return text


def _stopped(written: Written | None, contact: Contact, texts: Texts, findings: Findings) -> Stopped:
    """How far a trench stops short of the receiver's low and high end along the contact.

    `yes`: as long as the contact; else one or two places counted from faces.
    """
    if written is None or written.value == "no":
        return Stopped()
    low_end, high_end = contact.receiver.along
    if written.value == "yes":
        return Stopped(max(ZERO, -low_end), max(ZERO, high_end - contact.length))
    if not isinstance(written.value, str):
        findings.error("one-text", "`stopped` takes one text: 1/2 from front.", written.at)
        return Stopped()
    try:
        place = parse_place(written.value)
    except Refused as fault:
        findings.add(diagnostic(fault, written.at))
        return Stopped()
    low = high = ZERO
    for spot in place.spots:
        if not isinstance(spot, Offset) or AXIS_OF[spot.face] != texts.along:
            findings.error("stopped-across", f"This joint runs {texts.along}: it can stop short of its two ends there only.",
                           written.at)
            continue
        text = written.value[spot.size.start:spot.size.end]
        outcome = evaluate(text, texts.items.names(texts.wish.scope, axis=texts.along), texts.units,
                           written.at.within(spot.size.start, spot.size.end), edition=texts.edition, want="length")
        findings.extend(outcome.report)
        if isinstance(outcome.value, Length):
            low, high = (outcome.value, high) if is_low(spot.face) else (low, outcome.value)
    if low + high >= high_end - low_end:
        findings.error("stopped-too-far", f"Nothing is left of it: it is {said(high_end - low_end, texts.edition)} long.", written.at)
        return Stopped()
    return Stopped(low, high)
