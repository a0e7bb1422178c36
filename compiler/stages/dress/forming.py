"""Markup that is not well-formed: whether it is, and where a template's source shows why.

In: markup, or a template's source. Out: what is wrong in words, a line and the tag there. The source is read without its Jinja: a tag that is
opened under one condition and closed under another may be taken for the culprit, so it is asked only when a template is known to be at fault.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree

CLOSE = "Close every element, write <br/>, and &lt; for a plain <."
_JINJA = re.compile(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|<!--.*?-->", re.S)
_TAG = re.compile(r"<(?P<end>/?)(?P<name>[A-Za-z][\w-]*)(?:[^<>\"']|\"[^\"]*\"|'[^']*')*?(?P<closed>/?)>"
                  r"|&(?!(?:lt|gt|amp|quot|apos|#\d+|#x[0-9a-fA-F]+);)\w*;?|<(?!!)[^\s<>]{0,20}|[\x00-\x08\x0b\x0c\x0e-\x1f]")
_ALONE = ("br", "img", "hr", "col", "input", "meta", "link", "wbr")


def unformed(markup: str) -> str:
    """What keeps markup from being read, "" when nothing does."""
    try:
        ElementTree.fromstring(markup)
    except ElementTree.ParseError as fault:
        return str(fault).split(":")[0]
    return ""


def unclosed(source: str) -> tuple[int, str, str]:
    """The line, the characters and the cure of the first tag or sign that spoils a template's markup; the first line when none is seen."""
    bare = _JINJA.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), source)
    opened: list[re.Match[str]] = []
    for tag in _TAG.finditer(bare):
        if tag[0].startswith("&"):
            return _at(bare, tag, "Write &amp; for a plain &, and any other sign as it is.")
        if tag["name"] is None:
            return _at(bare, tag, "Write &lt; for a plain <; close tags and the quotes in them." if tag[0][0] == "<" else "Delete this character.")
        if tag["closed"]:
            continue
        if not tag["end"]:
            opened.append(tag)
        elif not opened or opened[-1]["name"] != tag["name"]:
            culprit = opened[-1] if opened else tag
            return _at(bare, culprit, _cure(culprit))
        else:
            opened.pop()
    return _at(bare, opened[-1], _cure(opened[-1])) if opened else (1, "", "")


def _cure(tag: re.Match[str]) -> str:
    name = tag["name"]
    if tag["end"]:
        return f"Nothing opens what {tag[0]} closes."
    return f"Write {tag[0][:-1]}/>." if name in _ALONE else f"Close it with </{name}>."


def _at(text: str, tag: re.Match[str], cure: str) -> tuple[int, str, str]:
    return text.count("\n", 0, tag.start()) + 1, tag[0], cure
