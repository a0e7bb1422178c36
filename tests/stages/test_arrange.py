"""One scheme of numbers a kind, continuous; references that always resolve or are reported."""

from fractions import Fraction

from compiler.base.report import Outcome, Spot
from compiler.stages.arrange import Frontispiece, arrange, order
from compiler.values import document as doc
from compiler.values.figure import Drawing
from tests.models import case

FRONT = Frontispiece(shop="Pinwheel Lane Woodshop", terms="", step=Fraction(1, 32), language="en", subject="")


def figure(name: str) -> doc.Figure:
    """A figure with nothing in it."""
    return doc.Figure(name, Drawing(width=10, height=10, marks=(), says=name), name=name)


def section(name: str, *blocks: doc.Block) -> doc.Section:
    """A section called by its name."""
    return doc.Section(name=name, title=name.capitalize(), blocks=blocks)


def arranged(*sections: doc.Section) -> Outcome[doc.Document]:
    """The document of the small case."""
    return arrange(sections, case(), FRONT)


def paragraph(*content: doc.Inline) -> doc.Paragraph:
    """A paragraph."""
    return doc.Paragraph(content=content)


def test_figures_are_numbered_through_all_sections_and_steps() -> None:
    """A step's picture counts where it stands."""
    step = doc.Step(title=("Glue",), key="Glue", content=(figure("b"),), picture=figure("a"))
    document = arranged(section("one", figure("x")), section("two", step, figure("y"))).value
    assert document is not None
    one, two = document.sections
    glue = two.blocks[0]
    assert isinstance(glue, doc.Step) and isinstance(glue.picture, doc.Figure) and isinstance(glue.content[0], doc.Figure)
    first, last = one.blocks[0], two.blocks[1]
    assert isinstance(first, doc.Figure) and isinstance(last, doc.Figure)
    assert (1, 2, 3, 4) == (first.number, glue.picture.number, glue.content[0].number, last.number)


def test_a_reference_may_stand_before_what_it_names() -> None:
    """Numbers are given in one walk, references resolved in the next."""
    document = arranged(section("one", paragraph("See ", doc.Ref("figure", "x"))), section("two", figure("x"))).value
    assert document is not None
    text = document.sections[0].blocks[0]
    assert isinstance(text, doc.Paragraph)
    reference = text.content[1]
    assert isinstance(reference, doc.Ref) and ("figure 1", "figure-x") == (reference.text, reference.anchor)


def test_a_reference_to_nothing_is_an_error_with_the_nearest_name() -> None:
    """At the place where it was written."""
    at = Spot("notes.md", line=3, column=9)
    outcome = arranged(section("one", paragraph(doc.Ref("table", "cut lst", at=at)), doc.Table("Cut list", ("a",), (("b",),), name="cut list")))
    (fault,) = outcome.report.errors
    assert ("dangling-reference", at, "Did you mean cut list?") == (fault.code, fault.at, fault.hint)


def test_a_figure_may_be_called_by_any_name_of_its_part() -> None:
    """The part drawing of `side` is also that of `left side`."""
    outcome = arranged(section("one", paragraph(doc.Ref("figure", "left side")), figure("side")))
    assert outcome.report.ok


def test_unnumbered_sections_stay_out_of_the_contents() -> None:
    """The cover has no number."""
    cover = doc.Section(name="cover", title="Cover", blocks=(), numbered=False)
    document = arranged(cover, section("one", doc.Contents())).value
    assert document is not None
    contents = document.sections[1].blocks[0]
    assert isinstance(contents, doc.Contents)
    assert (("1", "One", "section-one"),) == contents.rows


def test_letters_are_filled_in_from_the_model() -> None:
    """A mark names the part; its letter is the model's."""
    document = arranged(section("one", paragraph(doc.PartMark("right side")))).value
    assert document is not None
    text = document.sections[0].blocks[0]
    assert isinstance(text, doc.Paragraph)
    mark = text.content[0]
    assert isinstance(mark, doc.PartMark) and ("A", "side") == (mark.letter, mark.name)


def test_sections_follow_what_they_name_and_ties_go_by_name() -> None:
    """The order of loading plugins carries no meaning."""
    given = [("cut list", section("weights")), ("cover", section("cover")), ("cut list", section("lumber")), ("lumber", section("prices"))]
    names = [placed.name for placed in order(given, ("cover", "cut list"))]
    assert ["cover", "lumber", "prices", "weights"] == names
    assert names == [placed.name for placed in order(list(reversed(given)), ("cover", "cut list"))]


def test_a_reference_that_begins_a_sentence_has_a_capital() -> None:
    """`… at once. Figure 1 has every size, see figure 1.`"""
    refs = (doc.Ref("figure", "x"), " has it. ", doc.Ref("figure", "x"), " has every size, see ", doc.Ref("figure", "x"), ".")
    document = arranged(section("one", figure("x"), paragraph(*refs))).value
    assert document is not None
    text = document.sections[0].blocks[1]
    assert isinstance(text, doc.Paragraph)
    assert ["Figure 1", "Figure 1", "figure 1"] == [ref.text for ref in text.content if isinstance(ref, doc.Ref)]


def test_names_in_lists_begin_with_a_capital() -> None:
    """Whoever wrote the table; other columns are left alone."""
    table = doc.Table("Stock", columns=(doc.Column(head="Stock", kind="name"), doc.Column(head="Note")), groups=(doc.Group(title="", rows=(("ash", "dry"),)),))
    document = arranged(section("one", table)).value
    assert document is not None
    done = document.sections[0].blocks[0]
    assert isinstance(done, doc.Table)
    assert ("Ash", "dry") == done.groups[0].rows[0]


def test_a_caution_that_was_given_before_is_pointed_to() -> None:
    """In full where its source is new, whole sources only; a line with the number where a step has given it, among others."""
    rags = doc.Signal(word="WARNING", content=(("Rags burn.",),), source="SAF-26", again=("Treat rags",))
    step = doc.Step(title=("Oil",), key="Oil", content=(), cautions=(doc.Signal(word="WARNING", content=(("Both.",),), source="SAF-1, SAF-26"),))
    alone = arranged(section("finishing", rags)).value
    after = arranged(section("steps", step), section("finishing", rags)).value
    assert alone is not None and after is not None
    given, said = alone.sections[0].blocks[0], after.sections[1].blocks[0]
    assert isinstance(given, doc.Signal) and given.number == 1 and given.content == (("Rags burn.",),)
    assert isinstance(said, doc.Paragraph) and isinstance(said.content[2], doc.Ref)
    assert (said.content[0], said.content[2].text, said.content[2].anchor) == ("Treat rags", "caution 1", "caution-1")
    other = arranged(section("steps", doc.Signal(word="WARNING", content=(("Other.",),), source="SAF-2")), section("finishing", rags)).value
    assert other is not None and isinstance(other.sections[1].blocks[0], doc.Signal)
