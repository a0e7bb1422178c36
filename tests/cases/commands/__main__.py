"""Writes what is said of each case into its page."""

import sys
import tempfile
from pathlib import Path

from tests.cases.commands.pages import HERE, cases, said

with tempfile.TemporaryDirectory() as store:
    for page in sorted(HERE.glob("*.md")):
        if sys.argv[1:] and page.stem not in sys.argv[1:]:
            continue
        text = page.read_text(encoding="utf-8")
        for case in reversed(cases(page)):
            with tempfile.TemporaryDirectory() as place:
                text = text[: case.span[0]] + said(case, Path(place), Path(store)) + text[case.span[1]:]
        page.write_text(text, encoding="utf-8")
