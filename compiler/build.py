"""The order of the stages, and nothing else: from a plan's folder to its report, its PDF, its record.

In: a folder and what the maker wishes. Out: results with a report. Files are written beside their place and renamed, so that what
was published before is whole until what replaces it is.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from compiler import __version__
from compiler.base.digests import digest
from compiler.base.report import Diagnostic, Outcome, Report, Severity, Spot
from compiler.showing import Place, fresh, labelled
from compiler.store.memo import Store
from compiler.values.contributions import LANDMARKS, Brought, Contributions
from compiler.values.guidance import Weights
from compiler.values.model import Edition, Model
from compiler.values.notes import Notes
from compiler.values.settings import Shop
from compiler.values.source import Library, Source

if TYPE_CHECKING:
    from compiler.values.design import Design
    from compiler.values.document import Document, Photo, View
    from compiler.values.draft import Draft
    from compiler.values.figure import Drawing
    from compiler.values.library import Library as Handbook

ROOT = Path(__file__).resolve().parents[1]
"""The checkout: plans, themes, plugins and library live beside the compiler."""

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """Which editions: units (None = the plan's first), papers (none = the plan's own for these units), and trust for once."""

    units: str | None = None
    papers: tuple[str, ...] = ()
    trust: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What checking a plan says."""

    report: Report
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedEdition:
    """One PDF as it was written."""

    path: Path
    name: str
    pages: int
    reused: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """What publishing a plan gave. `account` says what was made again and what was reused."""

    report: Report
    place: Place
    editions: tuple[PublishedEdition, ...] = ()
    account: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """Lines to print, for commands that tell something."""

    report: Report
    place: Place | None
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """Where everything lies. Tests give folders of their own."""

    library: Path = ROOT / "shared"
    themes: Path = ROOT / "themes"
    plugins: Path | None = ROOT / "plugins"
    store: Path | None = ROOT / ".kerfolio"
    installed: bool = True


@dataclass(slots=True)
class _Plan:
    """One plan in one run: what was read, and what is worked out from it once."""

    folder: Path
    workshop: Workshop
    source: Source | None = None
    draft: Draft | None = None
    library: Library | None = None
    report: Report = field(default_factory=Report)

    @property
    def place(self) -> Place:
        return Place(self.folder, self.draft, self.library)


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """One edition as far as the document: everything that no theme can change."""

    report: Report
    document: Document | None = None
    model: Model | None = None
    step: Fraction = Fraction(1, 32)
    lists: tuple[Any, Any] = (None, None)
    theme: str = "standard"


def check(folder: Path, wishes: Wishes, workshop: Workshop = Workshop()) -> Checked:
    """Everything that is wrong with a plan, in all its editions; draws and writes nothing."""
    plan = _read(folder, workshop)
    report = plan.report
    if plan.draft is not None and plan.source is not None:
        editions, found = _editions(plan, wishes, every=True)
        report += found
        store = _store(workshop)
        for number, edition in enumerate(_one_a_unit(editions)):
            built = _kept_document(plan, edition, wishes, store, draw=False)
            told = fresh(built.report, report)
            report += labelled(told, edition.name) if number else told
    return Checked(report=report, place=plan.place)


def publish(
    folder: Path,
    wishes: Wishes,
    *,
    out: Path | None = None,
    theme: str | None = None,
    progress: Progress = lambda text: None,
    workshop: Workshop = Workshop(),
) -> Published:
    """The PDFs of the editions wished for, with their records; nothing is written while there is an error in any of them."""
    plan = _read(folder, workshop)
    report = plan.report
    if plan.draft is None or plan.source is None:
        return Published(report=report, place=plan.place)
    editions, found = _editions(plan, wishes)
    report += found
    store = _store(workshop)
    made: list[tuple[Edition, Built, Any, Any]] = []
    for edition in editions:
        progress(f"{edition.name}: working it out")
        built = _kept_document(plan, edition, wishes, store, draw=True)
        told = fresh(built.report, report)
        report += labelled(told, edition.name) if len(editions) > 1 else told
        if built.document is None or not built.report.ok:
            continue
        progress(f"{edition.name}: setting the pages")
        finished = _pages(built, plan, edition, theme, store)
        report += fresh(finished.report, report)
        if finished.value is not None:
            made.append((edition, built, *finished.value))
    if not report.ok:
        return Published(report=report, place=plan.place, account=_account(store))
    written = []
    target = out if out is not None else folder / "out"
    for edition, _, pdf, record in made:
        stem = _stem(plan, edition, editions)
        outcome = _write(target, stem, pdf.content, record)
        report += outcome
        if outcome.ok:
            written.append(PublishedEdition(path=target / f"{stem}.pdf", name=edition.name, pages=pdf.page_count))
    if report.ok and made:
        report += _write_letters(folder, made[0][1].model)
    store.prune()
    return Published(report=report, place=plan.place, editions=tuple(written), account=_account(store))


def why(folder: Path, quantity: str, wishes: Wishes, workshop: Workshop = Workshop()) -> Lines:
    """The chain of expressions and joints behind one size."""
    from compiler.stages.why import lines
    from compiler.stages.why import why as reason_for

    plan = _read(folder, workshop)
    report = plan.report
    if plan.draft is None or plan.source is None:
        return Lines(report=report, place=plan.place)
    editions, found = _editions(plan, wishes)
    report += found
    for edition in editions[:1]:
        outcome, design = _model(plan, edition, wishes)
        report += outcome.report
        if outcome.value is not None and design is not None:
            told = reason_for(outcome.value[0], quantity)
            report += told.report
            shown = lines(told.value, edition.units) if told.value is not None else ()
            return Lines(report=report, place=plan.place, lines=shown)
    return Lines(report=report, place=plan.place)


def plugins(folder: Path | None, workshop: Workshop = Workshop()) -> Lines:
    """Every plugin with what it brings."""
    from compiler.plug.loading import load

    outcome = load(
        bundled=workshop.plugins,
        installed=workshop.installed,
        shop=folder.parent if folder else None,
        plan=folder,
        trusted=_trusted(folder, workshop) if folder else (),
    )
    contributions = outcome.value or Contributions()
    lines = []
    for author in contributions.plugins:
        brings = _brings(contributions, author.plugin)
        lines.append(f"{author.plugin:22} {author.found:10} {brings}")
    return Lines(report=outcome.report, place=Place(folder) if folder else None, lines=tuple(lines))


def _brings(contributions: Contributions, plugin: str) -> str:
    kinds: tuple[tuple[str, tuple[Brought[Any], ...]], ...] = (
        ("joints", contributions.joint_kinds),
        ("tasks", contributions.tasks),
        ("checks", contributions.checks),
        ("sections", contributions.sections),
        ("rules", contributions.safety_rules),
        ("exports", contributions.exports),
    )
    told = [(word, [entry.name for entry in entries if entry.author.plugin == plugin]) for word, entries in kinds]
    return "; ".join(f"{word}: {', '.join(names)}" for word, names in told if names)


# ---- reading -------------------------------------------------------------------------------------------


def _read(folder: Path, workshop: Workshop) -> _Plan:
    from compiler.stages.parse import parse
    from compiler.stages.read import read, read_library

    plan = _Plan(folder, workshop)
    source = read(folder)
    library = read_library(workshop.library)
    plan.report = source.report + library.report
    plan.source, plan.library = source.value, library.value
    if source.value is not None:
        draft = parse(source.value)
        plan.draft = draft.value
        plan.report += draft.report
    return plan


def _editions(plan: _Plan, wishes: Wishes, *, every: bool = False) -> tuple[tuple[Edition, ...], Report]:
    """The editions to make: those the plan names, narrowed by the wishes; papers that it doesn't name may be wished for."""
    from compiler.stages.check import editions_of

    assert plan.draft is not None
    outcome = editions_of(plan.draft)
    named = outcome.value or ()
    if not named:
        return (), outcome.report
    if every and wishes.units is None:
        return named, outcome.report
    units = wishes.units or named[0].units
    fitting = tuple(edition for edition in named if edition.units == units)
    if not fitting:
        own = sorted({edition.units for edition in named})
        fault = Diagnostic(
            "no-such-edition",
            f"This plan has no edition in {'millimetres' if units == 'mm' else 'inches'}; it has {' and '.join(own)}.",
            Spot("design.yaml", ("editions",)),
            f"Add {'metric a4' if units == 'mm' else 'inch letter'} to its editions.",
        )
        return (), outcome.report + Report((fault,))
    if wishes.papers:
        fitting = tuple(Edition(units=fitting[0].units, paper=paper) for paper in wishes.papers)  # type: ignore[arg-type]  # argparse lets no other word through
    return fitting, outcome.report


def _one_a_unit(editions: tuple[Edition, ...]) -> tuple[Edition, ...]:
    """Paper changes no size: checking one edition a unit is enough."""
    return tuple({edition.units: edition for edition in reversed(editions)}.values())[::-1]


def _trusted(folder: Path, workshop: Workshop) -> tuple[str, ...]:
    plan = _read(folder, workshop)
    if plan.draft is None or plan.library is None:
        return ()
    from compiler.stages.check import shop_of

    editions, _ = _editions(plan, Wishes())
    shop = shop_of(plan.draft, plan.library, editions[0]).value if editions else None
    return shop.trusted if shop else ()


# ---- working out ---------------------------------------------------------------------------------------


def _kept_document(plan: _Plan, edition: Edition, wishes: Wishes, store: Store, *, draw: bool) -> Built:
    """The document, from the store when nothing that it is made from has changed."""
    key = digest(("document", _code(), _inputs(plan), _plugin_code(plan), edition, wishes.trust, draw))
    return store.keep(f"document of {edition.name}", key, lambda: _build(plan, edition, wishes, store, draw=draw))


def _inputs(plan: _Plan) -> tuple[tuple[str, str], ...]:
    """Every file of the plan and the library with its digest; files looked for and not found count too."""
    assert plan.source is not None
    found = [(file.name, file.digest) for file in (*plan.source.files, *(plan.library.files if plan.library else ()))]
    found += [(name, "absent") for name in plan.source.absent]
    found.append(("mark", hashlib.sha256(plan.source.mark).hexdigest()))
    for photo in plan.source.photos:
        with contextlib.suppress(OSError):
            found.append((photo.path, hashlib.sha256((plan.folder / photo.path).read_bytes()).hexdigest()))
    return tuple(found)


def _plugin_code(plan: _Plan) -> tuple[tuple[str, str], ...]:
    """Digests of the code of all plugins that may take part."""
    from compiler.plug.finding import find

    workshop = plan.workshop
    candidates = find(
        bundled=workshop.plugins, installed=workshop.installed, shop=plan.folder.parent, plan=plan.folder
    )
    return tuple((candidate.name, candidate.digest) for candidate in candidates)


def _model(
    plan: _Plan, edition: Edition, wishes: Wishes
) -> tuple[Outcome[tuple[Model, Shop, Contributions]], Design | None]:
    """The model of one edition with the shop and the plugins that it was made with."""
    from compiler.plug.loading import load
    from compiler.stages.assemble import assemble
    from compiler.stages.check import check as check_design
    from compiler.stages.check import shop_of

    assert plan.draft is not None
    if plan.library is None:
        return Outcome(None), None
    shop = shop_of(plan.draft, plan.library, edition)
    design = check_design(plan.draft, plan.library, edition)
    loaded = load(
        bundled=plan.workshop.plugins,
        installed=plan.workshop.installed,
        shop=plan.folder.parent,
        plan=plan.folder,
        trusted=shop.value.trusted if shop.value else (),
        trust_all=wishes.trust,
    )
    report = shop.report + design.report + loaded.report
    if design.value is None or shop.value is None or loaded.value is None:
        return Outcome(None, report), design.value
    shop_value = replace(shop.value, mark=plan.source.mark if plan.source else b"")
    model = assemble(design.value, loaded.value.joint_kinds, shop_value, plan.library)
    report += model.report
    if model.value is None:
        return Outcome(None, report), design.value
    return Outcome((model.value, shop_value, loaded.value), report), design.value


def _build(plan: _Plan, edition: Edition, wishes: Wishes, store: Store, *, draw: bool) -> Built:
    """From the draft to the document of one edition."""
    from compiler.stages.arrange import arrange, order
    from compiler.stages.derive import derive
    from compiler.stages.illustrate import illustrate
    from compiler.values.products import CutList, HardwareList

    modelled, design = _model(plan, edition, wishes)
    report = modelled.report
    if modelled.value is None or design is None:
        return Built(report=report)
    model, shop, contributions = modelled.value
    notes = _notes(plan, model, design)
    report += notes.report
    handbook = _handbook(plan, design, edition)
    weights = store.keep("weights", digest(("weights", _code(), model.parts)), lambda: _weigh(model))
    given = (model, edition, shop, notes.value or Notes(title=model.plan.title), handbook, weights)
    derived = derive(contributions, given, keep=_keeper(store))
    report += derived.report
    if derived.value is None:
        return Built(report=report, model=model)
    sections = order(derived.value.sections, LANDMARKS)
    if draw and report.ok:
        drawn = illustrate(sections, _drawer(model, store))
        report += drawn.report
        sections = drawn.value or sections
    arranged = arrange(sections, model, _front(shop, model))
    report += arranged.report
    return Built(
        report=report,
        document=arranged.value if draw else None,
        model=model,
        step=shop.step,
        lists=(derived.value.get(CutList), derived.value.get(HardwareList)),
        theme=shop.theme,
    )


def _front(shop: Shop, model: Model) -> Any:
    from compiler.stages.arrange import Frontispiece

    return Frontispiece(
        shop=shop.name,
        terms=shop.terms,
        step=shop.step if model.edition.units == "inch" else Fraction(1, 2),
        language="en-US" if model.edition.paper == "letter" else "en",
        subject=f"Woodworking plan: {model.plan.title}",
    )


def _notes(plan: _Plan, model: Model, design: Design) -> Outcome[Notes]:
    """The build notes; a plan without any is only warned of."""
    from compiler.language import evaluate, lookup_in
    from compiler.stages.notes import read_notes
    from compiler.stages.photos import photo
    from compiler.stages.read import read_photo

    text = plan.source.text("notes.md") if plan.source else None
    if text is None:
        warning = Diagnostic(
            "no-notes", "This plan has no build notes.", None, "Write them in notes.md: each ## heading is a step.", Severity.WARNING
        )
        return Outcome(Notes(title=model.plan.title), Report((warning,)))
    finished = {
        f"{name}.{what}": value
        for part in model.parts
        for name in _names_of(model, part.name)
        for what, value in (("length", part.length), ("width", part.width), ("thickness", part.thickness))
    }
    lookup = lookup_in(design, "", first=finished)

    def size(expression: str, at: Spot) -> Outcome[Any]:
        return evaluate(expression, lookup, model.plan.units, at, edition=model.edition.units)

    def take(path: str, says: str, caption: str, at: Spot) -> Outcome[Photo]:
        content = read_photo(plan.folder, path, at)
        if content.value is None:
            return Outcome(None, content.report)
        taken = photo(content.value, says, caption, at)
        return Outcome(taken.value, content.report + taken.report)

    return read_notes(text, "notes.md", model, size, take)


def _names_of(model: Model, full: str) -> tuple[str, ...]:
    """All names that mean this part alone, or parts that are equal to it."""
    part = model.part(full)
    row = model.kind(part.letter)
    names = {full, row.name}
    for name in row.parts:
        bare = ".".join(_bare(word) for word in name.split("."))
        others = model.named(bare)
        if all(model.part(other).letter == part.letter for other in others):
            names.add(bare)
    return tuple(sorted(names))


def _bare(word: str) -> str:
    """A copy's name without its hand or number: `left front leg` → `leg`, `shelf 2` → `shelf`."""
    words = word.split(" ")
    while len(words) > 1 and words[0] in ("left", "right", "front", "back", "bottom", "top"):
        words = words[1:]
    return " ".join(words[:-1] if len(words) > 1 and words[-1].isdigit() else words)


def _handbook(plan: _Plan, design: Design, edition: Edition) -> Handbook:
    from compiler.library import entries, find_item, handbook

    assert plan.library is not None
    value = handbook(plan.library, edition.units).value
    assert value is not None
    found: dict[str, list[Any]] = {"glue": [], "finish": []}
    for entry in entries(plan.library):
        if entry.kind in found:
            item = find_item(plan.library, entry.key, edition.units).value
            if item is not None:
                found[entry.kind].append(item)
    return replace(value, items=design.items, glues=tuple(found["glue"]), finishes=tuple(found["finish"]))


def _weigh(model: Model) -> Weights:
    """Weights from the solids, so that every cut counts; stock without a density is named, not guessed."""
    from compiler import solid

    weighed = solid.weights(solid.build(model.parts, quality="fine"))
    return Weights(
        parts=tuple((one.part, Fraction(str(round(one.kilograms, 4)))) for one in weighed if one.kilograms is not None),
        unknown=tuple(sorted({model.part(one.part).stock.name for one in weighed if one.kilograms is None})),
    )


def _keeper(store: Store) -> Any:
    """Products are kept under the digest of the plugin's code and of all that the task was given."""
    digests: dict[int, str] = {}

    def of(value: object) -> str:
        return digests.setdefault(id(value), digest(value))

    def keep(task: Brought[Any], inputs: tuple[object, ...], make: Callable[[], Outcome[object]]) -> Outcome[object]:
        key = digest(("task", _code(), task.name, task.author.plugin, task.author.digest, tuple(of(value) for value in inputs)))
        return store.keep(task.name, key, make)

    return keep


def _drawer(model: Model, store: Store) -> Callable[[View, Spot | None], Outcome[Drawing]]:
    """Draws views; a drawing is kept under the digest of the model and the view's words."""
    about = digest(("drawing", _code(), model))
    solids: list[Any] = []

    def draw(view: View, at: Spot | None) -> Outcome[Drawing]:
        def make() -> Outcome[Drawing]:
            from compiler import solid
            from compiler.draw.picture import picture

            if not solids:
                solids.append(solid.build((*model.parts, *model.pieces), quality="coarse"))
            return picture(view, model, solids[0], at)

        return store.keep(f"drawing {view.words}", digest((about, view, at)), make)

    return draw


# ---- finishing -----------------------------------------------------------------------------------------


def _pages(built: Built, plan: _Plan, edition: Edition, theme: str | None, store: Store) -> Outcome[tuple[Any, bytes]]:
    """The finished PDF and its record."""
    from compiler import record
    from compiler.stages.dress import dress, load_theme
    from compiler.stages.publish import publish as publish_pages

    assert built.document is not None and built.model is not None
    loaded = load_theme(theme or built.theme, (plan.folder.parent / "themes", plan.workshop.themes))
    if loaded.value is None:
        return Outcome(None, loaded.report)
    reads = tuple((Path(read.place).name, read.digest or "absent") for read in loaded.value.reads)
    inputs = (*_inputs(plan), *reads)
    key = digest(("pages", _code(), _inputs(plan), _plugin_code(plan), edition, reads, _versions()))

    def make() -> Outcome[Any]:
        assert built.document is not None and loaded.value is not None
        pages = dress(built.document, loaded.value)
        if pages.value is None:
            return Outcome(None, pages.report)
        home = digest(("seeds", str(plan.folder.resolve()), edition, loaded.value.name))
        published = publish_pages(pages.value, seeds=store.get(home))
        if published.value is not None:
            store.put(home, published.value.seeds)
        return Outcome(published.value, pages.report + published.report)

    finished = store.keep(f"pages of {edition.name}", key, make, lambda outcome: outcome.value is not None)
    if finished.value is None:
        return Outcome(None, loaded.report + finished.report)
    pdf = finished.value
    cut_list, hardware = built.lists
    written = record.write(
        record.make(
            model=built.model,
            step=built.document.step,
            pdf=pdf.content,
            pages=pdf.page_count,
            theme=loaded.value.chain,
            inputs=inputs,
            versions=_versions(),
            cut_list=cut_list,
            hardware=hardware,
        )
    )
    return Outcome((pdf, written), loaded.report + finished.report)


@cache
def _code() -> str:
    """The digest of the compiler's own code: another compiler makes everything again."""
    h = hashlib.sha256(__version__.encode())
    for path in sorted((ROOT / "compiler").rglob("*")):
        if path.suffix in (".py", ".lark") and "__pycache__" not in path.parts:
            h.update(path.relative_to(ROOT).as_posix().encode() + b"\0" + path.read_bytes())
    return h.hexdigest()


@cache
def _versions() -> tuple[tuple[str, str], ...]:
    """The libraries that can change a byte."""
    from importlib.metadata import version

    names = ("weasyprint", "manifold3d", "shapely", "numpy", "jinja2", "packingsolver", "pillow", "fonttools", "pydyf")
    found = [("kerfolio", __version__)]
    for name in names:
        with contextlib.suppress(Exception):
            found.append((name, version(name)))
    return tuple(found)


def _store(workshop: Workshop) -> Store:
    return Store(workshop.store)


def _account(store: Store) -> tuple[str, ...]:
    return tuple(f"made    {name}" for name in store.made) + tuple(f"reused  {name}" for name in store.reused)


def _stem(plan: _Plan, edition: Edition, editions: tuple[Edition, ...]) -> str:
    """The plan's folder name; a second edition has its units and paper behind it."""
    name = plan.folder.resolve().name
    return name if edition == editions[0] else f"{name}.{edition.name.replace(' ', '-')}"


def _write(folder: Path, stem: str, pdf: bytes, record: bytes) -> Report:
    """The PDF and its record, each whole or not at all. A file that is already right is not touched."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, content in ((folder / f"{stem}.pdf", pdf), (folder / f"{stem}.edition.json", record)):
            _replace(path, content)
    except OSError as fault:
        return Report(
            (
                Diagnostic(
                    "cannot-write",
                    f"{folder} can't be written to: {fault.strerror or fault}.",
                    None,
                    "Name another folder with --out.",
                ),
            )
        )
    return Report()


def _replace(path: Path, content: bytes) -> None:
    if path.is_file() and path.read_bytes() == content:
        return
    beside = path.with_name(f".{path.name}.part-{os.getpid()}")
    try:
        beside.write_bytes(content)
        os.replace(beside, path)
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)


def _write_letters(folder: Path, model: Model | None) -> Report:
    """letters.yaml keeps every letter that was ever given."""
    from compiler.stages.letters import letters_text

    if model is None:
        return Report()
    path = folder / "letters.yaml"
    try:
        before = path.read_text(encoding="utf-8") if path.is_file() else ""
        text = letters_text(model, before)
        if text != before:
            _replace(path, text.encode())
    except OSError as fault:
        says = f"letters.yaml can't be written: {fault.strerror or fault}."
        return Report((Diagnostic("cannot-write", says, None, "Letters may differ next time.", Severity.WARNING),))
    return Report()
