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

    @property
    def longest(self) -> int:
        """Reads every board."""
        return max(board.length for board in self.boards)

    def named(self, *names: str) -> int:
        """How many boards are called one of these."""
        return sum(board.name in names for board in self.boards)


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


def test_of_a_question_the_answer_is_read_and_not_what_it_comes_from() -> None:
    """A property, a method with what it was asked, and an answer that somebody else gives; in a copy the boards tell."""
    pile = watch(PILE, BY_ITEM, ("longest", "named"))
    pile.answers["between"] = lambda low, high: sum(low < board.length < high for board in PILE.boards)
    with seen((pile,)) as reads:
        assert (20, 1, 1) == (pile.value.longest, pile.value.named("ash", "elm"), pile.ask("between", 15, 25.5))
    assert {"pile.longest", "pile.named('ash', 'elm')", "pile.between(15, 25.5)"} == reads
    with seen((pile,)) as copied:
        assert 20 == replace(pile.value, price=4).longest
    assert {"pile.boards/ash", "pile.boards/oak"} <= copied


def test_the_digest_of_a_question_is_that_of_its_answer() -> None:
    """A shorter board that is not the longest changes nothing; a longer one does."""
    way = ("pile.longest", "pile.named('ash',)", "pile.named('elm',)")
    longest, ash, elm = (digest for _, digest in watch(PILE, BY_ITEM, ("longest", "named")).digests(way))
    shorter = replace(PILE, boards=(Board("oak", 9), PILE.boards[1]))
    assert [longest, ash, elm] == [digest for _, digest in watch(shorter, BY_ITEM, ("longest", "named")).digests(way)]
    longer = replace(PILE, boards=(Board("elm", 30), PILE.boards[1]))
    first, second, third = (digest for _, digest in watch(longer, BY_ITEM, ("longest", "named")).digests(way))
    assert first != longest and second == ash and third != elm
