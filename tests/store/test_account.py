"""What is made again, what is used again, and the reason: one decision."""

from dataclasses import dataclass
from pathlib import Path

from compiler.store.account import Account
from compiler.store.deciding import decide
from compiler.store.memo import Store
from compiler.store.watching import seen, watch


@dataclass(frozen=True, slots=True, kw_only=True)
class Rack:
    """A value with fields to read."""

    boards: int = 3
    price: int = 5

    @property
    def worth(self) -> int:
        """Reads both."""
        return self.boards * self.price


def test_what_is_at_hand_under_the_same_ingredients_is_used_again() -> None:
    """No reasons are needed."""
    assert decide((("a", "1"),), (("a", "1"),), at_hand=True).reuse


def test_a_decision_names_what_differs() -> None:
    """Changed, new and gone, in this order."""
    decision = decide((("a", "2"), ("b", "1")), (("a", "1"), ("c", "1")), at_hand=False)
    assert (False, ("a changed", "b is new", "c is gone")) == (decision.reuse, decision.reasons)


def test_what_was_kept_and_is_gone_is_named_so() -> None:
    """Nothing changed, and still it is made again."""
    assert ("what was kept of it is gone or damaged",) == decide((("a", "1"),), (("a", "1"),), at_hand=False).reasons
    assert ("it was not made before",) == decide((("a", "1"),), None, at_hand=False).reasons


def test_a_watched_value_is_its_own_kind_and_equal() -> None:
    """Functions can't tell it from the plain one."""
    watched = watch(Rack())
    assert isinstance(watched.value, Rack)
    assert Rack().worth == watched.value.worth
    assert watched.value == Rack()


def test_a_watched_value_tells_the_fields_that_were_read() -> None:
    """Also those that its own methods read."""
    watched = watch(Rack())
    with seen((watched,)) as one:
        assert watched.value.boards
    with seen((watched,)) as both:
        assert watched.value.worth
    assert {"rack.boards"} == one
    assert {"rack.boards", "rack.price"} == both


def made(store: Store, rack: Rack, calls: list[Rack]) -> int:
    """The number of boards, kept by what is read of the rack."""
    watched = watch(rack)

    def make() -> int:
        calls.append(rack)
        return int(watched.value.boards)

    return Account(store, "a plan").keep_by_reads("boards", (), (watched,), make, lambda value: True)


def test_a_field_that_was_not_read_makes_nothing_again(tmp_path: Path) -> None:
    """The price changed; the boards were counted."""
    store, calls = Store(tmp_path), list[Rack]()
    made(store, Rack(), calls)
    assert 3 == made(store, Rack(price=9), calls)
    assert 1 == len(calls)


def test_a_field_that_was_read_makes_it_again(tmp_path: Path) -> None:
    """And what was made before comes back with its old value."""
    store, calls = Store(tmp_path), list[Rack]()
    made(store, Rack(), calls)
    assert 4 == made(store, Rack(boards=4), calls)
    assert 3 == made(store, Rack(), calls)
    assert 2 == len(calls)


def test_another_way_of_reading_is_learnt(tmp_path: Path) -> None:
    """A function that reads the price only of a full rack is right for both racks."""
    store, calls = Store(tmp_path), list[int]()

    def worth(rack: Rack) -> int:
        watched = watch(rack)

        def make() -> int:
            calls.append(1)
            return int(watched.value.price) if watched.value.boards else 0

        return Account(store, "a plan").keep_by_reads("worth", (), (watched,), make, lambda value: True)

    assert [0, 5, 0, 9, 5] == [worth(rack) for rack in (Rack(boards=0), Rack(), Rack(boards=0, price=9), Rack(price=9), Rack())]
    assert 3 == len(calls)


def test_reasons_survive_to_the_next_run(tmp_path: Path) -> None:
    """The account of the run before is kept too."""
    first = Account(Store(tmp_path), "a plan")
    first.keep("boards", (("the rack", "1"),), lambda: 1)
    first.close()
    second = Account(Store(tmp_path), "a plan")
    second.keep("boards", (("the rack", "2"),), lambda: 2)
    assert ["made    boards: the rack changed"] == [str(entry) for entry in second.entries]
