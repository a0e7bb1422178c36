"""A template that can't be read is marked at the faulty word or tag, also where its line holds others."""

from __future__ import annotations

import re

import pytest

from compiler.base.report import Findings
from compiler.stages.dress.templates import judge_templates

MARKED = [
    ("{{ a }} {{ b ⟦c⟧ }} {{ d }}", "got 'c'"),
    ("{{ b }} {{ b ⟦b⟧ }}", "got 'b'"),
    ("{{ a }} {% if a ⟦=⟧ b %}{% endif %}", "got '='"),
    ("{{ a\n  }} {{ b\n  ⟦c⟧ }}", "got 'c'"),
    ("<p>\r\n{{ a }} {{ b ⟦c⟧ }}\r\n", "got 'c'"),
    ("   {%- if a -%}   \n  {{ x ⟦y⟧ }} {%- endif %}", "got 'y'"),
    ("{{ a }} {{ inline(block.content ⟦}⟧}", "unexpected '}', expected ')'"),
    ("{{ a }} {{ b ⟦}⟧", "unexpected '}'"),
    ("{{ a }} {{ b ⟦!⟧ c }}", "unexpected char '!'."),
    ("{{ a }} {{ it⟦'⟧s }}", "unexpected char"),
    ("fro {{ a }} {% if a %}{% ⟦fro⟧ x in y %}{% endif %}", "unknown tag 'fro'"),
    ("{% if a %}\n{% for b in c %}{{ b }}\n{{ a }} {% ⟦endif⟧ %}", "unknown tag 'endif'"),
    ('<p class="rond">{{ rond }} {{ x | ⟦rond⟧ }}', "no filter named 'rond'"),
    ("{{ evn }} {{ x is not ⟦evn⟧ }}", "no test named 'evn'"),
    # no single word is at fault: the tag
    ("{{ a }} ⟦{% for x %}⟧b{% endfor %}", "expected token 'in'"),
    ("{{ a }} ⟦{{ }}⟧ {{ b }}", "expected an expression"),
    ("{{ a }} ⟦{% %}⟧", "tag name expected"),
    ("{{ a }} ⟦{{ f(x=1, 2) }}⟧", "invalid syntax for function call"),
    ("{{ a }} ⟦{% set 1 = 2 %}⟧ {{ b }}", "can't assign"),
    ("{{ a }} ⟦{{ ² }}⟧ {{ b c }}", "invalid character"),
    # not closed: the tag that is open
    ("{{ a }} ⟦{{ b⟧", "unexpected end of template"),
    ("{{ a }} ⟦{% for x in y %}⟧b\n{% for z in x %}{% endfor %}\n{{ c }} text", "unexpected end of template"),
    ("{{ a }} ⟦{% set x %}⟧{% set y = 2 %} text", "unexpected end of template"),
    ("{{ a }}\n⟦{#⟧ never ended\n{{ b }}", "missing end of comment"),
    # which of the two can't be told: the line
    ("{{ a }}\n  ⟦{% block x %}{% endblock %}{% block x %}{% endblock %}⟧", "block 'x' defined twice"),
]


@pytest.mark.parametrize(("marked", "says"), MARKED, ids=[marked for marked, _ in MARKED])
def test_what_is_marked(marked: str, says: str) -> None:
    """The characters between the brackets, and no others; the excerpt is their line."""
    found = Findings()
    source = re.sub("[⟦⟧]", "", marked)
    judge_templates((("x.html", source),), lambda name: name, found)
    fault, = found.report()
    at = fault.at
    assert at is not None and at.line and at.column and at.end and says in fault.says
    lines = source.split("\n")
    start = sum(len(line) + 1 for line in lines[: at.line - 1]) + at.column - 1
    assert marked == f"{source[:start]}⟦{source[start : start + at.end]}⟧{source[start + at.end :]}"
    assert at.shown == lines[at.line - 1].rstrip("\r")


def test_a_tag_at_the_wrong_place_is_not_called_a_slip_of_the_keys() -> None:
    """`endfor` is a tag; what is meant by it is not asked."""
    found = Findings()
    judge_templates((("x.html", "{% if a %}{% endfor %}"),), lambda name: name, found)
    assert ["Tags are closed in turn, the innermost first."] == [fault.hint for fault in found.report()]
