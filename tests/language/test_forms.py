"""Extents, copies, tilts, places and edges: each spoken form gives its tree."""

import pytest

from compiler.language import (
    Refused,
    parse_copies,
    parse_edge,
    parse_extent,
    parse_place,
    parse_sizes,
    parse_tilt,
)
from compiler.language.trees import (
    As,
    Between,
    Centre,
    Centred,
    Evenly,
    Follow,
    From,
    FromTo,
    Mirror,
    Offset,
    Reference,
    Repeat,
    To,
)


@pytest.mark.parametrize(("text", "form"), [
    ("0 to height - 3", FromTo), ("from 0 to 3", FromTo), ("-overhang to width + overhang", FromTo), ("from kick", From), ("from kick for 3", From), ("0 for 3", From),
    ("to depth", To), ("to depth for 3", To), ("between left side and right side", Between), ("between a and b with 1/16 clear", Between),
    ("centred on leg", Centred), ("20 centred on middle", Centred), ("centered on middle", Centred), ("as bottom", As),
])
def test_extents(text: str, form: type) -> None:
    """Six kinds of places on an axis."""
    assert form is type(parse_extent(text))


def test_a_name_may_begin_like_a_word_of_the_grammar() -> None:
    """`tool shelf` is not `to` and `ol shelf`; `ash` is not `as` and `h`."""
    tree = parse_extent("tool shelf.top to asher.bottom")
    assert isinstance(tree, FromTo)
    assert isinstance(tree.first, Reference) and ("tool shelf", "top") == tree.first.thing.names


def test_both_spellings_are_one_name() -> None:
    """`base molding` is the part `base moulding`."""
    tree = parse_extent("as base molding")
    assert isinstance(tree, As) and ("base moulding",) == tree.thing.names


@pytest.mark.parametrize(("text", "form"), [
    ("mirror across", Mirror), ("mirror across and deep", Mirror), ("3 across every 12", Repeat), ("shelves up every 7 * pin pitch", Repeat),
    ("shelves up evenly between bottom and deck", Evenly), ("drawers - 1 across evenly between left side and right side", Evenly), ("with shelf", Follow),
])
def test_copies(text: str, form: type) -> None:
    """Four ways to make more of one."""
    assert form is type(parse_copies(text))


def test_a_tilt() -> None:
    """A face, an angle, where it goes, about which edge."""
    tilt = parse_tilt("bottom by splay to front about top front edge")
    assert ("bottom", "front", ("top", "front")) == (tilt.face, tilt.goes, tilt.edge)


def test_places() -> None:
    """Counted from an edge, or the middle of one axis or both."""
    first, second = parse_place("2 from front and first pin from bottom").spots
    assert isinstance(first, Offset) and isinstance(second, Offset)
    assert [("from", "front"), ("from", "bottom")] == [(first.word, first.face), (second.word, second.face)]
    assert (Centre("across"),) == parse_place("centre across and 0 from top").spots[:1]
    assert (Centre(None),) == parse_place("center").spots


def test_edges() -> None:
    """A face, an edge, or the four edges round a face."""
    assert [(1, False), (2, False), (1, True)] == [(len(edge.faces), edge.all_round) for edge in (parse_edge("right"), parse_edge("top front"), parse_edge("all round top"))]


def test_two_sizes() -> None:
    """With an x between them."""
    assert 2 == len(parse_sizes("80 x 20").sizes)


def test_a_form_out_of_place_says_what_belongs_there() -> None:
    """The hint shows the forms."""
    with pytest.raises(Refused) as refused:
        parse_extent("betwen a and b")
    assert "cannot-read" == refused.value.code
