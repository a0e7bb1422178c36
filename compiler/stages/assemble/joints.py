"""Joints made: what each grows and cuts, its fasteners, work and measures, placed on its two parts.

In: joint wishes, parts as they stand, the kinds of joint. Out: one `Made` per contact. Kinds see one contact each and
know no order; what joints do to each other (a groove that runs out through a tongue, the corners of a panel) is worked
out by `growth`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from compiler.base.measures import ZERO, Angle, Area, Length, inch, mm
from compiler.base.report import Diagnostic, Findings, Severity, Spot
from compiler.base.showing import Units, nearest
from compiler.guard import author_line, call
from compiler.language import did_you_mean, listed
from compiler.stages.assemble.contacts import Meeting
from compiler.stages.assemble.fastening import placed_fasteners
from compiler.stages.assemble.items import Items
from compiler.stages.assemble.members import contact_of
from compiler.stages.assemble.pairs import VERBS, Pairing, pairs_of
from compiler.stages.assemble.parameters import joint_with
from compiler.stages.assemble.placing import Standing
from compiler.stages.assemble.texts import Texts
from compiler.stages.assemble.wording import said
from compiler.values.contributions import Brought
from compiler.values.design import Design, JointWish, Known
from compiler.values.findings import Finding, Hazard
from compiler.values.joinery import Contact, Grow, Joint, Operation, Piece, Work
from compiler.values.model import DetailMeasure, JointUse, OperationUse
from compiler.values.settings import Shop
from compiler.values.shapes import Block, Feature, Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """One joint as made. Features stand in the coordinates of their own part."""

    use: JointUse
    meeting: Meeting
    contact: Contact
    joint: Joint
    on_acting: tuple[Feature, ...]
    on_receiver: tuple[Feature, ...]
    operations: tuple[OperationUse, ...]
    wish: JointWish
    pieces: tuple[Piece, ...] = ()
    hazards: tuple[str, ...] = ()


def make_joints(items: Items, kinds: Sequence[Brought[type[Joint]]], standing: Mapping[str, Standing], shop: Shop,
                findings: Findings) -> tuple[Made, ...]:
    """All joints of a design, in the order of writing; what can't be made is reported and left out."""
    design = items.design
    by_word = {kind.name: kind for kind in kinds}
    made: list[Made] = []
    for wish in design.joints:
        kind = by_word.get(wish.kind)
        if kind is None:
            near = did_you_mean(wish.kind, tuple(by_word))
            findings.error("unknown-joint", f"There is no joint called `{wish.kind}`.", wish.kind_at,
                           f"Did you mean {near}?" if near else f"Joints are {listed(sorted(by_word))}.")
            continue
        family = kind.thing.how
        if wish.word != family:
            article = "An" if wish.kind[0] in "aeiou" else "A"
            findings.error("wrong-word", f"{article} {wish.kind} {VERBS[family]}: it takes `{family}`, not `{wish.word}`.", wish.word_at,
                           f"Write {wish.kind}: …, {family}: …")
            continue
        pairing = Pairing(wish=wish, family=family, standing=standing, units=design.edition.units)
        seen: set[tuple[str, Spot | None, str, str]] = set()
        for meeting in pairs_of(pairing, findings):
            mine = Findings()
            done = _make(items, kind, wish, meeting, shop, len(made) + 1, mine)
            if done is not None:
                made.append(done)
            for fault in mine.report():
                # Copies fail alike: the first is named.
                key = (fault.code, fault.at, meeting.acting.part.kind, meeting.receiver.part.kind)
                if key not in seen:
                    findings.add(fault)
                seen.add(key)
    return tuple(made)


def _make(items: Items, kind: Brought[type[Joint]], wish: JointWish, meeting: Meeting, shop: Shop, number: int,
          findings: Findings) -> Made | None:
    design = items.design
    units = design.edition.units
    contact = contact_of(meeting)
    if contact.lean.degrees and not kind.thing.leans:
        findings.error("leaning-joint", f"A {wish.kind} is for square parts; `{contact.acting.name}` leans {float(contact.lean.degrees):g} deg to `{contact.receiver.name}`.",
                       wish.kind_at, "Joints that lean: tenon, butt.")
        return None
    texts = Texts(items=items, wish=wish, shop=shop_names(shop, wish.kind), along=meeting.axes[0])
    outcome = joint_with(kind.thing, contact, texts)
    findings.extend(outcome.report)
    joint = outcome.value
    if joint is None or _goes_through(joint, contact, wish, design, findings):
        return None
    what = f"Joint `{wish.kind}`"
    worked = call(kind.author, "make", lambda: joint.make(contact), what=what, at=wish.at, units=units)
    findings.extend(worked.report)
    work: object = worked.value  # an author's annotation is no promise
    if not isinstance(work, Work):
        if worked.report.ok:
            code = kind.thing.make.__code__
            line = author_line(kind.author, code.co_firstlineno, code.co_filename)
            findings.error("plugin-gives", f"{what}: make gave a {type(work).__name__}; it gives a Work(…).", wish.at,
                           "Is there a return?" if work is None else "", also=(line,) if line else (), plugin=kind.author.plugin)
        return None
    if _too_deep(work, contact, what, joint, wish, units, kind.author.plugin, findings):
        return None
    found = call(kind.author, "check", lambda: tuple(joint.check(contact)), what=what, at=wish.at, units=units)
    findings.extend(found.report)
    for finding in found.value or ():
        if isinstance(finding, Finding):
            _report(finding, wish, kind, units, findings)
    hazards = tuple(finding.name for finding in found.value or () if isinstance(finding, Hazard))
    return replace(_placed(items, kind, wish, meeting, contact, joint, work, number, findings), hazards=hazards)


def _goes_through(joint: Joint, contact: Contact, wish: JointWish, design: Design, findings: Findings) -> bool:
    """A housing as deep as its receiver or deeper would come out of it."""
    depth = getattr(joint, "depth", None)
    if joint.how != "into" or not isinstance(depth, Length) or depth < contact.receiver.depth:
        return False
    written = dict(wish.parameters).get("depth")
    units = design.edition.units
    findings.error("goes-through", f"The {wish.kind} would go through `{contact.receiver.name}`: {said(depth, units)} deep in {said(contact.receiver.depth, units)}.",
                   written.at if written else wish.at, f"A third of the thickness is usual: {said(_third(contact.receiver.depth, units), units)}.")
    return True


def _third(depth: Length, units: Units) -> Length:
    """A third, to 1/16 in or 1 mm."""
    if units == "mm":
        return mm(nearest(depth.mm / 3, Fraction(1)))
    return inch(nearest(depth.inches / 3, Fraction(1, 16)))


def _too_deep(work: Work, contact: Contact, what: str, joint: Joint, wish: JointWish, units: Units, plugin: str, findings: Findings) -> bool:
    """A cut that goes deeper into the receiver than there is wood, whatever the joint calls its depth."""
    if joint.how not in ("into", "to") or contact.lean.degrees:
        return False
    deep = contact.receiver.depth
    for cut in work.on_receiver:
        end = cut.shape.into[1] if isinstance(cut.shape, Block) else cut.shape.span[1] if getattr(cut.shape, "toward", "into") == "into" else deep
        if end > deep:
            findings.error("too-deep", f"{what}: {cut.called} goes {said(end, units)} into `{contact.receiver.name}`, which is only {said(deep, units)} deep there.",
                           wish.at, plugin=plugin)
            return True
    return False


def _report(finding: Finding, wish: JointWish, kind: Brought[type[Joint]], units: Units, findings: Findings) -> None:
    written = dict(wish.parameters).get(finding.key)
    at: Spot = written.at if written else wish.kind_at
    code = wish.kind.replace(" ", "-")
    findings.add(Diagnostic(code, finding.sentence(lambda length: said(length, units)), at, finding.hint, Severity(finding.severity), plugin=kind.author.plugin))


def shop_names(shop: Shop, kind: str) -> dict[str, Known]:
    """What a joint's texts may name of the shop."""
    fit = dict(shop.fit)
    return {"shop.fit": fit.get(kind, ZERO), "shop.kerf": shop.kerf}


def _placed(items: Items, kind: Brought[type[Joint]], wish: JointWish, meeting: Meeting, contact: Contact, joint: Joint,
            work: Work, number: int, findings: Findings) -> Made:
    by = f"joint {number}"
    wedge = meeting.wedge
    frame, theirs = meeting.frame, meeting.receiver_frame
    on_acting = tuple(
        Feature("grow" if isinstance(shape, Grow) else "cut", shape.called,
                _led_back(shape.shape, wedge) if isinstance(shape, Grow) else shape.shape, frame, by,
                sawn=None if shape.sawn is None else _led_back(shape.sawn, wedge))
        for shape in work.on_acting)
    on_receiver = tuple(Feature("cut", cut.called, _led_back(cut.shape, wedge), theirs, by, sawn=cut.sawn) for cut in work.on_receiver)
    fasteners = tuple(placed_fasteners(some, meeting, contact, items, _item_spot(wish, some.item.key), findings)
                      for some in work.fasteners)
    glue = work.glue and _glued(wish)
    pair = (contact.acting.name, contact.receiver.name)
    operations = tuple(_operation(step, pair, by) for step in work.operations)
    if glue and joint.how != "on":
        operations = (*operations, OperationUse(does="glue-up", parts=pair, by=by))
    use = JointUse(
        id=by, kind=wish.kind, family=joint.how, acting=pair[0], receiver=pair[1], frame=meeting.plan_frame,
        length=contact.length, width=contact.width, values=_values(joint), fasteners=fasteners, glue=glue,
        area=contact.length * contact.width if glue else Area(),
        measures=tuple(DetailMeasure(called=m.called, value=m.value, axis=m.axis) for m in work.detail),
        at=wish.at, plugin=kind.author.plugin)
    return Made(use=use, meeting=meeting, contact=contact, joint=joint, on_acting=on_acting, on_receiver=on_receiver,
                operations=operations, wish=wish, pieces=work.pieces)


def _led_back(shape: Shape, wedge: Length) -> Shape:
    """At a lean, what begins where the parts touch is led back to the leaning face."""
    if wedge and isinstance(shape, Block) and shape.into[0] == ZERO and shape.toward != "into":
        return replace(shape, into=(-wedge, shape.into[1]))
    return shape


def _operation(step: Operation, parts: tuple[str, str], by: str) -> OperationUse:
    return OperationUse(does=step.does, tools=step.tools, parts=parts, by=by)


def _glued(wish: JointWish) -> bool:
    written = dict(wish.parameters).get("glue")
    return written is None or written.value != "no"


def _item_spot(wish: JointWish, key: str) -> Spot:
    """Where the maker names the fastener."""
    word = key.split()[0]
    for name, written in wish.parameters:
        if name.removesuffix("s").rpartition(" ")[2] == word or word in name:
            return written.at
    return wish.at


def _values(joint: Joint) -> tuple[tuple[str, Length | Angle | int | str], ...]:
    values: list[tuple[str, Length | Angle | int | str]] = []
    for asked in joint.asks:
        value = getattr(joint, asked.field)
        if isinstance(value, Fraction):
            values.append((asked.key, Angle(value) if asked.takes == "angle" else _ratio(value)))
        elif isinstance(value, (Length, int, str)):
            values.append((asked.key, value))
    return tuple(values)


def _ratio(value: Fraction) -> str:
    return f"1 in {value.denominator}" if value.numerator == 1 else str(value)
