"""The issues of a plan so far, and what each changed.

In: made from the records that publishing keeps. Out: read by sections. Words only: nothing here compares.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """One issue: its number, its date, and what differs from the issue before, in plain sentences."""

    number: int
    date: str
    changes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """All issues of one edition, the oldest first, this one last; only this one when none was kept."""

    issues: tuple[Issue, ...] = ()
