"""The DXF of sheets and boards, read back with its library."""

from __future__ import annotations

import io

import ezdxf
import pytest

from plugins.cutting_layouts.answers import Answer, CuttingLayouts
from plugins.cutting_layouts.flat import sheets_dxf
from plugins.cutting_layouts.solving import lay_out
from tests.made import ROOT, project
from tests.plugins.cutting_layouts.test_questions import asked


def _bookcase() -> tuple[CuttingLayouts, str]:
    design = (ROOT / "projects" / "low-bookcase" / "design.yaml").read_text(encoding="utf-8")
    shop = (ROOT / "projects" / "shop.yaml").read_text(encoding="utf-8")
    model = project("low-bookcase")
    questions = [one for one in asked(model, design, shop) if one.kind == "sheet"]
    layouts = CuttingLayouts(answers=tuple(Answer(question=one, layout=lay_out(one.job)) for one in questions))
    return layouts, sheets_dxf(layouts, model, model.edition)


def test_every_sheet_is_in_it_at_full_size() -> None:
    """Sheets of 96 x 48 in, as many parts and cut lines as the layouts have, inches in the header, a clean audit, the same text twice."""
    layouts, text = _bookcase()
    document = ezdxf.read(io.StringIO(text))
    assert document.header["$INSUNITS"] == 1 and not document.audit().errors
    sheets = [sheet for answer in layouts.answers for sheet in answer.layout.sheets]
    by_layer = {name: [thing for thing in document.modelspace() if thing.dxf.layer == name] for name in ("sheet", "parts", "cuts")}
    assert len(sheets) == len(by_layer["sheet"])
    assert sum(len(sheet.placements) for sheet in sheets) == len(by_layer["parts"])
    assert sum(len(sheet.cuts) for sheet in sheets) == len(by_layer["cuts"])
    for outline in by_layer["sheet"]:
        xs, ys = zip(*outline.get_points("xy"), strict=True)
        assert (max(xs) - min(xs), max(ys) - min(ys)) == (pytest.approx(96), pytest.approx(48))
    assert text == _bookcase()[1]
