"""Writes what is said of each case into its page."""

import tempfile
from pathlib import Path

from tests.cases.folders.pages import HERE, said
from tests.cases.pages import cases

for page in sorted(HERE.glob("*.md")):
    text = page.read_text(encoding="utf-8")
    for case in reversed(cases(page)):
        with tempfile.TemporaryDirectory() as place:
            text = text[: case.span[0]] + said(case, Path(place)) + text[case.span[1]:]
    page.write_text(text, encoding="utf-8")
