"""A sponsor, as a sponsored edition names one.

In: made from sponsor.yaml. Out: read by the stage that presents a document. No plan and no model knows of it.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Sponsor:
    """`key` is the short name that the maker chooses it by; `mark` an SVG or PNG picture, or nothing."""

    key: str
    name: str
    disclosure: str
    mark: bytes = b""
