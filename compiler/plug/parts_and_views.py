"""Components and views that plugins bring: whether they can be used.

In: a class or a function, and its author. Out: what is wrong with it, in sentences with a line; for a view, what it takes. The text of
a component is read where a plan uses it: reading all of them would cost every load.
"""

from __future__ import annotations

import typing
from collections.abc import Callable

from compiler.plug import asking
from compiler.values.ask import Asked
from compiler.values.contributions import Need, ViewTask
from compiler.values.document import VIEW_SIDES, VIEW_WORDS, View
from compiler.values.joinery import Component
from compiler.values.model import Model, Part

OWN = ("width", "depth", "height")
"""Sizes that each use of a component has from its place."""

_TAKES = ("size", "count", "ratio", "angle", "stock")
Refuse = Callable[[str, str, Asked | None], None]
"""Told of a fault: the sentence, the cure, the field that it is about."""


def judge_component(kind: type[Component], refuse: Refuse) -> None:
    """What is wrong with a component's word, text and fields."""
    # The grammar is loaded only for plugins that bring a component.
    from compiler.language.names import rule_broken

    what = f"Component `{kind.__name__}`"
    if not is_word(kind.kind):
        refuse(f'{what} has no word of lower-case letters and spaces; write kind = "…", the word makers use.', "", None)
    if not (kind.__doc__ or "").strip() or kind.__doc__ == Component.__doc__:
        refuse(f"{what} has no docstring; its first line says in the reference what it is.", "", None)
    if not isinstance(kind.written, str) or not kind.written.strip():
        refuse(f'{what} has no parts; write written = """parts: …""", as in design.yaml.', "", None)
    for asked in kind.asks:
        field = f"`{kind.__name__}.{asked.field}`"
        if asked.takes not in _TAKES:
            refuse(f"{field} asks for {asked.takes}; a component asks for size, count, ratio, angle or stock.", "", asked)
        elif asked.key in OWN:
            refuse(f"{field}: `{asked.key}` is the component's own; it follows from where it stands.", "", asked)
        elif (broken := rule_broken(asked.key)) is not None:
            refuse(f"{field} can't be a name in sizes: {broken[0]}", broken[1], asked)
        elif asked.default is None:
            refuse(f"{field} has no default; a component stands as soon as it has a place.", "", asked)
    asking.judge_fields(kind, OWN, lambda says, asked, hint: refuse(says, hint, asked))


def judge_view(view: ViewTask[...], called: str, hints: dict[str, object], refuse: Callable[[str], None]) -> tuple[Need, ...]:
    """What a view takes; `refuse` is told of a word that is taken, of arguments that no maker can write, of another return."""
    what = f"View `{called}`"
    if not is_word(view.word):
        refuse(f"{what}: the word `{view.word}` is not lower-case words and spaces.")
    elif view.word.split()[0] in (*VIEW_SIDES, *VIEW_WORDS):
        refuse(f"{what}: words that begin with `{view.word.split()[0]}` are the compiler's own views.")
    if hints.get("return") is not View:
        refuse(f"{what} does not say that it makes a View; write -> View.")
    needs = []
    code = view.run.__code__
    for name in code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]:
        hint = hints.get(name)
        many = typing.get_origin(hint) is tuple and typing.get_args(hint) == (Part, ...)
        if hint not in (Model, Part, str) and not many:
            refuse(f"{what}: `{name}` is no Model, Part, tuple[Part, ...] or str; nothing else can stand behind a word.")
        needs.append(Need(name, Part if many else typing.cast(type, hint), many=many))
    if len([need for need in needs if need.type is not Model]) > 1:
        refuse(f"{what} takes more than one thing; behind a word stands one name or one text.")
    return tuple(needs)


def is_word(word: object) -> bool:
    """Lower-case words, spaces and hyphens, as makers write them."""
    return isinstance(word, str) and word == word.lower().strip() and word.replace(" ", "").replace("-", "").isalpha()
