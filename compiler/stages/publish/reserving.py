"""A place kept free in every PDF for the line that makes a buyer's copy.

In: a PDF about to be written. Out: the same with an empty form at the foot of every page, the same object on all of them. A copy is then the file
with one new version of that object behind it, and the letters that it needs; see `compiler.stamping`.
"""

from __future__ import annotations

import pydyf

MARK = "KERF_Stamp"
"""The key by which the form is found again."""
WIDE, HIGH = 540, 14
"""The form's size in points."""
LEFT, FOOT = 54, 10
"""Where it stands on a page, in points from the corner at the lower left."""


def reserve(pdf: pydyf.PDF) -> None:
    """Put the empty form on every page."""
    form = pydyf.Stream([], {MARK: "true", "Type": "/XObject", "Subtype": "/Form", "BBox": pydyf.Array([0, 0, WIDE, HIGH]),
                             "Resources": pydyf.Dictionary()})
    before, after = pydyf.Stream([b"q"]), pydyf.Stream([f"Q /Artifact BMC q 1 0 0 1 {LEFT} {FOOT} cm /{MARK} Do Q EMC".encode()])
    for thing in (form, before, after):
        pdf.add_object(thing)
    given = set()
    for number in pdf.pages["Kids"][::3]:
        page = pdf.objects[number]
        page["Contents"] = pydyf.Array([before.reference, page["Contents"], after.reference])
        resources = _target(pdf, page, "Resources")
        if id(resources) not in given:
            given.add(id(resources))
            _target(pdf, resources, "XObject")[MARK] = form.reference


def _target(pdf: pydyf.PDF, of: pydyf.Dictionary, key: str) -> pydyf.Dictionary:
    """The dictionary under a key, also when it is an object of its own; made when it isn't there."""
    found = of.setdefault(key, pydyf.Dictionary())
    if isinstance(found, bytes):
        found = pdf.objects[int(found.split()[0])]
    return found
