"""Which sections a booklet has, and in which order."""

from compiler.base.report import Spot
from compiler.stages.choose import choose
from compiler.values.document import Section
from compiler.values.settings import Booklet

AT = Spot("design.yaml", ("booklet",))
ALL = tuple(Section(name=name, title=title, blocks=()) for name, title in
            (("cover", "Cover"), ("materials", "Shopping list"), ("exploded", "Exploded views"), ("sizes", "Sizes"), ("steps", "Build it")))


def names(*, leave_out: tuple[str, ...] = (), order: tuple[str, ...] = ()) -> list[str]:
    """The sections that are left."""
    wishes = Booklet(leave_out=tuple((name, AT) for name in leave_out), order=tuple((name, AT) for name in order))
    chosen = choose(ALL, wishes).value
    assert chosen is not None
    return [section.name for section in chosen]


def test_nothing_wished_for_changes_nothing() -> None:
    """Sections stay as their plugins ask."""
    assert names() == [section.name for section in ALL]


def test_a_section_is_left_out_by_name_or_title() -> None:
    """In whatever case the maker writes it."""
    assert names(leave_out=("Shopping List", "sizes")) == ["cover", "exploded", "steps"]


def test_an_order_starts_where_the_first_of_its_sections_stood() -> None:
    """The others keep their places round it."""
    assert names(order=("sizes", "exploded")) == ["cover", "materials", "sizes", "exploded", "steps"]
    assert names(order=("build it", "materials")) == ["cover", "steps", "materials", "exploded", "sizes"]


def test_a_section_that_is_left_out_cannot_be_ordered() -> None:
    """It stays away."""
    assert names(leave_out=("sizes",), order=("sizes", "exploded")) == ["cover", "materials", "exploded", "steps"]


def test_an_unknown_section_is_named_at_its_place() -> None:
    """With the nearest name."""
    outcome = choose(ALL, Booklet(leave_out=(("exploded view", AT),)))
    (fault,) = outcome.report.diagnostics
    assert (fault.code, fault.at, fault.hint) == ("unknown-section", AT, "Did you mean exploded views?")
    assert outcome.value == ALL
