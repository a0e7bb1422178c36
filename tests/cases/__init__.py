"""Annotated plans and what is said of them: `*.md` here, read by test_cases.py.

Each case is a change to plan.yaml (a diff) and the text a maker sees. `python -m tests.cases` writes the texts anew, to be reviewed
as a diff before they are kept.
"""
