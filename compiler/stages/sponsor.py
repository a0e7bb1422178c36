"""Sponsors: sponsor.yaml tells their names, what is said of them, and which picture is their mark.

In: the draft, the name asked for, and a way to read a picture beside the file. Out: a Sponsor. Nothing of a plan changes with it: name, mark and
disclosure are printed on the cover, the disclosure at the foot of every page.

    millrace:
      name: Millrace Tool Works
      disclosure: Millrace Tool Works gave the drawer slides for this plan.
      mark: millrace.svg
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable

from compiler.base.report import Findings, Outcome, Spot
from compiler.values.draft import Draft, Mapping, Scalar
from compiler.values.sponsor import Sponsor

FILE = "sponsor.yaml"
KEYS = ("name", "disclosure", "mark")
LONGEST = 160
"""Letters of a disclosure that a page's foot holds beside shop and page number."""


def sponsor_of(draft: Draft, wanted: str, picture: Callable[[str, Spot], Outcome[bytes]]) -> Outcome[Sponsor]:
    """The sponsor called `wanted`. A disclosure is no choice: a sponsored plan says so."""
    found = Findings()
    root = draft.root(FILE)
    at = Spot(FILE, (wanted,))
    if not re.fullmatch(r"[\w -]+", wanted):
        found.error("no-sponsor", f"`{wanted}` is no short name: letters, figures and dashes.", None, "It becomes part of the PDF's file name.")
        return Outcome(None, found.report())
    if not isinstance(root, Mapping):
        found.error("no-sponsor", f"There is no sponsor `{wanted}`: no {FILE} lies beside the plan or beside shop.yaml.", None,
                    "Write one: the sponsor's short name, and below it name: and disclosure:.")
        return Outcome(None, found.report())
    entry = root.get(wanted)
    if not isinstance(entry, Mapping):
        names = [key.text for key, _ in root.entries]
        near = difflib.get_close_matches(wanted, names, 1)
        found.error("no-sponsor", f"{FILE} has no sponsor `{wanted}`.", Spot(FILE), f"Did you mean {near[0]}?" if near else f"It has {', '.join(names)}.")
        return Outcome(None, found.report())
    texts: dict[str, str] = {}
    for key, node in entry.entries:
        if key.text not in KEYS:
            found.error("unknown-key", f"A sponsor has no `{key.text}`.", Spot(FILE, (wanted, key.text), on_key=True), "Its keys are name, disclosure and mark.")
        elif isinstance(node, Scalar) and node.text.strip():
            texts[key.text] = node.text.strip()
    for needed in ("name", "disclosure"):
        if needed not in texts:
            found.error("missing-key", f"The sponsor `{wanted}` has no `{needed}`.", Spot(FILE, at.path, on_key=True),
                        "Say in one sentence what the sponsor gave." if needed == "disclosure" else "Write the name as it is printed.")
    if len(texts.get("disclosure", "")) > LONGEST:
        found.error("too-long", f"The disclosure has {len(texts['disclosure'])} letters; the foot of a page holds {LONGEST}.", at.key("disclosure"),
                    "Say it in one short sentence.")
    mark = b""
    if "mark" in texts:
        taken = picture(texts["mark"], at.key("mark"))
        mark, more = taken.value or b"", taken.report
        for diagnostic in more.diagnostics:
            found.add(diagnostic)
    report = found.report()
    if not report.ok:
        return Outcome(None, report)
    return Outcome(Sponsor(key=wanted, name=texts["name"], disclosure=texts["disclosure"], mark=mark), report)
