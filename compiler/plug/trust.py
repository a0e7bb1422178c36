"""Whose code may run: the consent that comes before any import.

In: a candidate and the shop's `trusted` list. Out: nothing when it may run, else one error that says how to allow it.
An entry names a plan's folder (`trestle-bench`), the shop's own (`plugins`), or one plugin in it
(`trestle-bench/loose_key`); followed by ` at ` and the first letters of its digest it holds for that code only:
`trestle-bench/loose_key at 3f2a9c1be04d`. Bundled and installed plugins were chosen when they were installed.
"""

from __future__ import annotations

from compiler.base.report import Diagnostic, Spot
from compiler.plug.finding import Candidate

SHOWN = 12
"""How many letters of a digest are shown and, at least, asked for."""


def refusal(candidate: Candidate, trusted: tuple[str, ...]) -> Diagnostic | None:
    """Why a candidate may not run; None when it may."""
    if candidate.found in ("bundled", "installed"):
        return None
    home = candidate.trust.partition("/")[0]
    other = ""
    for entry in trusted:
        name, _, digest = (word.strip() for word in entry.partition(" at "))
        if name not in (home, candidate.trust):
            continue
        if not digest or (len(digest) >= SHOWN and candidate.digest.startswith(digest)):
            return None
        other = digest
    short = candidate.digest[:SHOWN]
    where = "the shop's plugins folder" if candidate.found == "shop" else f"the folder of the plan {home}"
    at = Spot("shop.yaml", ("trusted",)) if other else None
    if other:
        return Diagnostic(
            "untrusted-plugin",
            f"`{candidate.name}`, in {where}, has changed since it was trusted: its code was {other}, it is {short}.",
            at, f"Read its code; then write {candidate.trust} at {short} under trusted in shop.yaml.", plugin=candidate.name)
    return Diagnostic(
        "untrusted-plugin",
        f"`{candidate.name}` is a plugin in {where}, and its code runs only if you trust it.",
        at, f"Read its code; then add {candidate.trust} to trusted in shop.yaml, or {candidate.trust} at {short} to trust this code alone.",
        plugin=candidate.name)
