"""Pages of two PDFs are told apart as a reader would: by words, numbers, drawings and place."""

import io

import pikepdf
import pytest

from compiler.compare.lists import compare_lists
from compiler.compare.pages import PageChange, UnreadablePdf, compare_pages, read_pages
from compiler.compare.report import PlanComparison, section


def pdf(*pages: str) -> bytes:
    """A PDF with one operator string a page, text in a standard font (ISO 32000-1, 9.6.2.2)."""
    document = pikepdf.new()
    for content in pages:
        document.add_blank_page(page_size=(300, 300))
        page = document.pages[-1]
        page.Contents = document.make_stream(content.encode())
        page.Resources = pikepdf.Dictionary(
            Font=pikepdf.Dictionary(
                F=pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)
            )
        )
    written = io.BytesIO()
    document.save(written)
    return written.getvalue()


def text(*lines: str) -> str:
    """Lines of text, one under the other."""
    shown = " ".join(f"({line}) Tj 0 -20 Td" for line in lines)
    return f"BT /F 12 Tf 20 260 Td {shown} ET"


SIDE = text("Cut the side to length", "Length 33 1/4 and width 11 1/4", "Rabbet the back edge now")
SHELF = text("The shelf rests on four pins", "Round over its front edge", "Sand all its faces well")
DRAWN = " 20 20 m 200 20 l 200 100 l S"


def kinds(before: bytes, after: bytes) -> list[tuple[str, tuple[str, ...]]]:
    """Kind and what, page by page."""
    return [(change.kind, change.what) for change in compare_pages(read_pages(before), read_pages(after))]


def test_equal_pages_are_the_same() -> None:
    """Whatever the file's own numbers are."""
    assert [("same", ()), ("same", ())] == kinds(pdf(SIDE, SHELF), pdf(SIDE, SHELF))


def test_a_changed_size_is_a_changed_number_and_not_a_changed_text() -> None:
    """33 1/4 became 33 1/2."""
    assert [("changed", ("numbers",))] == kinds(pdf(SIDE), pdf(SIDE.replace("33 1/4", "33 1/2")))


def test_a_changed_word_is_a_changed_text() -> None:
    """No number differs."""
    assert [("changed", ("text",))] == kinds(pdf(SIDE), pdf(SIDE.replace("Rabbet", "Groove")))


def test_a_changed_line_is_a_changed_drawing() -> None:
    """The words are the same."""
    assert [("changed", ("drawings",))] == kinds(pdf(SIDE + DRAWN), pdf(SIDE + DRAWN.replace("200 100", "200 140")))


def test_letters_of_a_drawing_that_was_drawn_anew_are_no_changed_text() -> None:
    """They are the same letters in another order, beside other lines; without a drawing the order is what the page says."""
    swapped = text("Length 33 1/4 and width 11 1/4", "Cut the side to length", "Rabbet the back edge now")
    assert [("changed", ("drawings",))] == kinds(pdf(SIDE + DRAWN), pdf(swapped + DRAWN.replace("200 100", "200 140")))
    assert [("changed", ("text", "numbers"))] == kinds(pdf(SIDE), pdf(swapped.replace("33 1/4 and width 11 1/4", "11 1/4 and width 33 1/4")))


def test_what_a_page_said_and_says_is_told() -> None:
    """Word by word; in the report without what only moved and without fractions that fell apart."""
    (change,) = compare_pages(read_pages(pdf(SIDE)), read_pages(pdf(SIDE.replace("33 1/4", "33 1/2").replace("Rabbet", "Groove"))))
    assert (("1/4", "1/2"), ("Rabbet", "Groove")) == change.words
    page = PageChange("changed", 1, 1, ("text",), 0.5, (*change.words, ("taper", ""), ("5 32", "3 16"), ("", "taper")))
    shown = section(PlanComparison(plan="side", pages=(page,), before={}, after={}))
    assert "<del>Rabbet</del> <ins>Groove</ins>" in shown
    assert "taper" not in shown and "5 32" not in shown
    assert "<li>page 1: text changed</li>" in shown


def test_a_page_put_in_between_moves_nothing() -> None:
    """The pages behind it keep their order, so they are the same."""
    assert [("same", ()), ("added", ()), ("same", ())] == kinds(pdf(SIDE, SHELF), pdf(SIDE, text("Quite another page"), SHELF))


def test_two_pages_that_changed_places_have_one_that_moved() -> None:
    """One of the two keeps its order."""
    assert ["moved", "same"] == sorted(kind for kind, _ in kinds(pdf(SIDE, SHELF), pdf(SHELF, SIDE)))


def test_a_page_taken_out_is_told_where_it_stood() -> None:
    """Before the page that followed it."""
    assert [("removed", ()), ("same", ())] == kinds(pdf(SIDE, SHELF), pdf(SHELF))


def test_what_is_no_pdf_is_refused() -> None:
    """With an exception that the command turns into a sentence."""
    with pytest.raises(UnreadablePdf):
        read_pages(b"%PDF-1.7 and nothing else")


def test_a_changed_row_says_part_old_size_and_new_size() -> None:
    """Rows that came or went are told too."""
    before = {"lists": {"cut list": [{"row": "B bottom", "cells": {"length": "35 1/16"}}, {"row": "C deck", "cells": {}}]}}
    after = {"lists": {"cut list": [{"row": "B bottom", "cells": {"length": "35 5/16"}}, {"row": "D rail", "cells": {}}]}}
    assert [
        "cut list, B bottom: length 35 1/16 → 35 5/16",
        "cut list: D rail is new",
        "cut list: C deck is gone",
    ] == [change.sentence for change in compare_lists(before, after)]
