"""The head of a plan: title, number, issue, date, unit, editions, letters already given.

In: the draft. Out: PlanFacts, editions, letters, each fault reported. Knows nothing of parts.
"""

from __future__ import annotations

import re
from typing import Literal

from compiler.base.report import Findings, Spot
from compiler.base.showing import Units
from compiler.language import did_you_mean, house_spelling
from compiler.stages.check.keys import text, texts
from compiler.values.draft import Draft, Mapping, Scalar
from compiler.values.model import Edition, PlanFacts

FILE = "design.yaml"
ROOT = Spot(FILE)
EDITIONS: dict[str, tuple[Units, Literal["letter", "a4"]]] = {
    "inch letter": ("inch", "letter"), "metric a4": ("mm", "a4"), "inch a4": ("inch", "a4"), "metric letter": ("mm", "letter"),
}


def plan_root(draft: Draft, findings: Findings) -> Mapping | None:
    """The tree of design.yaml; None, and a fault if it was read, when it is no plan."""
    root = draft.root(FILE)
    if root is None:
        return None
    if not isinstance(root, Mapping) or not root.entries:
        findings.error("no-plan", "design.yaml holds no plan: its first lines are plan:, number:, issue:, date:, units:.", Spot(FILE, line=1, column=1),
                       "`kerfolio new` makes one from a starter.")
        return None
    return root


def facts(draft: Draft, root: Mapping, findings: Findings) -> PlanFacts:
    """What stands at the head."""
    title = _word(root, "plan", findings, "Write plan: and the title of the piece.")
    issue = _word(root, "issue", findings, "Write issue: 1.")
    if issue and not (issue.isdigit() and 1 <= int(issue) <= 999):
        findings.error("issue", f"`issue` counts issues of the plan from 1; `{issue}` does not.", ROOT.key("issue"), "Write issue: 1.")
        issue = "1"
    day = _word(root, "date", findings, "Write date: 2026-11-25.")
    if day:
        _judge_date(day, findings)
    return PlanFacts(title=title, number=_word(root, "number", findings, "Write number: 14."), issue=int(issue or 1), date=day,
                     units=units_of(root, findings), folder=draft.folder, note=_optional(root, "note"))


def units_of(root: Mapping, findings: Findings) -> Units:
    """The unit that bare numbers are written in."""
    word = _word(root, "units", findings, "Write units: inch, or units: mm.")
    if word in ("inch", "mm"):
        return word  # type: ignore[return-value]  # one of the two, just judged
    if word:
        meant = "mm" if word.startswith(("m", "c")) else "inch"
        findings.error("units", f"`units` is inch or mm; `{word}` is neither.", ROOT.key("units"), f"Write units: {meant}.")
    return "inch"


def editions(root: Mapping, findings: Findings) -> tuple[Edition, ...]:
    """The editions that the plan names, in its order; without the key, the one of its own unit."""
    found: list[Edition] = []
    for word, at in texts(root.get("editions"), "editions", ROOT.key("editions"), findings):
        if word in EDITIONS:
            units, paper = EDITIONS[word]
            edition = Edition(units=units, paper=paper)
            if edition in found:
                findings.error("written-twice", f"The edition `{word}` is named twice.", at, "Remove one.")
            else:
                found.append(edition)
        else:
            near = did_you_mean(word, EDITIONS)
            findings.error("unknown-edition", f"There is no edition `{word}`.", at, f"Did you mean {near}?" if near else "Editions are inch letter and metric a4.")
    if not found and root.get("editions") is None:
        units = "mm" if isinstance(node := root.get("units"), Scalar) and node.text == "mm" else "inch"
        found.append(Edition(units="mm", paper="a4") if units == "mm" else Edition(units="inch", paper="letter"))
    return tuple(found)


def letters(draft: Draft, findings: Findings) -> tuple[tuple[tuple[str, str], ...], Spot | None]:
    """The letters already given: (letter, part's row)."""
    root = draft.root("letters.yaml")
    if root is None:
        return (), None
    at = Spot("letters.yaml")
    if not isinstance(root, Mapping):
        findings.error("letters", "letters.yaml holds one letter a line: `A: side`.", at, "Delete it; publish writes it anew.")
        return (), at
    found: list[tuple[str, str]] = []
    names: dict[str, str] = {}
    for key, node in root.entries:
        spot = at.key(key.text)
        name = text(node, key.text, spot, findings)
        if not re.fullmatch(r"[A-HJ-NPR-Z]{1,2}", key.text):
            findings.error("letters", f"`{key.text}` is no part letter.", Spot("letters.yaml", spot.path, on_key=True),
                           "Letters are A to Z without I, O and Q, then AA, AB ….")
        elif name is not None:
            row = house_spelling(name.text)
            if row in names and not row.startswith("(gone)"):
                findings.error("letters", f"`{row}` has two letters: {names[row]} and {key.text}.", spot, "Remove the later line.")
            names[row] = key.text
            found.append((key.text, row))
    return tuple(found), at


def _word(root: Mapping, key: str, findings: Findings, hint: str) -> str:
    node = root.get(key)
    if node is None:
        findings.error("missing-key", f"The plan has no `{key}`.", Spot(FILE, line=1, column=1), hint)
        return ""
    found = text(node, key, ROOT.key(key), findings)
    return found.text if found is not None else ""


def _optional(root: Mapping, key: str) -> str:
    node = root.get(key)
    return node.text if isinstance(node, Scalar) else ""


def _judge_date(day: str, findings: Findings) -> None:
    found = re.fullmatch(r"(\d{4})-(\d\d)-(\d\d)", day)
    year, month, number = (int(digits) for digits in found.groups()) if found else (0, 0, 0)
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    longest = {2: 29 if leap else 28, 4: 30, 6: 30, 9: 30, 11: 30}.get(month, 31)
    if not (year > 0 and 1 <= month <= 12 and 1 <= number <= longest):
        findings.error("date", f"`{day}` is no date: year, month, day.", ROOT.key("date"), "Write 2026-11-25.")
