"""A failure of the layout engine is an error at the declaration that brings it about, never a crash of the program."""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler.base.report import Diagnostic
from compiler.stages.dress import dress, load_theme
from compiler.stages.publish import publish, publishing
from tests.pages.sample_document import sample
from tests.stages.test_dress import THEMES

FAILING = [
    ("p { color: red;\n  font-size: calc(1mm * infinity) }", 2, "font-size"),
    ("p { color: red;\n  transform: scale(0) }", 2, "transform"),  # while it draws
    ("h2 { content: '; p: 3'; color: red }\np { font-size: 1e30mm }", 2, "font-size"),
]


def told(folder: Path, css: str = "", **templates: str) -> Diagnostic:
    """The one error of the sample document in a theme of the shop's own with this style and these templates."""
    for name, text in {"theme.toml": 'name = "mine"\ncontract = 1\nparent = "standard"\nstyles = ["styles/mine.css"]\n', "styles/mine.css": css,
                       **{f"templates/{name}.html": text for name, text in templates.items()}}.items():
        (folder / "mine" / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / "mine" / name).write_text(text, encoding="utf-8")
    theme = load_theme(folder / "mine", (folder, THEMES)).value
    assert theme is not None
    pages = dress(sample(), theme).value
    assert pages is not None
    outcome = publish(pages)
    assert outcome.value is None
    fault, = outcome.report.errors
    return fault


@pytest.mark.parametrize(("css", "line", "name"), FAILING)
def test_the_declaration_is_marked(css: str, line: int, name: str, tmp_path: Path) -> None:
    """It alone, in the shop's own style; what Python says stands behind it."""
    fault = told(tmp_path, css, document="<html><body><h1>A head</h1><h2>Another</h2><p>Some words.</p></body></html>")
    assert "layout-failed" == fault.code and fault.says.startswith(f"The layout engine fails on this `{name}` (")
    assert fault.at is not None and fault.at.column is not None
    assert ("themes/mine/styles/mine.css", line) == (fault.at.file, fault.at.line)
    assert fault.at.shown[fault.at.column - 1 :].startswith(f"{name}:")


def test_a_template_that_brings_it_about_is_told_by_its_section(tmp_path: Path) -> None:
    """No style of the theme is blamed for what a template writes into an element."""
    fault = told(tmp_path, check='<p style="font-size: 1e30mm">{{ inline(block.content) }}</p>')
    assert "layout-failed" == fault.code and fault.at is None
    assert "the section `" in fault.says and "--theme standard" in fault.hint


def test_what_is_no_failure_of_the_engine_stays_one_of_the_program(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The pages lay out and draw: nobody's style is blamed."""
    def broken(*_: object) -> None:
        raise KeyError("ours")

    monkeypatch.setattr(publishing, "proof", broken)
    with pytest.raises(KeyError, match="ours"):
        told(tmp_path)


def test_a_full_disk_is_not_blamed_on_a_style(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The machine's lack is raised as it is."""
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(publishing, "_write", full)
    with pytest.raises(OSError, match="No space left"):
        told(tmp_path)
