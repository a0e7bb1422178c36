"""What authors test with: plans from texts, joints without plans, contract tests. The plugins here are theirs."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from types import ModuleType

import pytest

from compiler.base.measures import ZERO, inch
from compiler.plug.finding import Candidate
from compiler.plug.importing import _module
from compiler.testing import contact, faults, joint, made_joint, plan
from compiler.values.contributions import Plugin, SafetyRule, check, export, section, task
from compiler.values.document import Paragraph, Table
from compiler.values.findings import Findings, hazard, warning
from compiler.values.guidance import Cautions
from compiler.values.joinery import Cut, Grow
from compiler.values.model import Edition, Model
from compiler.values.products import CutList
from compiler.values.shapes import Block
from tests.plug.plugins_at_hand import write
from tests.plug.samples import wedged_tenon

CASE = """
    sizes: {width: 24, height: 30, depth: 11}
    materials: {pine: white pine 4/4}
    middle: {across: width / 2}
    parts:
      side: {stock: pine, across: from 0, deep: 0 to depth, up: 0 to height, copies: mirror across}
      shelf: {stock: pine, across: between left side and right side, deep: 0 to depth, up: from 12}
    joints:
      - {dado: shelf, into: side, depth: 1/4}
    """
# 3/4 x 2 1/2 rail on a 2 1/2 post, its end on the post's face.
POST = contact(length=inch("2 1/2"), width=inch("3/4"), thickness=inch("3/4"), receiver=inch("2 1/2"))


def module(folder: Path, code: str) -> ModuleType:
    """A plugin module as a test would import it."""
    home = write(folder, "mine", "from dataclasses import dataclass\nfrom compiler.api import *\n" + code)
    return _module(Candidate(name="mine", folder=home, digest=folder.name, found="plan"))


def test_a_plan_tells_cut_sizes_with_the_joints_in_them() -> None:
    """24 - 2 x 3/4 = 22 1/2 between the sides, 1/4 into each: 23."""
    assert "1 shelf 23 x 11 x 3/4 white pine 4/4" == plan(CASE).cut("shelf")


def test_the_solid_has_the_volume_of_the_cut_list() -> None:
    """23 x 11 x 3/4 = 189.75; each side loses 11 x 3/4 x 1/4."""
    case = plan(CASE)
    assert pytest.approx(189.75) == case.volume("shelf")
    assert pytest.approx(30 * 11 * 0.75 - 11 * 0.75 * 0.25) == case.volume("left side")


def test_the_metric_edition_is_sized_anew() -> None:
    """610 - 2 x 20 + 2 x 6 = 582 between and into boards of 27 mm rough, planed to 20."""
    assert "1 shelf 582 x 279 x 20 white pine 27 mm" == plan(CASE, units="mm").cut("shelf")


def test_settings_are_a_shop_file() -> None:
    """Half an inch longer to saw instead of one."""
    shop = "shop: Pinwheel Lane Woodshop\nrough allowance: {length: 1/2, width: 1/4}\n"
    assert inch("23 1/2") == plan(CASE, settings=shop).make(CutList).row("shelf").rough_length


def test_what_could_not_be_made_tells_why() -> None:
    """The test that asks shows the plan's own message."""
    with pytest.raises(AssertionError, match="There is no joint called `dadoo`"):
        plan(CASE.replace("dado", "dadoo")).section("no such section")
    with pytest.raises(AssertionError, match="There is no part called `sidee`"):
        plan(CASE.replace("into: side", "into: sidee")).cut("shelf")


def test_sections_exports_hazards_and_messages_of_a_plugin_can_be_asked_for() -> None:
    """One of each."""

    @section("Labels", after="cut list")
    def labels(cut_list: CutList) -> Findings:
        """One line a row."""
        yield Paragraph(f"{len(cut_list.rows)} kinds")  # type: ignore[misc]

    @export(".txt")
    def rows(model: Model, edition: Edition) -> str:
        """Lengths."""
        return edition.show(model.part("shelf").length)

    @check
    def tips(model: Model) -> Findings:
        """It tips."""
        yield hazard("tip-over", at=model)
        yield warning("it is tall", at=model.part("shelf"), hint="fix it")

    rule = SafetyRule(word="WARNING", says="Fix it to the wall.", source="16 CFR 1261", hazard="tip-over")
    case = plan(CASE, Plugin(contract=1, sections=(labels,), exports=(rows,), checks=(tips,), safety_rules=(rule,)))  # type: ignore[arg-type]
    assert (Paragraph("2 kinds"),) == case.section("Labels")
    assert (b"23", ("tip-over",)) == (case.export(".txt"), case.hazards)
    assert "it is tall · fix it" in case.messages
    assert any(isinstance(block, Table) for block in case.section("cut list"))


# ---- joints without a plan


def test_defaults_follow_the_contact() -> None:
    """Half of 3/4 to a sixteenth is 3/8; a quarter of the post is 5/8."""
    made = made_joint(wedged_tenon.WedgedTenon, POST)
    assert (inch("3/8"), inch("5/8")) == (getattr(made, "thickness", None), getattr(made, "root", None))


def test_a_wedged_tenon_is_through_and_proud() -> None:
    """Post 2 1/2 and 1/8 proud: the spread part of the tenon ends at 2 5/8; shoulders of 1/2 leave 1 1/2."""
    work = joint(wedged_tenon.WedgedTenon, POST)
    _, spread = (shape for shape in work.on_acting if isinstance(shape, Grow))
    assert isinstance(spread.shape, Block)
    assert (inch("2 5/8"), inch("1 1/2")) == (spread.shape.into[1], spread.shape.long("along"))


def test_the_tenon_fills_the_mortise_on_the_far_face() -> None:
    """Both flare at one slope: 1/8 over 1 7/8 of the post, 2/15 of an inch at the proud end."""
    work = joint(wedged_tenon.WedgedTenon, POST)
    spread = next(shape for shape in work.on_acting if isinstance(shape, Grow) and shape.sawn is not None)
    assert isinstance(spread.shape, Block)
    assert Fraction(2, 15) == spread.shape.flare[0].low.inches


def test_the_wedges_are_cut_across_from_the_acting_stock() -> None:
    """Two, with kerfs of 1/16 at a sixth of the tenon from each end."""
    work = joint(wedged_tenon.WedgedTenon, POST)
    kerfs = [shape.sawn for shape in work.on_acting if isinstance(shape, Cut)]
    assert ["wedge", "wedge"] == [piece.called for piece in work.pieces]
    assert [inch("1/16"), inch("1/16")] == [kerf.long("along") for kerf in kerfs if isinstance(kerf, Block)]


def test_a_written_key_takes_the_place_of_a_default() -> None:
    """A quarter proud, in the maker's words."""
    spread = next(shape for shape in joint(wedged_tenon.WedgedTenon, POST, proud="1/4").on_acting if isinstance(shape, Grow) and shape.sawn)
    assert isinstance(spread.shape, Block)
    assert inch("2 3/4") == spread.shape.into[1]


@pytest.mark.parametrize(("key", "text", "says"), [
    ("flare", "1", "`flare` 1 is more than the most, 1/4"),
    ("thickness", "2", "`thickness` 2 is more than the most, contact.width = 3/4"),
    ("prod", "1", "A wedged tenon has no `prod`"),
])
def test_a_wrong_key_is_told_as_to_a_maker(key: str, text: str, says: str) -> None:
    """With the limit's own sum."""
    with pytest.raises(AssertionError, match=says):
        joint(wedged_tenon.WedgedTenon, POST, **{key: text})


def test_the_check_of_a_joint_can_be_asked() -> None:
    """Wedges that spread across the grain split the post."""
    across = contact(length=inch("2 1/2"), receiver=inch("2 1/2"), receiver_grain="across")
    (finding,) = made_joint(wedged_tenon.WedgedTenon, across).check(across)
    assert "the wedges would split post: its grain does not run along the joint" == getattr(finding, "says", "")
    assert [] == list(made_joint(wedged_tenon.WedgedTenon, POST).check(POST))


TRESTLE = """
    sizes: {length: 30}
    materials: {oak: white oak 12/4, rail oak: white oak 4/4}
    parts:
      post: {stock: oak, across: from 0, deep: 0 to 4, up: 0 to 20, grain: up}
      stretcher: {stock: rail oak, across: post.right to length, deep: from 1, up: 8 to 12}
    joints:
      - {wedged tenon: stretcher, into: post, proud: 1/4}
    """


def test_a_shops_own_joint_reaches_cut_list_solids_and_pieces() -> None:
    """The stretcher is longer by the post and what stands proud; what its tenon gains, kerfs aside, its solid holds."""
    bench = plan(TRESTLE, wedged_tenon)
    assert () == bench.errors
    post, stretcher = bench.model.part("post"), bench.model.part("stretcher")
    assert inch(30) + inch("1/4") == stretcher.length
    assert ("wedge", "wedge") == tuple(piece.kind.rpartition(" ")[2] for piece in bench.model.pieces)
    assert post.features and stretcher.features


def test_wedges_fill_what_the_spread_tenon_opens() -> None:
    """Wood is bent, none is lost: the tenon as spread, kerfs open, has the volume of the tenon as sawn."""
    (foot, spread, *kerfs) = joint(wedged_tenon.WedgedTenon, POST).on_acting

    def volume(block: object) -> Fraction:
        assert isinstance(block, Block)
        low, high = (block.long("along", end).inches for end in ("near", "far"))
        return (low + high) / 2 * block.long("across").inches * block.long("into").inches

    assert spread.sawn is not None
    sawn = volume(spread.sawn) - sum(volume(kerf.sawn) for kerf in kerfs)
    assert sawn == volume(spread.shape) - sum(volume(kerf.shape) for kerf in kerfs)
    assert ZERO == foot.shape.into[0]  # type: ignore[union-attr]


PINCH = '''
class Pinch(Joint):
    """A joint that pinches."""
    kind, how = "pinch", "to"

    def make(self, c: Contact) -> Work:
        return Work()

    def check(self, c: Contact) -> Findings:
        yield hazard("pinched fingers")

@hook
def plugin() -> Plugin:
    return Plugin(contract=1, joint_kinds=(Pinch,), safety_rules=(
        SafetyRule(word="CAUTION", says="Keep fingers away.", source="practice", hazard="pinched fingers"),))
'''


def test_a_hazard_that_a_joint_finds_becomes_a_caution(tmp_path: Path) -> None:
    """From the joint's check, over the rule that answers it, to the printed page."""
    case = plan(CASE.replace("{dado: shelf, into: side, depth: 1/4}", "{pinch: shelf, to: side}"), module(tmp_path, PINCH))
    assert ("pinched fingers",) == tuple(dict.fromkeys(case.hazards))
    assert "Keep fingers away." in [signal.content[0][0] for signal in case.make(Cautions).placing]


# ---- contract tests


def test_a_sound_plugin_has_no_faults() -> None:
    """The sample of a joint, on a plan that uses it."""
    assert () == faults(TRESTLE, wedged_tenon)


GOOD = '''
@dataclass(frozen=True)
class Tally:
    """A tally."""
    number: int
    names: tuple[str, ...]

@task
def tally(cut_list: CutList) -> Tally:
    """How many."""
    return Tally({number}, {names})

@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(tally,))
'''


@pytest.mark.parametrize(("number", "names", "expected"), [
    ("cut_list.pieces", "()", ""),
    ("cut_list.pieces / 2", "()", "Tally.number is a float, 1.5; a length is a Length, any other number an int or a Fraction"),
    ("1", "['a']", "Tally.names is a list, which can be changed; use a tuple"),
    ("1", "(__file__,)", "Tally.names[0] names a folder of this machine"),
    ("next(COUNT)", "()", "Tally differs from run to run"),
])
def test_contract_tests_find_what_types_do_not_tell(number: str, names: str, expected: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A float in an int's place, a list in a tuple's, a path, a value by chance."""
    monkeypatch.chdir(tmp_path)
    code = "from itertools import count\nCOUNT = count()\n" + GOOD.format(number=number, names=names)
    assert ((expected,) if expected else ()) == faults(CASE, module(tmp_path, code))


def test_contract_tests_find_a_clock(tmp_path: Path) -> None:
    """By its import, with the line."""
    mine = module(tmp_path, "import time\n" + GOOD.format(number="1", names="()"))
    assert ("__init__.py:3 imports time: what it tells changes from run to run",) == faults(CASE, mine)


def test_an_error_in_one_edition_is_a_fault(tmp_path: Path) -> None:
    """A plugin must work in inches and in millimetres."""
    mine = module(tmp_path, GOOD.format(number="1 if cut_list.row('shelf').length.inches.denominator < 9 else 1 // 0", names="()"))
    assert ("in the mm edition: `tally` stopped: ZeroDivisionError: integer division or modulo by zero.",) == faults(CASE, mine)


@task
def nothing(model: Model) -> CutList:
    """A second maker of the cut list."""
    return CutList()


def test_a_clash_with_a_bundled_plugin_is_told() -> None:
    """The tests see what the shop would see."""
    assert any("`CutList` is made twice" in message for message in plan(CASE, Plugin(contract=1, tasks=(nothing,))).errors)


DEEP = '''
class Spline(Joint):
    """A spline whose slot may be too deep."""
    kind, how = "spline", "into"
    reach: Length = ask.size("1/4", "how far the slot goes", least="{least}")

    def make(self, c: Contact) -> Work:
        {body}
        return Work(on_receiver=(Cut("slot", c.block(into=self.reach)),))

@hook
def plugin() -> Plugin:
    return Plugin(contract=1, joint_kinds=(Spline,))
'''


@pytest.mark.parametrize(("reach", "least", "body", "expected"), [
    ("1", "0", "pass", "Joint `spline`: slot goes 1 into `left side`, which is only 3/4 deep there."),
    ("-1/4", "-1", "pass", "Joint `spline`: a block of negative size into, from 0 to -1/4."),
    ("1/4", "0", "return None", "Joint `spline`: make gave a NoneType; it gives a Work(…)."),
    ("1/4", "0", "inch(0.25)", "Joint `spline`: 0.25 is not an exact number; write a whole number, a Fraction or a text."),
    ("1/4", "0", "1 // 0", "Joint `spline` stopped: ZeroDivisionError: integer division or modulo by zero."),
])
def test_a_joint_that_goes_wrong_is_told_at_the_plans_place(reach: str, least: str, body: str, expected: str, tmp_path: Path) -> None:
    """One sentence a joint; the author's own line stands beside the plan's place."""
    text = CASE.replace("{dado: shelf, into: side, depth: 1/4}", f"{{spline: shelf, into: side, reach: {reach}}}")
    case = plan(text, module(tmp_path, DEEP.format(least=least, body=body)))
    found = [entry for entry in case.outcome.report.errors if entry.says.startswith("Joint `spline`")]
    assert expected == found[0].says
    assert (("joints", 0), "mine") == (found[0].at and found[0].at.path, found[0].plugin.rpartition("_")[2])


def test_lengths_of_a_finding_are_shown_in_the_edition() -> None:
    """1/4 in is 6.35 mm; as many places as lengths, or the author is told at once."""
    from compiler.api import error, inch
    from compiler.guard import in_words

    finding = error("it lies {} off", lengths=(inch("1/4"),))
    assert ["it lies 1/4 off", "it lies 6.35 mm off"] == [finding.sentence(lambda length, units=units: in_words(length, units)) for units in ("inch", "mm")]  # type: ignore[misc]
    with pytest.raises(ValueError, match="1 lengths for 0 places"):
        error("it lies off", lengths=(inch("1/4"),))
