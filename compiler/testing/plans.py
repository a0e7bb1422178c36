"""A plan from a text: the stages from parse to derive, with plugins at hand.

In: the text of a design.yaml, plugins. Out: a `Plan` to ask. No file is read but the library's.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from textwrap import dedent
from types import ModuleType

from compiler.base.digests import digest
from compiler.base.report import Outcome, Severity
from compiler.base.showing import Units
from compiler.library import entries, find_item, handbook
from compiler.plug import load
from compiler.plug.component_places import in_the_plan
from compiler.plug.loading import BUNDLED
from compiler.stages.assemble import assemble
from compiler.stages.check import check, shop_of
from compiler.stages.derive import derive
from compiler.stages.parse import parse
from compiler.stages.read import read_library
from compiler.values.contributions import Contributions, Plugin
from compiler.values.derived import Derived
from compiler.values.design import Design
from compiler.values.document import Block, Leaves
from compiler.values.guidance import Weights
from compiler.values.history import History
from compiler.values.library import Library
from compiler.values.model import Edition, Model
from compiler.values.notes import Notes
from compiler.values.products import CutList
from compiler.values.source import Library as LibraryFiles
from compiler.values.source import Source, SourceFile

HEAD = "plan: A test\nnumber: 1\nissue: 1\ndate: 2026-01-02\nunits: inch\neditions: [inch letter, metric a4]\n"
"""What a design needs beside its parts; put before a text that does not begin with `plan:`."""


@dataclass(frozen=True, slots=True, repr=False)
class Plan:
    """A plan as it came out. With an error in it, or without what is asked for, it raises AssertionError with all messages.

    `messages`, `errors` and `model` are there in any case, for tests of mistakes.
    """

    outcome: Outcome[Derived]
    made: Model | None

    @property
    def model(self) -> Model:
        """The model."""
        assert self.made is not None, self._told()
        return self.made

    @property
    def messages(self) -> tuple[str, ...]:
        """Every error, warning and remark: the sentence, and ` · ` and the hint where there is one."""
        return tuple(f"{entry.says} · {entry.hint}" if entry.hint else entry.says for entry in self.outcome.report)

    @property
    def errors(self) -> tuple[str, ...]:
        """The sentences of errors alone."""
        return tuple(entry.says for entry in self.outcome.report if entry.severity is Severity.ERROR)

    @property
    def hazards(self) -> tuple[str, ...]:
        """The names of the hazards that checks found."""
        return tuple(hazard.name for hazard in self._derived.hazards)

    def make[Product](self, kind: type[Product]) -> Product:
        """The product of a type."""
        assert self.outcome.report.ok, self._told()
        product = self._derived.get(kind)
        assert product is not None, f"no {kind.__name__} was made: {self._told()}"
        return product

    def cut(self, name: str) -> str:
        """A row of the cut list in one line: how many, name, length x width x thickness, stock."""
        row, edition = self.make(CutList).row(name), self.model.edition
        sizes = " x ".join(edition.show(size) for size in (row.length, row.width, row.thickness))
        return f"{row.number} {row.name} {sizes} {row.stock.name}"

    def volume(self, name: str) -> float:
        """Cubic inches of wood in a part, everything grown and cut: from its solid."""
        from compiler.solid import build

        assert self.outcome.report.ok, self._told()
        return build((self.model.part(name),), quality="fine")[name].body.volume

    def section(self, title: str) -> tuple[Block, ...]:
        """The blocks of a section, by its title or its name."""
        assert self.outcome.report.ok, self._told()
        for _, section in self._derived.sections:
            if title in (section.title, section.name):
                return section.blocks
        raise AssertionError(f"no section {title}: {self._told()}")

    def export(self, suffix: str) -> bytes:
        """A file beside the PDF; pages are set in the standard theme."""
        assert self.outcome.report.ok, self._told()
        for name, raw in self._derived.exports:
            if name == suffix:
                return raw if isinstance(raw, bytes) else _in_standard_letters(raw)
        raise AssertionError(f"no export {suffix}: {self._told()}")

    @property
    def _derived(self) -> Derived:
        assert self.outcome.value is not None, self._told()
        return self.outcome.value

    def _told(self) -> str:
        """Every message with the line of code it is about, one below the other."""
        lines = []
        for entry, message in zip(self.outcome.report, self.messages, strict=True):
            code = [spot for spot in (entry.at, *entry.also) if spot is not None and spot.line and spot.file.endswith(".py")]
            lines.append(f"{message} ({', '.join(f'{spot.file}:{spot.line}' for spot in code)})" if code else message)
        return "\n".join(lines) or "nothing was said"

    def __repr__(self) -> str:
        """Short, as a failing test shows it."""
        return f"Plan({len(self.made.parts)} parts, {len(self.messages)} messages)" if self.made else f"Plan(not made: {self._told()})"


def _in_standard_letters(leaves: Leaves) -> bytes:
    from compiler.stages.dress import leaves_in, load_theme
    from compiler.stages.publish import publish

    theme = load_theme("standard", (BUNDLED.parent / "themes",)).value
    assert theme is not None
    made = publish(leaves_in(leaves, theme, author="A shop", language="en", date="2026-01-02"))
    assert made.value is not None, made.report
    return made.value.content


def plan(text: str, *plugins: Plugin | ModuleType, units: Units = "inch", settings: str = "", notes: Notes | None = None,
         bundled: bool = True) -> Plan:
    """A plan from the text of a design.yaml. `settings` is the text of a shop.yaml, `units` the edition's.

    `notes` are the build notes, empty when there are none to test. Without `bundled` only the plugins given are there.
    """
    text = dedent(text).lstrip("\n")
    text = text if text.startswith("plan:") else HEAD + text
    loaded = load(bundled=BUNDLED if bundled else None, installed=False, given=plugins)
    return _run(text, dedent(settings), units, loaded, notes or Notes(title="A test"))


def _run(text: str, settings: str, units: Units, loaded: Outcome[Contributions], notes: Notes) -> Plan:
    report = loaded.report
    files = tuple(SourceFile(name, words, digest(words)) for name, words in (("design.yaml", text), ("shop.yaml", settings)) if words)
    drafted = parse(Source(folder="test", files=files))
    edition = Edition(units=units, paper="a4" if units == "mm" else "letter")
    library = library_files()
    assert drafted.value is not None
    assert loaded.value is not None
    shop = shop_of(drafted.value, library, edition)
    components = loaded.value.components
    designed = check(drafted.value, library, edition, components)
    report = report + drafted.report + shop.report + in_the_plan(designed.report, components, drafted.value)
    if designed.value is None or shop.value is None:
        return Plan(Outcome(None, report), None)
    assembled = assemble(designed.value, loaded.value.joint_kinds, shop.value, library)
    report = report + in_the_plan(assembled.report, components, drafted.value)
    if assembled.value is None:
        return Plan(Outcome(None, report), None)
    derived = derive(loaded.value, (assembled.value, edition, shop.value, notes, _handbook(designed.value), _weights(assembled.value), History()))
    return Plan(Outcome(derived.value, report + in_the_plan(derived.report, components, drafted.value)), assembled.value)


@cache
def library_files() -> LibraryFiles:
    """The texts of the library that comes with the compiler."""
    outcome = read_library(BUNDLED.parent / "shared")
    assert outcome.value is not None, outcome.report
    return outcome.value


def _handbook(design: Design) -> Library:
    files, units = library_files(), design.edition.units
    book = handbook(files, units).value
    assert book is not None
    items = {kind: tuple(item for entry in entries(files) if entry.kind == kind
                         and (item := find_item(files, entry.key, units).value) is not None) for kind in ("glue", "finish")}
    return replace(book, items=design.items, stocks=design.stocks, glues=items["glue"], finishes=items["finish"])


def _weights(model: Model) -> Weights:
    from compiler import solid

    weighed = solid.weights(solid.build(model.parts, quality="fine"))
    return Weights(parts=tuple((one.part, Fraction(str(round(one.kilograms, 4)))) for one in weighed if one.kilograms is not None),
                   unknown=tuple(sorted({model.part(one.part).stock.name for one in weighed if one.kilograms is None})))
