"""Settings of a plugin: what the maker wrote in shop.yaml or the plan, else the author's defaults, inside the limits.

In: a class of settings, the shop, the model (for units). Out: the settings, and what is wrong with what was written.
Texts are sizes in the grammar of design.yaml; a setting may use those that stand above it and `shop.kerf`.
"""

from __future__ import annotations

from typing import Any

from compiler.base.measures import Angle, Length
from compiler.base.report import Findings, Outcome, Spot
from compiler.base.showing import Units
from compiler.language import Names, Want, did_you_mean, evaluate, listed
from compiler.values.ask import Asked
from compiler.values.contributions import Brought
from compiler.values.design import Known
from compiler.values.joinery import Settings
from compiler.values.model import Model
from compiler.values.settings import Shop

_WANTS: dict[str, Want] = {"size": "length", "count": "count", "ratio": "number", "angle": "angle"}


def settings_of(entry: Brought[type[Settings]], shop: Shop | None, model: Model | None) -> Outcome[Settings]:
    """The settings as written under their key; None in case of a fault."""
    kind, found = entry.thing, Findings()
    written = dict(dict(shop.plugin_settings).get(kind.key, ())) if shop is not None else {}
    place = Spot("shop.yaml", (kind.key,))
    keys = [asked.key for asked in kind.asks]
    for key in written:
        if key not in keys:
            near = did_you_mean(key, keys)
            found.error("unknown-key", f"`{kind.key}` has no `{key}`.", Spot("shop.yaml", (kind.key, key), on_key=True),
                        f"Did you mean {near}?" if near else f"It has {listed(keys)}.", plugin=entry.author.plugin)
    edition: Units = model.edition.units if model is not None else "inch"
    units: Units = model.plan.units if model is not None else "inch"
    known: dict[str, Known] = {"shop.kerf": shop.kerf} if shop is not None else {}
    values: dict[str, Any] = {}
    for asked in kind.asks:
        text = written.get(asked.key)
        value = _value(asked, text, known, units, edition, place.key(asked.key) if text is not None else place, found)
        if value is None:
            continue
        values[asked.field] = value
        if isinstance(value, (Length, int, str)) or asked.takes == "ratio":
            known[asked.key] = value
    report = found.report()
    return Outcome(kind(**values) if len(values) == len(kind.asks) else None, report)


def _value(asked: Asked, text: str | None, known: dict[str, Known], units: Units, edition: Units, at: Spot,
           found: Findings) -> Any:
    if asked.takes == "word":
        word = text if text is not None else asked.default
        if word is not None and asked.words and word not in asked.words:
            near = did_you_mean(word, asked.words)
            found.error("unknown-word", f"`{word}` is no word for `{asked.key}`.", at,
                        f"Did you mean {near}?" if near else f"It takes {listed(asked.words, 'or')}.")
            return None
        return word or ""
    if asked.takes not in _WANTS:
        found.error("plugin-refused", f"Settings can't ask for {asked.takes}; that belongs to a joint.", at)
        return None
    if text is None and asked.default is None:
        found.error("missing-key", f"`{asked.key}` is not set: {asked.says}.", at)
        return None
    own = text if text is not None else (asked.metric if edition == "mm" and asked.metric is not None else asked.default)
    unit: Units = units if text is not None else ("mm" if own is asked.metric and asked.metric is not None else "inch")
    want = _WANTS[asked.takes]
    outcome = evaluate(own or "0", Names(known), unit, at, edition=edition, want=want)
    found.extend(outcome.report)
    value = _plain(outcome.value)
    for low, limit, label in ((True, asked.least, "less than the least"), (False, asked.most, "more than the most")):
        edge = _plain(evaluate(limit, Names(known), "inch", at, edition=edition, want=want).value) if limit else None
        if value is None or edge is None:
            continue
        if value < edge if low else value > edge:
            found.error("outside-limits", f"`{asked.key}` {own} is {label}, {limit}.", at, f"It is {asked.says}.")
            return None
    return value


def _plain(value: Known | None) -> Any:
    return value.degrees if isinstance(value, Angle) else value
