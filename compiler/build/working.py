"""From the draft to the document of one edition: every stage in its order, each result kept under what it was made from.

In: a plan, an edition, an account. Out: `Built`. How products and drawings are kept: `compiler.build.keeping`.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from compiler.base.digests import digest
from compiler.base.report import Outcome, Report, Spot
from compiler.build.history import history_of, lists_of
from compiler.build.keeping import drawer, keeper
from compiler.build.notes_of import notes_of
from compiler.build.reading import Plan
from compiler.build.surroundings import code, tools
from compiler.build.wishes import Built, Tell, Wishes, silent
from compiler.store.account import Account
from compiler.store.deciding import Ingredients
from compiler.store.watching import watch
from compiler.values.contributions import LANDMARKS, Contributions
from compiler.values.guidance import Weights
from compiler.values.history import History
from compiler.values.model import Edition, Model
from compiler.values.notes import Notes
from compiler.values.products import CutList, HardwareList
from compiler.values.settings import Shop

if TYPE_CHECKING:
    from compiler.values.design import Design
    from compiler.values.document import View
    from compiler.values.library import Library as Handbook


def document_of(plan: Plan, edition: Edition, wishes: Wishes, account: Account, *, draw: bool, tell: Tell = silent) -> Built:
    """The document, from the store when nothing that it is made from has changed. `tell` hears what is found as soon as it is."""
    name = f"{'document' if draw else 'judgement'} of {edition.name}"
    made_from = _made_from(plan, edition, wishes)
    return account.keep(name, made_from, lambda: _build(plan, edition, wishes, account, draw=draw, tell=tell), lambda built: plan.unchanged())


def same_with(letters: str, built: Built, plan: Plan, edition: Edition, wishes: Wishes, account: Account) -> bool:
    """Keep the document for the next run, too, which will find `letters` in letters.yaml; False where it would be another with them."""
    from compiler.stages.letters import letters_text

    assert built.model is not None and plan.source is not None
    before = plan.source.text("letters.yaml") or ""
    doubted = any(each.at is not None and each.at.file == "letters.yaml" for each in built.report)
    if doubted or letters_text(built.model, before) != letters:
        return False
    if letters != before and plan.unchanged():
        account.foresee(f"document of {edition.name}", _made_from(plan, edition, wishes, letters), built)
    return True


def _made_from(plan: Plan, edition: Edition, wishes: Wishes, letters: str | None = None) -> Ingredients:
    return (*plan.all_ingredients(replace(wishes, theme=None, papers=(), sponsor=None, sample=False), letters), ("its edition", edition.name))


def model_of(
    plan: Plan, edition: Edition, wishes: Wishes, tell: Tell = silent
) -> tuple[Outcome[tuple[Model, Shop, Contributions]], Design | None]:
    """The model of one edition with the shop and the plugins that it was made with."""
    from compiler.plug.component_places import in_the_plan
    from compiler.plug.loading import left_out, load
    from compiler.stages.assemble import assemble
    from compiler.stages.check import check as check_design
    from compiler.stages.check import shop_of

    draft = plan.draft().value
    if plan.library is None or draft is None:
        return Outcome(None), None
    shop = shop_of(draft, plan.library, edition)
    workshop = plan.around.workshop
    loaded = load(
        bundled=workshop.plugins,
        installed=workshop.installed,
        shop=plan.folder.parent,
        plan=plan.folder,
        trusted=shop.value.trusted if shop.value else (),
        trust_all=wishes.trust,
    )
    components = loaded.value.components if loaded.value else ()
    design = check_design(draft, plan.library, edition, components)
    report = shop.report + in_the_plan(design.report, components, draft) + loaded.report
    tell(report)
    if design.value is None or shop.value is None or loaded.value is None:
        return Outcome(None, report), design.value
    shop_value = replace(shop.value, mark=plan.source.mark if plan.source else b"")
    model = assemble(design.value, loaded.value.joint_kinds, shop_value, plan.library)
    report += in_the_plan(left_out(model.report, loaded.report), components, draft)
    if model.value is None:
        return Outcome(None, report), design.value
    return Outcome((model.value, shop_value, loaded.value), report), design.value


def _build(plan: Plan, edition: Edition, wishes: Wishes, account: Account, *, draw: bool, tell: Tell) -> Built:
    from compiler.plug.component_places import in_the_plan
    from compiler.stages.arrange import arrange, order
    from compiler.stages.choose import choose
    from compiler.stages.derive import derive
    from compiler.stages.fill import fill
    from compiler.stages.illustrate import illustrate
    from compiler.stages.inspect import besides, judge_views
    from compiler.stages.own_views import own_view

    modelled, design = model_of(plan, edition, wishes, tell)
    report = modelled.report
    if modelled.value is None or design is None:
        return Built(report=report)
    model, shop, contributions = modelled.value
    notes = notes_of(plan, model, design)
    report += notes.report if report.ok else _without_joints(notes.report)
    tell(report)
    large = watch(model)

    def of(*fields: str) -> str:
        """Fields of the model by their digests, each worked out once."""
        return digest(large.digests(tuple(f"model.{field}" for field in fields)))

    weights = account.keep("weights", (*tools(), ("its parts", of("parts"))), lambda: _weigh(model))
    standing = digest((of("parts", "pieces", "joints", "hardware"), edition.units))
    inspected = account.keep("inspection", (*tools(), ("its solids", standing)), lambda: _inspect(model))
    report += besides(in_the_plan(inspected, contributions.components, plan.draft().value), report)
    wished = (*((words.value, words.at) for _, words in design.views if isinstance(words.value, str)),
              *((step.view, step.view_at) for step in (notes.value.steps if notes.value else ())))
    seen = digest((wished, of("parts", "assemblies", "joints", "measures"), [(kind.name, kind.author.digest) for kind in contributions.views]))

    def own(view: View, at: Spot | None) -> Outcome[View]:
        return own_view(view, model, contributions.views, at)

    report += account.keep("view words", (*tools(), ("the words of its views", seen)), lambda: judge_views(wished, model, own))
    watched = (large, *(watch(value) for value in (shop, _handbook(plan, design, edition), notes.value or Notes(title=model.plan.title))))
    given = (*(each.value for each in watched), edition, weights)
    keep = keeper(account, watched)
    history = history_of(plan, model, lambda: lists_of(derive(_for_lists(contributions), given, keep=keep).value, model, _step(shop, model)))
    report += history.report
    # A check writes no files: what stands beside the PDF is made when it is published.
    derived = derive(contributions if draw else replace(contributions, exports=()), (*given, history.value or History()), keep=keep)
    report += in_the_plan(derived.report, contributions.components, plan.draft().value)
    if derived.value is None:
        return Built(report=report, model=model)
    chosen = choose(order(derived.value.sections, LANDMARKS), shop.booklet)
    report += chosen.report
    sections = chosen.value or ()
    if draw and report.ok:
        draw_view = drawer(model, account, dict(wished), own)
        drawn = illustrate(sections, draw_view)
        # What filled pages have room for is drawn again, larger.
        filled = illustrate(fill(drawn.value or sections, edition.paper), draw_view)
        report += drawn.report + filled.report
        sections = filled.value or ()
    arranged = arrange(sections, model, _front(shop, model))
    report += arranged.report
    return Built(
        report=report,
        document=arranged.value if draw else None,
        document_digest=digest(arranged.value) if draw and report.ok else "",
        model=model,
        step=_step(shop, model),
        lists=(derived.value.get(CutList), derived.value.get(HardwareList)),
        exports=derived.value.exports,
        history=history.value or History(),
        sample=shop.booklet.sample,
    )


def explained_with(plan: Plan, edition: Edition, model: Model, shop: Shop, design: Design) -> tuple[object, ...]:
    """What an explanation may need: all that a task may, but what was published before."""
    notes = notes_of(plan, model, design).value or Notes(title=model.plan.title)
    return (model, edition, shop, notes, _handbook(plan, design, edition), _weigh(model), History())


def _for_lists(contributions: Contributions) -> Contributions:
    """Only the tasks that the lists of a record need."""
    wanted: set[type] = {CutList, HardwareList}
    tasks = []
    for task in reversed(contributions.tasks):
        if task.makes in wanted:
            tasks.append(task)
            wanted |= {need.type for need in task.needs}
    return replace(contributions, tasks=tuple(reversed(tasks)), sections=(), exports=(), checks=(), safety_rules=())


def _without_joints(report: Report) -> Report:
    """What the notes have wrong, but for joints that are missing because they could not be made."""
    return Report(tuple(fault for fault in report if fault.code != "no-such-joint"))


def _step(shop: Shop, model: Model) -> Fraction:
    return shop.step if model.edition.units == "inch" else Fraction(1, 2)


def _front(shop: Shop, model: Model) -> Any:
    from compiler.stages.arrange import Frontispiece

    return Frontispiece(
        shop=shop.name,
        terms=shop.terms,
        step=_step(shop, model),
        language="en-US" if model.edition.paper == "letter" else "en",
        subject=f"Woodworking plan: {model.plan.title}",
    )


def _handbook(plan: Plan, design: Design, edition: Edition) -> Handbook:
    """What the library says of work, with the glues and finishes it has; kept, since it is the same for every plan."""
    from compiler.library import entries, find_item, handbook

    library = plan.library
    assert library is not None
    key = digest(("handbook", code(), tuple((file.name, file.digest) for file in library.files), edition.units))
    value: Handbook | None = plan.around.store.get(key)
    if value is None:
        value = handbook(library, edition.units).value
        assert value is not None
        found: dict[str, list[Any]] = {"glue": [], "finish": []}
        for entry in entries(library):
            if entry.kind in found:
                item = find_item(library, entry.key, edition.units).value
                if item is not None:
                    found[entry.kind].append(item)
        value = replace(value, glues=tuple(found["glue"]), finishes=tuple(found["finish"]))
        plan.around.store.put(key, value)
    return replace(value, items=design.items, stocks=design.stocks)


def _weigh(model: Model) -> Weights:
    """Weights from the solids, so that every cut counts; stock without a density is named, not guessed."""
    from compiler import solid

    weighed = solid.weights(solid.build(model.parts, quality="fine"))
    return Weights(
        parts=tuple((one.part, Fraction(str(round(one.kilograms, 4)))) for one in weighed if one.kilograms is not None),
        unknown=tuple(sorted({model.part(one.part).stock.name for one in weighed if one.kilograms is None})),
    )


def _inspect(model: Model) -> Report:
    """What only solids show: parts in the same place, parts that float, screws that come out."""
    from compiler import solid
    from compiler.stages.inspect import inspect

    return inspect(model, solid.build((*model.parts, *model.pieces), quality="fine"))
