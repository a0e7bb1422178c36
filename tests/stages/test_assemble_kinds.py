"""Equal parts, hands and letters."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from compiler.stages.assemble.letters import ALPHABET, letter_after
from tests.made import ROOT, attempt, made, project

ROW = """
sizes: {{width: 30}}
middle: {{across: width / 2}}
materials: {{ply: birch plywood 3/4}}
parts:
{parts}
joints:
{joints}
"""


def plan(*names: str) -> str:
    """Boards side by side, one of each name, each glued to the next."""
    parts = [f"  {name}: {{stock: ply, across: {i} for 1, deep: 0 for {i + 2}, up: 0 to 23/32}}" for i, name in enumerate(names)]
    joints = [f"  - {{butt: {one}, to: {two}}}" for one, two in pairwise(names)]
    return ROW.format(parts="\n".join(parts), joints="\n".join(joints))


def letters_of(text: str, letters: str = "") -> dict[str, str]:
    """Letter of each kind."""
    return {kind.name: kind.letter for kind in made(text, letters=letters).kinds}


def test_letters_leave_out_those_that_look_like_figures() -> None:
    """I, O and Q: drafting practice. After Z comes AA."""
    found, letter = ["A"], "A"
    while len(found) < 26:
        letter = letter_after(letter)
        found.append(letter)
    assert "A B C D E F G H J K L M N P R S T U V W X Y Z AA AB AC" == " ".join(found)


@given(st.text(alphabet=ALPHABET, min_size=1, max_size=3))
def test_the_next_letter_is_always_new_and_never_shorter(letter: str) -> None:
    """Letters go on for ever in one order."""
    following = letter_after(letter)
    assert following != letter and len(following) >= len(letter)
    assert not set(following) & set("IOQ")


def test_new_plans_are_lettered_in_the_order_of_writing() -> None:
    """Three parts: A, B, C."""
    assert {"one": "A", "two": "B", "three": "C"} == letters_of(plan("one", "two", "three"))


def test_letters_once_given_stay() -> None:
    """A part put in before the others takes the next free letter, not theirs."""
    assert {"one": "A", "zero": "C", "two": "B"} == letters_of(plan("zero", "one", "two"), "A: one\nB: two\n")


def test_a_freed_letter_is_not_given_again() -> None:
    """C was the old top; the new part is D."""
    assert {"one": "A", "two": "B", "three": "D"} == letters_of(plan("one", "two", "three"), "A: one\nB: two\nC: (gone) old top\n")


def test_a_renamed_part_is_noticed() -> None:
    """One letter lost its part, one part has no letter."""
    _, report = attempt(plan("one", "three"), letters="A: one\nB: two\n")
    assert ["Letter B belonged to `two`, which is gone, and `three` has no letter."] == [fault.says for fault in report]
    assert "If it was renamed, write `B: three` in letters.yaml." == report.diagnostics[0].hint


def test_a_mirror_pair_is_one_kind_with_hands() -> None:
    """Holes on one face make a left and a right side of them; a plain pair has no hands."""
    model = project("low-bookcase")
    assert (("left", 1), ("right", 1)) == model.kind("side").hands
    assert () == model.kind("stile").hands
    assert ("left", "right", "") == (model.part("left side").hand, model.part("right side").hand, model.part("left stile").hand)


def test_equal_parts_of_all_uses_are_one_row() -> None:
    """Two drawers: four sides, two of each hand, called drawer side."""
    kind = project("low-bookcase").kind("drawer side")
    assert (4, (("left", 2), ("right", 2))) == (len(kind.parts), kind.hands)


def test_parts_of_one_name_that_differ_are_rows_of_their_own() -> None:
    """The front moulding is longer than the two at the sides."""
    model = project("low-bookcase")
    assert ("front base moulding",) == model.kind("front base moulding").parts
    assert ("left base moulding", "right base moulding") == model.kind("base moulding").parts


def test_legs_with_other_mortises_are_called_by_what_they_share() -> None:
    """Front legs take the drawer's rails, back legs the back apron: two rows, a mirror pair each."""
    model = made((ROOT / "shared" / "starters" / "table" / "design.yaml").read_text(encoding="utf-8"))
    assert {"front leg": (("left", 1), ("right", 1)), "back leg": (("left", 1), ("right", 1))} == {
        kind.name: kind.hands for kind in model.kinds if kind.name.endswith("leg")}


def test_kinds_stand_in_the_order_of_their_letters() -> None:
    """A to Z, then AA."""
    letters = [kind.letter for kind in project("low-bookcase").kinds]
    assert sorted(letters, key=lambda letter: (len(letter), letter)) == letters


def test_hands_without_a_name_for_them() -> None:
    """Two boards mirrored top to bottom are a pair all the same: the first is called left."""
    model = made("""
sizes: {height: 20}
middle: {up: height / 2}
materials: {wood: white oak 4/4}
parts:
  rail: {stock: wood, across: 0 to 20, deep: from 0, up: 0 for 3, copies: mirror up, workings: [{hole: front, at: 2 from left and 1 from bottom, diameter: 3/8, depth: 1/4}]}
  post: {stock: wood, across: 0 for 3, deep: from 0, up: between bottom rail and top rail}
joints:
  - {butt: post, to: rail}
""")
    assert (("left", 1), ("right", 1)) == model.kind("rail").hands
