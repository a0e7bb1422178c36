"""The names of a new plugin: one name, in all the forms that code, lists and folders want.

In: what a maker typed. Out: `Names`, or what is wrong with it. What is taken already is judged against the plugins given.
"""

from __future__ import annotations

import difflib
import keyword
import re
from collections.abc import Iterable
from dataclasses import dataclass

from compiler.base.report import Findings, Outcome

SAMPLE = "sample plugin"
"""What the starters are called where a plugin's own name belongs."""

_WORDS = re.compile(r"[a-z][a-z0-9]*( [a-z0-9]+)*")
_LONGEST = 40


@dataclass(frozen=True, slots=True)
class Names:
    """One name as words: `loose key`."""

    words: str

    @property
    def folder(self) -> str:
        """As Python imports it: `loose_key`."""
        return self.words.replace(" ", "_")

    @property
    def hyphened(self) -> str:
        """As packages and files are named: `loose-key`."""
        return self.words.replace(" ", "-")

    @property
    def class_name(self) -> str:
        """As classes are named: `LooseKey`."""
        return "".join(word.capitalize() for word in self.words.split(" "))

    def put_into(self, text: str) -> str:
        """A starter's text with this name in all places of the sample's."""
        sample = Names(SAMPLE)
        for old, new in (
            (sample.folder, self.folder),
            (sample.hyphened, self.hyphened),
            (sample.class_name, self.class_name),
            (sample.words.capitalize(), self.words.capitalize()),
            (sample.words, self.words),
        ):
            text = text.replace(old, new)
        return text


def read_name(typed: str, kind: str, plugins: Iterable[str], joints: Iterable[str]) -> Outcome[Names]:
    """The name, if a plugin of this kind may be called so beside those plugins and words for joints."""
    found = Findings()
    words = re.sub(r"[_-]+", " ", typed.strip())
    hint = "Use lower-case words with hyphens: loose-key."
    if _WORDS.fullmatch(words) is None:
        found.error("bad-name", f"`{typed}` can't be a plugin's name.", None, hint)
        return Outcome(None, found.report())
    names = Names(words)
    if len(words) > _LONGEST:
        found.error("bad-name", f"`{typed}` is longer than {_LONGEST} characters.", None, hint)
    elif keyword.iskeyword(names.folder):
        found.error("bad-name", f"`{typed}` is a word of the Python language.", None, f"Add a word: {names.hyphened}-{kind}.")
    elif names.words == SAMPLE:
        found.error("bad-name", f"`{typed}` is what the starters are called.", None, "Name it after what it does.")
    elif kind == "joint" and re.search(r"\d", words):
        found.error("bad-name", f"`{typed}` has a digit, and the word for a joint has letters only.", None, "Spell it out.")
    elif names.folder in plugins:
        found.error("name-taken", f"There is a plugin called {names.folder} already.", None, "Choose another name.")
    elif kind == "joint" and words in joints:
        near = difflib.get_close_matches(words, sorted(joints), 1)
        found.error("name-taken", f"`{near[0]}` is a joint already.", None, f"Choose another word: our-{names.hyphened}.")
    return Outcome(names if found.report().ok else None, found.report())
