"""The project's own library: every entry reads in both editions, and says where its figures are from."""

import re
from pathlib import Path

import pytest

from compiler.library import Entry, entries, find_entry, find_item, find_stock, handbook, woods
from compiler.library.index import tree_of
from compiler.values.source import Library, SourceFile
from tests.stages.drafts import ROOT, library

ALL = entries(library())
STOCK = ("sheet", "board", "rod", "moulding", "tape")


def shelf(text: str, name: str = "shared/stock/test.yaml") -> Library:
    return Library((SourceFile(name, text, ""),))


@pytest.mark.parametrize("entry", [entry for entry in ALL if entry.kind != "species"], ids=lambda entry: entry.key)
def test_every_entry_reads_in_both_editions(entry: Entry) -> None:
    """Without a fault."""
    find = find_stock if entry.kind in STOCK else find_item
    for units in ("inch", "mm"):
        outcome = find(library(), entry.key, units)
        assert outcome.value is not None and not outcome.report
        assert outcome.value.sources


def test_no_name_means_two_entries() -> None:
    """Neither a key nor a name of either edition is used twice."""
    names = [name for entry in ALL for name in {entry.key, *entry.names}]
    assert sorted(set(names)) == sorted(names)


def test_every_sign_is_explained() -> None:
    """Signs of sources are rows of sources.md."""
    explained = set(re.findall(r"^\| ([A-Z]{3}-\d\d) \|", (ROOT / "shared" / "sources.md").read_text(encoding="utf-8"), re.M))
    used = {sign for file in library().files for sign in re.findall(r"\b[A-Z]{3}-\d\d\b", file.text)}
    assert set() == used - explained


def test_what_comes_along_is_in_the_library() -> None:
    """Every entry under `with`."""
    for entry in ALL:
        item = find_item(library(), entry.key, "inch").value
        for name, _ in item.brings if item else ():
            assert find_entry(library(), name) is not None, name


def test_an_entry_is_found_by_any_of_its_names() -> None:
    """Its key, either edition's name, or without the word of its kind."""
    assert {"birch plywood 3/4"} == {entry.key for name in ("birch plywood 3/4", "birch plywood 18 mm") if (entry := find_entry(library(), name))}
    assert {"screw No. 8 x 1 1/4"} == {entry.key for name in ("No. 8 x 1 1/4", "4 x 30", "screw No. 8 x 1 1/4", "screw 4 x 30") if (entry := find_entry(library(), name, "screw"))}


def test_boards_know_their_wood() -> None:
    """Density and stiffness come from the species."""
    stock = find_stock(library(), "white oak 4/4", "inch").value
    assert stock is not None and stock.species is not None
    assert ("Quercus alba", 762) == (stock.species.botanical, stock.density)


def test_a_missing_side_is_said_at_its_entry() -> None:
    """With file and line."""
    fault = find_stock(shelf("\npine 4/4:\n  kind: board\n  thickness: {inch: 3/4}\n"), "pine 4/4", "mm").report.diagnostics[0]
    assert fault.at is not None
    assert ("no-side", "shared/stock/test.yaml", 2) == (fault.code, fault.at.file, fault.at.line)


def test_a_fault_of_yaml_is_placed_in_the_library_s_file() -> None:
    """The line of the file, not of the entry."""
    broken = shelf("ash 4/4:\n  kind: board\n  thickness: 3/4\noak 4/4:\n  kind: board\n  thickness: [3/4\n")
    fault = find_stock(broken, "oak 4/4", "inch").report.diagnostics[0]
    assert fault.at is not None
    assert 6 == fault.at.line


def test_only_what_is_asked_for_is_read() -> None:
    """A broken neighbour doesn't matter to a plan that doesn't use it."""
    broken = shelf("ash 4/4:\n  kind: board\n  thickness: 3/4\noak 4/4:\n  kind: board\n  thickness: [3/4\n")
    assert find_stock(broken, "ash 4/4", "inch").value is not None


def test_operations_name_tools_and_cautions_that_are_there() -> None:
    """And what is worn."""
    found = handbook(library(), "inch").value
    assert found is not None and found.notice
    tools, worn, cautions = dict(found.tools), dict(found.protection), {each.name for each in found.cautions}
    for each in found.operations:
        assert {tool for choice in (each.must, *each.any_of) for tool in choice} <= set(tools), each.name
        assert set(each.cautions) <= cautions and set(each.protection) <= set(worn), each.name


def test_glossary_and_woods() -> None:
    """In the order of the alphabet; every wood with its density."""
    found = handbook(library(), "inch").value
    assert found is not None
    names = [term.name for term in found.terms]
    assert names and names == sorted(names)
    assert all(wood.density for wood in woods(library()))


def test_nothing_is_bought_by_the_name_of_a_wood() -> None:
    """A plan names boards."""
    assert None is find_stock(library(), "white oak", "inch").value


def test_library_files_are_small_enough_to_read() -> None:
    """No file is longer than a maker will scroll."""
    assert all(len(file.text.splitlines()) < 700 for file in library().files), [Path(file.name).name for file in library().files]


def test_an_entry_is_a_mapping() -> None:
    """Every one."""
    assert all(tree_of(entry).value is not None for entry in ALL)
