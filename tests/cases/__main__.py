"""Writes what is said of each case into its page."""

from tests.cases.pages import HERE, cases, library, said

shelf = library()
for page in sorted(HERE.glob("*.md")):
    text = page.read_text(encoding="utf-8")
    for case in reversed(cases(page)):
        text = text[: case.span[0]] + said(case, shelf) + text[case.span[1]:]
    page.write_text(text, encoding="utf-8")
