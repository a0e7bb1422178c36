"""What is read of a large value, field by field and item by item."""

from __future__ import annotations

from dataclasses import dataclass, replace

from compiler.store.watching import seen, watch


@dataclass(frozen=True, slots=True)
class Board:
    """One item of a pile."""

    name: str
    length: int

    @property
    def half(self) -> int:
        """Reads the length."""
        return self.length // 2


@dataclass(frozen=True, slots=True)
class Pile:
    """A large value."""

    boards: tuple[Board, ...]
    price: int = 3


@dataclass(frozen=True, slots=True)
class Sawn:
    """Made from one board alone."""

    board: Board
    pieces: int


PILE = Pile((Board("oak", 10), Board("ash", 20)))
BY_ITEM = {"boards": ("name",)}


def test_a_field_that_is_read_is_told() -> None:
    """And no other."""
    pile = watch(PILE)
    with seen((pile,)) as reads:
        assert pile.value.price == 3
    assert {"pile.price"} == reads


def test_an_item_is_read_when_more_than_its_name_is() -> None:
    """Also through a property of the item's, and in a copy of the item."""
    pile = watch(PILE, BY_ITEM)
    with seen((pile,)) as names:
        assert ["oak", "ash"] == [board.name for board in pile.value.boards]
    with seen((pile,)) as one:
        assert [20] == [board.length for board in pile.value.boards if board.name == "ash"]
    with seen((pile,)) as other:
        assert 5 == pile.value.boards[0].half
    with seen((pile,)) as copied:
        assert 10 == replace(pile.value.boards[0], name="elm").length
    assert ({"pile.boards"}, {"pile.boards", "pile.boards/ash"}) == (names, one)
    assert {"pile.boards", "pile.boards/oak"} == other == copied


def test_what_is_made_of_an_item_counts_as_that_item() -> None:
    """But for the item itself, which tells on its own."""
    pile = watch(PILE, BY_ITEM)
    sawn = pile.made_of("boards/ash", Sawn(PILE.boards[1], 4), board=pile.value.boards[1])
    with seen((pile,)) as name:
        assert sawn.board.name == "ash"
    with seen((pile,)) as pieces:
        assert sawn.pieces == 4
    assert (set(), {"pile.boards/ash"}) == (name, pieces)


def test_the_digest_of_a_field_by_items_is_that_of_their_names() -> None:
    """Another length changes its own board only; a board more changes which boards there are; one that is gone is told from one that is there."""
    way = ("pile.boards", "pile.boards/ash", "pile.boards/oak")
    longer = replace(PILE, boards=(PILE.boards[0], Board("ash", 21)))
    more = replace(PILE, boards=(*PILE.boards, Board("elm", 1)))
    fewer = replace(PILE, boards=PILE.boards[:1])
    before, *others = (dict(watch(pile, BY_ITEM).digests(way)) for pile in (PILE, longer, more, fewer))
    assert [{"pile.boards/ash"}, {"pile.boards"}, {"pile.boards", "pile.boards/ash"}] == [
        {name for name in way if before[name] != after[name]} for after in others]
