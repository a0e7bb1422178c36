"""What is wrong with a template, at the characters that are.

In: what Jinja raises. Out: a TemplateFault that names the template, its line and what stands there, with what was probably meant.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import partial
from typing import Any

from jinja2 import Environment, StrictUndefined, TemplateSyntaxError, UndefinedError
from jinja2.tests import TESTS
from jinja2.utils import missing

from compiler.base.report import Spot
from compiler.language.names import meant
from compiler.stages.dress.template_places import stopped_at

FILTERS_ALLOWED = ("batch", "capitalize", "count", "default", "first", "float", "int", "join", "last", "length", "list", "lower", "map", "max",
                   "min", "replace", "reject", "rejectattr", "round", "select", "selectattr", "sum", "title", "trim", "upper")
TAGS = ("for", "endfor", "if", "elif", "else", "endif", "macro", "endmacro", "set", "endset", "call", "endcall", "filter", "endfilter", "include",
        "block", "endblock", "with", "endwith")
"""Tags, to tell which was meant."""
_WORD = re.compile(r"unexpected '([^']+)'|unexpected char ['\"](.+)['\"]|'([^']+)'(?!.*')")
_TAG = re.compile(r"\{[{%].*?[%}]\}|\{[{%].*")


class TemplateFault(Exception):
    """A template failed. `template` is the name of the one in which it did, `line` 0 when unknown, `word` what the line has wrong.

    `at` is the first character of it and how many there are, where that is known. A `runaway` took so long that it is better not tried again.
    """

    def __init__(self, says: str, template: str, line: int = 0, word: str = "", hint: str = "", runaway: bool = False,
                 at: tuple[int, int] | None = None) -> None:
        super().__init__(says)
        self.says, self.template, self.line, self.word, self.hint, self.runaway, self.at = says, template, line, word, hint, runaway, at

    def spot(self, file: str, source: str) -> Spot:
        """The place of what is faulty in the template's source: of the word, else of the only tag in its line, else of the line."""
        if self.at is not None:
            return Spot.in_text(file, source, *self.at)
        if not self.line:
            return Spot(file)
        start = sum(len(line) + 1 for line in source.split("\n")[: self.line - 1])
        line = source[start:].split("\n", 1)[0]
        tags = list(_TAG.finditer(line))
        words = (found for begin, end in (*(tag.span() for tag in tags), (0, len(line))) if (found := self._word_in(line, begin, end)))
        found = next(words, None) or (tags[0] if len(tags) == 1 else re.search(r"\S.*", line))
        return Spot.in_text(file, source, start + (found.start() if found else 0), len(found[0]) if found else 1)

    def _word_in(self, line: str, begin: int, end: int) -> re.Match[str] | None:
        """The word as a whole one, between two characters of the line."""
        before, after = (rf"(?{way}!\w)" if end.isalnum() else "" for way, end in (("<", self.word[:1]), ("", self.word[-1:])))
        return re.compile(f"{before}{re.escape(self.word)}{after}").search(line, begin, end) if self.word else None


class NoSuchName(UndefinedError):
    """A name that is not given, or that a thing has not."""

    def __init__(self, message: str | None, name: str, owner: object) -> None:
        super().__init__(message)
        self.name, self.owner = name, owner


class Unknown(StrictUndefined):
    """Jinja's, which tells in place of a sentence what was asked of what."""

    def __init__(self, hint: str | None = None, obj: Any = missing, name: str | None = None, exc: Any = UndefinedError) -> None:
        told: Any = partial(NoSuchName, name=str(name), owner=obj) if exc is UndefinedError and name is not None and not hint else exc
        super().__init__(hint, obj, name, told)


def unread(fault: TemplateSyntaxError, template: str, source: str, environment: Environment) -> TemplateFault:
    """A template that can't be read, as a fault."""
    says = re.sub(r" at \d+$", "", (fault.message or "it is no template").rstrip("."))
    quoted = _WORD.search(says.split(". ")[0])
    word = next((group for group in quoted.groups() if group), "") if quoted else ""
    known = {"tag": TAGS, "filter": FILTERS_ALLOWED, "test": tuple(TESTS)}
    kind = next((kind for kind in known if re.search(rf"\b{kind}\b", says.split("'")[0])), "")
    if kind and word in known[kind]:
        hint = "Tags are closed in turn, the innermost first."
    else:
        hint = meant(word, known[kind]) if word and kind else "Compare its brackets and its tags with those of themes/standard/templates."
    at = stopped_at(environment, source, fault, word)
    return TemplateFault(f"{says[0].lower()}{says[1:]}", fault.name or template, fault.lineno, hint=hint, at=at)


def asked(fault: NoSuchName, line: str, names: set[str]) -> tuple[str, set[str]]:
    """What has no such name, in a sentence; the names that there are."""
    owner = fault.owner
    if owner is missing:
        return f"there is no `{fault.name}`", names
    written = re.search(rf"([\w.]+)\.{re.escape(fault.name)}\b", line)
    if isinstance(owner, Mapping):
        return f"`{written[1] if written else 'a table'}` has no `{fault.name}`", {str(key) for key in owner}
    kind = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(owner).__name__).lower()
    fields = {name for name in getattr(type(owner), "__dataclass_fields__", ()) if not name.startswith("_")}
    return f"`{written[1]}` ({kind}) has no `{fault.name}`" if written else f"{kind} has no `{fault.name}`", fields
