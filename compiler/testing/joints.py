"""A joint without a plan: a contact from a few sizes, and what a kind of joint makes of it.

In: sizes of two boards that meet, the keys that a maker would write. Out: the joint's `Work`, or AssertionError with what
a maker would be told.
"""

from __future__ import annotations

from collections.abc import Mapping

from compiler.base.measures import ZERO, Angle, Length, degrees, inch
from compiler.base.report import Report, Spot
from compiler.base.showing import Units
from compiler.stages.assemble.items import Items
from compiler.stages.assemble.parameters import joint_with
from compiler.stages.assemble.texts import Texts
from compiler.testing.plans import library_files
from compiler.values.design import Design, JointWish, Scope, Written
from compiler.values.joinery import Contact, Joint, Member, Work
from compiler.values.library import Stock
from compiler.values.model import Edition, PlanFacts
from compiler.values.shapes import AxisName

THICK, WIDE, BEYOND = inch("3/4"), inch(6), inch(3)
PINE = Stock(key="pine", name="pine", called="pine", kind="board", thickness=inch("3/4"), rough=inch(1))


def contact(*, length: Length = WIDE, width: Length = THICK, depth: Length = ZERO, thickness: Length = THICK,
            receiver: Length = THICK, grain: AxisName = "into", receiver_grain: AxisName = "along", beyond: Length = BEYOND,
            edge: bool = False, lean: int = 0) -> Contact:
    """Two boards that meet: `length` by `width`, the acting one `thickness` thick, the receiver `receiver` deep.

    The receiver runs `beyond` past the contact on all sides; with `edge` it ends with the contact's high side across.
    """
    acting = Member(name="rail", stock=PINE, grain=grain, thickness=thickness, depth=inch(24), along=(ZERO, length), across=(ZERO, width))
    other = Member(name="post", stock=PINE, grain=receiver_grain, thickness=receiver, depth=receiver, along=(-beyond, length + beyond),
                   across=(-beyond, width if edge else width + beyond))
    return Contact(acting=acting, receiver=other, length=length, width=width, depth=depth, lean=degrees(lean) if lean else Angle(ZERO.inches))


def joint(kind: type[Joint], at: Contact | None = None, *, units: Units = "inch", **written: str) -> Work:
    """The work of a joint at a contact, with the keys a maker wrote (`edge_distance="1/2"` is `edge distance: 1/2`).

    Raises AssertionError with the messages when a key is refused or the default can't be worked out.
    """
    return made_joint(kind, at, units=units, **written).make(at or contact())


def made_joint(kind: type[Joint], at: Contact | None = None, *, units: Units = "inch", **written: str) -> Joint:
    """The joint with its fields worked out, for tests of `check`."""
    spot = Spot("design.yaml", ("joints", 0))
    keys = {name.rstrip("_").replace("_", " "): text for name, text in written.items()}
    wish = JointWish(kind=kind.kind, kind_at=spot, word=kind.how, word_at=spot, acting=(), receivers=(),
                     parameters=tuple((key, Written(text, spot.key(key))) for key, text in keys.items()), scope="", at=spot)
    design = Design(plan=PlanFacts(title="A test", number="1", issue=1, date="2026-01-02", units=units),
                    edition=Edition(units=units, paper="letter"), parts=(), assemblies=(), joints=(wish,), hardware=(), finishes=(),
                    match=(), views=(), explode=(), scopes=(Scope(id="", values=()),))
    shop: Mapping[str, Length] = {"shop.fit": ZERO, "shop.kerf": inch("1/8")}
    outcome = joint_with(kind, at or contact(), Texts(items=Items(design, library_files()), wish=wish, shop=shop, along="across"))
    assert outcome.value is not None and outcome.report.ok, _sentences(outcome.report)
    return outcome.value


def _sentences(report: Report) -> str:
    return "; ".join(entry.says for entry in report)
