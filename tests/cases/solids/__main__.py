"""Writes what is said of each case into its page."""

from tests.cases.pages import cases
from tests.cases.solids.pages import HERE, said

for page in sorted(HERE.glob("*.md")):
    text = page.read_text(encoding="utf-8")
    for case in reversed(cases(page)):
        text = text[: case.span[0]] + said(case) + text[case.span[1]:]
    page.write_text(text, encoding="utf-8")
