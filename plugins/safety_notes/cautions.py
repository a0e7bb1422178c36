"""Which cautions the plan prints, and before which step.

In: the model's operations, the notes, the library's cautions (each with its source) and rules that other plugins
bring. Out: `Cautions`. A caution is printed once, before the first step it guards; one that no step does stands on the
safety page: none is dropped. Signal words mean what ANSI Z535.6 says: they come with the caution and are never changed here.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from compiler.api import (
    Caution,
    Cautions,
    Hazard,
    Item,
    Length,
    Library,
    LibraryOperation,
    Model,
    Notes,
    OperationUse,
    Part,
    SafetyRule,
    Signal,
    SignalWord,
    StepCautions,
    Volume,
    task,
)

from .steps import step_of

RANK: tuple[SignalWord, ...] = ("DANGER", "WARNING", "CAUTION", "NOTICE")
MOST = 3
"""Cautions before one step. A wall of them is not read (common practice, no source): the gravest stand there, the others of
that step on the safety page, which every step with cautions points to."""

TOGETHER = 5
"""Sentences in one block: a longer one would not break across pages (common practice, no source)."""

PLACING = ("lift heavy case", "mount to wall", "fix anti-tip strap", "fit lid")


@task
def safety_notes(
    model: Model, notes: Notes, library: Library, rules: tuple[SafetyRule, ...], hazards: tuple[Hazard, ...] = ()
) -> Cautions:
    """Every caution of the plan in its place."""
    known = {operation.name: operation for operation in library.operations}
    texts = {caution.name: caution for caution in library.cautions}
    asked = [*model.operations, *_of_the_piece(model, known, texts)]
    printed: set[tuple[str, str]] = set()
    by_step: dict[str, list[tuple[str, str, str]]] = {step.key: [] for step in notes.steps}
    general: list[tuple[str, str, str]] = []
    placing: list[tuple[str, str, str]] = []
    for use in sorted(asked, key=lambda use: _step_number(use, notes)):
        operation = known.get(use.does)
        step = step_of(use, notes)
        for word, says, source in (*_from_library(operation, texts, use, model), *_from_rules(rules, use, model)):
            if (word, says) in printed:
                continue
            printed.add((word, says))
            home = by_step[step] if step else placing if use.does in PLACING else general
            home.append((word, says, source))
    for key, rows in by_step.items():
        rows.sort(key=lambda row: RANK.index(row[0]))
        by_step[key], more = rows[:MOST], rows[MOST:]
        general.extend(more)
    for rule in rules:
        if (rule.word, rule.says) not in printed and (why := _found(rule, hazards) or _of_what_it_is(rule, model)):
            printed.add((rule.word, rule.says))
            home = placing if why == "hazard" else general
            home.append((rule.word, rule.says, rule.source))
    return Cautions(
        notice=library.notice,
        protection=_protection(model, library, known),
        general=_signals(general),
        placing=_signals(placing),
        steps=tuple(StepCautions(step=key, signals=_signals(rows)) for key, rows in by_step.items() if rows),
    )


def _step_number(use: OperationUse, notes: Notes) -> tuple[int, str]:
    step = step_of(use, notes)
    keys = [note.key for note in notes.steps]
    return (keys.index(step) if step else len(keys), use.does)


def _of_the_piece(model: Model, known: dict[str, LibraryOperation], texts: dict[str, Caution]) -> tuple[OperationUse, ...]:
    """What the finished piece itself asks for: lifting when it is heavy, a strap when it can tip.

    The limits stand with the library's cautions: an operation of which none is passed is not asked for.
    """
    have = {use.does for use in model.operations}
    wanted = ["lift heavy case"]
    if "mount to wall" not in have:
        wanted.append("fix anti-tip strap")
    uses = tuple(OperationUse(does=does) for does in wanted if does not in have and does in known)
    return tuple(use for use in uses if any(texts[name].when and holds(texts[name], use, model) for name in known[use.does].cautions))


def _from_library(
    operation: LibraryOperation | None, texts: dict[str, Caution], use: OperationUse, model: Model
) -> Iterator[tuple[str, str, str]]:
    for name in operation.cautions if operation else ():
        caution = texts[name]
        if holds(caution, use, model):
            yield caution.word, f"{caution.risk} {caution.do}", caution.source


def _from_rules(rules: tuple[SafetyRule, ...], use: OperationUse, model: Model) -> Iterator[tuple[str, str, str]]:
    for rule in rules:
        if (rule.operation and rule.operation == use.does) or (rule.tool and rule.tool in use.tools):
            yield rule.word, rule.says, rule.source


def _found(rule: SafetyRule, hazards: tuple[Hazard, ...]) -> str:
    """`hazard` when a check found what the rule answers."""
    return "hazard" if rule.hazard and any(hazard.name == rule.hazard for hazard in hazards) else ""


def _of_what_it_is(rule: SafetyRule, model: Model) -> str:
    """`material` when the plan uses the rule's stock, wood or finish."""
    stocks = {
        name
        for part in model.parts
        for name in (part.stock.key, part.stock.name, part.stock.species.name if part.stock.species is not None else "")
    }
    finishes = {name for use in model.finishes for name in (use.kind, use.item.key if use.item is not None else "")}
    meant = (rule.stock and rule.stock in stocks) or (rule.finish and rule.finish in finishes)
    return "material" if meant else ""


def holds(caution: Caution, use: OperationUse, model: Model) -> bool:
    """True when all conditions of a caution hold for this use."""
    parts = [part for part in model.parts if part.name in use.parts] or list(model.parts)
    return all(_condition(name, value, parts, model, use) for name, value in caution.when)


def _condition(name: str, value: object, parts: list[Part], model: Model, use: OperationUse) -> bool:
    if isinstance(value, Length):
        if name == "length under":
            return any(part.length < value for part in parts)
        if name == "width under":
            return any(part.width < value for part in parts)
        if name == "thickness under":
            return any(part.thickness < value for part in parts)
        if name == "height over":
            return model.overall.up.end > value
    if isinstance(value, Fraction) and name == "weight over":
        heaviest = max((sheet_weight(part) for part in parts), default=Fraction(0))
        return (heaviest if use.does == "break down sheet" else weight(model)) > value
    if name == "species":
        wanted = (value,) if isinstance(value, str) else value if isinstance(value, tuple) else ()
        return any(part.stock.species is not None and part.stock.species.name in wanted for part in parts)
    if name == "piece":
        return model.is_case == (value == "case")
    if name in ("finish rags", "finish"):
        return any(_finish(finish.item, name, value) for finish in model.finishes)
    return False


def _finish(item: Item | None, name: str, value: object) -> bool:
    facts = dict(item.facts) if item is not None else {}
    if name == "finish rags":
        return facts.get("rags") == value
    return facts.get("solvent", "water") not in ("water", "")


def weight(model: Model) -> Fraction:
    """Weight of the whole piece in kg, from the parts' boxes: a little too much rather than too little."""
    total = Fraction(0)
    for part in model.parts:
        volume: Volume = part.length * part.width * part.thickness
        total += volume.cubic_metres * _density(part)
    return total


def sheet_weight(part: Part) -> Fraction:
    """Weight in kg of the whole sheet that a part is cut from; 0 for boards."""
    if part.stock.kind != "sheet" or not part.stock.sheets:
        return Fraction(0)
    across, along = part.stock.sheets[0]
    return (across * along * part.stock.thickness).cubic_metres * _density(part)


def _density(part: Part) -> Fraction:
    """kg per cubic metre; 700 where the library knows none (common practice, no source: on the heavy side)."""
    stock = part.stock
    return stock.density or (stock.species.density if stock.species else None) or Fraction(700)


def _protection(model: Model, library: Library, known: dict[str, LibraryOperation]) -> tuple[str, ...]:
    asked = {name for use in model.operations if use.does in known for name in known[use.does].protection}
    return tuple(text for name, text in library.protection if name in asked)


def _signals(rows: list[tuple[str, str, str]]) -> tuple[Signal, ...]:
    """Blocks of one signal word each, the gravest first; its sentences in the order they were asked for, few enough to be read."""
    found = []
    for word in RANK:
        mine = [row for row in rows if row[0] == word]
        for start in range(0, len(mine), TOGETHER):
            some = mine[start : start + TOGETHER]
            source = ", ".join(dict.fromkeys(source for _, _, source in some))
            found.append(Signal(word=word, content=tuple((says,) for _, says, _ in some), source=source))
    return tuple(found)
