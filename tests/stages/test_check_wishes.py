"""Joints, hardware, finishes, letters, editions: names resolved, parameters left as written."""

from compiler.base.measures import inch, mm
from compiler.base.report import Spot
from compiler.language import evaluate, lookup_in
from compiler.stages.check import editions_of, shop_of
from compiler.values.model import Edition
from tests.stages.drafts import HEAD, INCH, METRIC, checked, codes, design, draft, library, part, plan

CASE = """materials: {ply: birch plywood 3/4, pin: shelf pin}
middle: {across: 18}
assemblies:
  case:
    stock: ply
    parts:
      side: {across: from 0, deep: 0 to 12, up: 0 to 30, copies: mirror across}
      bottom: {across: between left side and right side, deep: as left side, up: from 3}
    joints:
      - {dado: bottom, into: side, depth: 1/4}
"""


def test_a_name_means_all_copies() -> None:
    """And an assembly all its parts."""
    found = design(CASE + "joints:\n  - {butt: case, to: bottom}\n")
    assert ("left side", "right side") == found.joints[0].receivers[0][0]
    assert ("left side", "right side", "bottom") == found.joints[1].acting[0][0]


def test_a_joint_keeps_what_it_does_not_know() -> None:
    """The first key is the kind, the word of the family names the receiver; the rest is as written."""
    joint = design(CASE).joints[0]
    assert ("dado", "into", [("depth", "1/4")]) == (joint.kind, joint.word, [(name, value.value) for name, value in joint.parameters])
    assert Spot("design.yaml", ("assemblies", "case", "joints", 0, "depth")) == joint.parameters[0][1].at


def test_both_spellings_of_a_kind() -> None:
    """`miter` is the mitre."""
    assert "mitre" == design(CASE + "joints:\n  - {miter: bottom, with: side}\n").joints[1].kind


def test_joints_of_a_component_are_made_in_each_use() -> None:
    """With the names of that use, and its scope for their sizes."""
    bookcase = plan("projects/low-bookcase")
    uses = [joint.scope for joint in bookcase.joints if joint.kind == "rabbet" and joint.scope]
    assert ["left drawer", "right drawer"] == uses


def test_hardware_is_found_by_short_name_and_by_its_word() -> None:
    """`screws: No. 8 x 1 1/4` is the entry `screw No. 8 x 1 1/4`; both bring what comes along."""
    found = design(CASE + "hardware:\n  - {item: pin, under: bottom, in: side, count: 4}\n  - {screws: No. 8 x 1 1/4, from: side, to: bottom, count: 4}\n  - {item: knob 1 1/4, on: left side}\n")
    assert ["shelf pin", "screw No. 8 x 1 1/4", "knob 1 1/4"] == [wish.item.key for wish in found.hardware]
    assert ("in", ("left side", "right side")) in found.hardware[0].names
    assert "machine screw for knob" in [item.key for item in found.items]


def test_hardware_of_a_mirrored_door_is_mirrored_with_it() -> None:
    """The right door hangs on the right side, and its knob sits where the doors meet."""
    cabinet = plan("projects/tool-wall-cabinet", METRIC)
    hinge, knob = (next(wish for wish in cabinet.hardware if wish.item.kind == kind) for kind in ("hinge", "knob"))
    assert {"from": ("left door.left stile", "right door.right stile"), "to": ("left side", "right side")} == dict(hinge.names)
    assert ("left door.right stile", "right door.left stile") == dict(knob.names)["on"]


def test_per_counts_uses() -> None:
    """A catch for each door, not for each of its parts."""
    catch = next(wish for wish in plan("projects/tool-wall-cabinet", METRIC).hardware if wish.item.kind == "catch")
    assert ("left door", "right door") == dict(catch.names)["per"]


def test_finishes_name_their_parts() -> None:
    """`all` is every piece."""
    found = design(CASE + "finish:\n  - {oil: all, coats: 3}\n").finishes[0]
    assert ("oil", 3, (("left side", "right side", "bottom"),), "oil") == (found.kind, found.coats, found.parts, found.item.key if found.item else "")


def test_names_are_known_to_later_stages() -> None:
    """With their values, in the scope of the plan and in that of a use."""
    bookcase = plan("projects/low-bookcase")
    at = Spot("notes.md")
    values = [evaluate(text, lookup_in(bookcase), "inch", at).value for text in ("height", "bottom.bottom", "side.front", "drawer.overlay", "left drawer.front.top", "frame.thickness", "outer packer.thickness", "drawer.across")]
    assert [inch(34), inch("4 9/32"), inch("3/4"), inch("3/8"), inch("31 1/4"), inch("3/4"), inch("1 1/32"), inch("15 3/8")] == values
    assert inch(4) == evaluate("box height", lookup_in(bookcase, "right drawer"), "inch", at).value


def test_an_unknown_name_in_a_later_stage_has_its_hint() -> None:
    """As in the plan."""
    bookcase = plan("projects/low-bookcase")
    faults = [evaluate(text, lookup_in(bookcase), "inch", Spot("notes.md")).report.diagnostics[0] for text in ("hieght", "botom.top", "bottom.tpo", "side.right")]
    assert [("unknown-name", "Did you mean height?"), ("unknown-part", "Did you mean bottom?"), ("unknown-face", "Did you mean top?"),
            ("copies-differ", "Name one: left side.right or right side.right.")] == [(fault.code, fault.hint) for fault in faults]


def test_editions_come_in_the_plan_s_order() -> None:
    """Without the key, the one of its own unit."""
    both = editions_of(draft(design=HEAD.format(units="inch") + "editions: [metric a4, inch letter]\n")).value
    own = editions_of(draft(design=HEAD.format(units="mm"))).value
    assert ((METRIC, INCH), (Edition(units="mm", paper="a4"),)) == (both, own)


def test_letters_are_read_with_those_that_are_gone() -> None:
    """And faults in them are found."""
    from compiler.stages.check import check

    good = check(draft(design=HEAD.format(units="inch") + CASE, letters="A: side\nB: (gone) top cleat\nAA: bottom\n"), library(), INCH)
    assert good.value is not None
    assert (("A", "side"), ("B", "(gone) top cleat"), ("AA", "bottom")) == good.value.letters
    bad = check(draft(design=HEAD.format(units="inch") + CASE, letters="I: side\nA: bottom\nB: bottom\n"), library(), INCH)
    assert ["letters", "letters"] == codes(bad)


def test_a_shop_overrides_and_is_overridden() -> None:
    """Defaults of the trade, then the shop's file, then the plan's settings."""
    shop = "shop: Pinwheel Lane Woodshop\nkerf: {inch: 3/32, mm: 2.5}\ntrim: {inch: 1/2, mm: 12}\nfit: {groove: {inch: 1/64, mm: 0.5}}\nprices: {poplar 4/4: 4.10 per board foot}\n"
    files = draft(design=HEAD.format(units="inch") + "settings: {trim: 0}\n" + CASE, shop=shop)
    found = shop_of(files, library(), METRIC).value
    assert found is not None
    assert (mm("2.5"), mm(0), mm(25), (("groove", mm("0.5")),)) == (found.kerf, found.trim, found.rough_length, found.fit)
    assert [("poplar 4/4", "board foot")] == [(price.key, price.per) for price in found.prices]


def test_a_shop_s_faults_are_found() -> None:
    """Unknown keys, fractions and prices."""
    outcome = shop_of(draft(design=HEAD.format(units="inch") + CASE, shop="kref: 1/8\nsmallest fraction: 1/20\nprices: {poplar 4/4: cheap, poplor: 3}\n"), library(), INCH)
    assert ["unknown-key", "smallest-fraction", "price", "unknown-material"] == [each.code for each in outcome.report.diagnostics]


def test_all_faults_come_in_one_run() -> None:
    """A name, a size, a stock and a joint, each wrong, each told."""
    found = checked("sizes: {a: 3-1/2, b: c}\nmaterials: {ply: birch plywood 3/4}\nparts:\n  side: {stock: plyy, across: from 0, deep: 0 to 12, up: 0 to 30}\njoints:\n  - {dado: shelf, into: side}\n")
    assert ["mixed-number", "unknown-size", "unknown-stock", "unknown-part"] == codes(found)


def test_a_plan_is_the_same_in_any_process() -> None:
    """Two checks give equal values."""
    assert design(CASE) == design(CASE)
    assert part(design(CASE), "bottom") == part(design(CASE), "bottom")
