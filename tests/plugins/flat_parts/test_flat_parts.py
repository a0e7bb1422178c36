"""The DXF of all parts: true size, one outline for each kind, a unit in its header."""

import io
from itertools import pairwise

import ezdxf
import pytest

from plugins.flat_parts import parts_dxf
from tests.draw.pieces import bookcase


def test_every_kind_is_in_it_once_at_full_size() -> None:
    """Read back with the library: 8 kinds; the longest outline is the top's 37 1/2 in; audit clean; $INSUNITS 1 (inches)."""
    document = ezdxf.read(io.StringIO(parts_dxf(bookcase())))
    assert document.header["$INSUNITS"] == 1 and not document.audit().errors
    outlines = [e for e in document.modelspace() if e.dxf.layer == "outline"]
    assert len(outlines) == 8
    widths = [max(x for x, _ in e.get_points("xy")) for e in outlines]
    assert max(widths) == pytest.approx(37.5)
    names = [e.dxf.text for e in document.modelspace() if e.dxf.layer == "names"]
    assert names[0] == "A side, 2 of 23/32 birch plywood 3/4" and len(names) == 8


def test_parts_do_not_lie_on_each_other() -> None:
    """Outlines are stacked with room between them."""
    document = ezdxf.read(io.StringIO(parts_dxf(bookcase())))
    spans = sorted((min(y for _, y in e.get_points("xy")), max(y for _, y in e.get_points("xy")))
                   for e in document.modelspace() if e.dxf.layer == "outline")
    assert all(a[1] < b[0] for a, b in pairwise(spans))


def test_it_has_the_same_text_each_time() -> None:
    """Byte for byte."""
    assert parts_dxf(bookcase()) == parts_dxf(bookcase())
