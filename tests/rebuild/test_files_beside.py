"""Files beside the PDF: written in the theme's letters, and removed when they are no longer made, unless somebody changed them."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest

from compiler import build
from tests.shop import Small

LABELS = "settings: {part labels: {sheet: letter}, list files: {values: yes}}\n"


@pytest.fixture
def shop(tmp_path: Path) -> Small:
    """A shop that wants labels and its lists as values."""
    made = Small(tmp_path)
    shop = made.plan.parent / "shop.yaml"
    shop.write_text(shop.read_text() + LABELS)
    return made


def beside(shop: Small) -> set[str]:
    return {path.name.removeprefix("wall-rail.") for path in (shop.plan / "out").iterdir()}


def fonts(path: Path) -> set[str]:
    with pikepdf.open(io.BytesIO(path.read_bytes())) as found:
        return {str(font.BaseFont).partition("+")[2] for page in found.pages for font in page.Resources.Font.values()}


def test_files_that_are_no_longer_made_go(shop: Small) -> None:
    """The labels and what was changed by hand: only what was written is removed, and nothing that is not the compiler's."""
    assert shop.publish().report.ok
    before = beside(shop)
    assert "labels.pdf" in before
    values = sorted(name for name in before if name.endswith(".csv"))
    assert values
    changed, own = shop.plan / "out" / f"wall-rail.{values[0]}", shop.plan / "out" / "wall-rail.photos.zip"
    changed.write_text("my own\n")
    own.write_text("mine\n")
    shop.edit("../shop.yaml", LABELS, "")
    assert shop.publish().report.ok
    after = beside(shop)
    assert {"labels.pdf", *values[1:]} == before - after
    assert {values[0], "photos.zip"} <= after and "my own\n" == changed.read_text()
    assert "pdf" in after and "edition.json" in after


def test_labels_wear_the_theme(shop: Small) -> None:
    """The letters are those of the drawings of its theme."""
    assert shop.publish(build.Wishes(theme="standard")).report.ok
    assert any("Barlow-Condensed" in name for name in fonts(shop.plan / "out" / "wall-rail.labels.pdf"))
