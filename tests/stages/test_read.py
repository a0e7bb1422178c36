"""Reading a folder: every fault of a file is a sentence, nothing outside the folder is opened."""

from pathlib import Path

import pytest

from compiler.base.report import Spot
from compiler.stages.read import read, read_library, read_photo

AT = Spot("notes.md")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    plan = tmp_path / "stool"
    plan.mkdir()
    (plan / "design.yaml").write_text("plan: Stool\n")
    return plan


def codes(folder: Path) -> list[str]:
    return [each.code for each in read(folder).report.diagnostics]


def test_files_that_are_not_there_are_remembered(folder: Path) -> None:
    """Their coming is a change, too."""
    source = read(folder).value
    assert source is not None
    assert ("notes.md", "letters.yaml", "shop.yaml", "sponsor.yaml") == source.absent


def test_a_folder_without_a_design(tmp_path: Path) -> None:
    """Two sentences for two mistakes."""
    assert [["no-design"], ["no-folder"]] == [codes(tmp_path), codes(tmp_path / "gone")]


def test_a_hundred_megabytes_are_one_sentence(folder: Path) -> None:
    """The file is not read at all."""
    with (folder / "notes.md").open("wb") as file:
        file.truncate(100_000_000)
    assert ["notes.md has 100 MB; a plan's text has at most 1 MB."] == [each.says for each in read(folder).report.diagnostics]


def test_a_wrong_encoding_has_its_line(folder: Path) -> None:
    """A Latin-1 letter in line 2."""
    (folder / "notes.md").write_bytes("# Hocker\n\nSch\u00f6n\n".encode("latin-1"))
    fault = read(folder).report.diagnostics[0]
    assert fault.at is not None
    assert ("encoding", 3, 4) == (fault.code, fault.at.line, fault.at.column)


def test_utf_16_is_named(folder: Path) -> None:
    """Some editors save it so."""
    (folder / "notes.md").write_text("# Stool\n", encoding="utf-16")
    assert ["encoding"] == codes(folder)


def test_a_byte_order_mark_is_no_part_of_the_text(folder: Path) -> None:
    """Nor are carriage returns."""
    (folder / "notes.md").write_bytes(b"\xef\xbb\xbf# Stool\r\n")
    source = read(folder).value
    assert source is not None
    assert "# Stool\n" == source.text("notes.md")


def test_a_link_out_of_the_folder_is_not_followed(folder: Path) -> None:
    """Even when the file could be read."""
    outside = folder.parent / "secret.md"
    outside.write_text("secret")
    (folder / "notes.md").symlink_to(outside)
    source = read(folder)
    assert source.value is not None
    assert (None, ["outside-folder"]) == (source.value.text("notes.md"), [each.code for each in source.report.diagnostics])


@pytest.mark.parametrize("path", ["../secret.jpg", "/etc/hostname", "photos/../../secret.jpg", "photos\\a.jpg", ""])
def test_a_photo_outside_the_folder_is_refused(folder: Path, path: str) -> None:
    """Whether it is there or not."""
    (folder.parent / "secret.jpg").write_bytes(b"x")
    assert ["outside-folder"] == [each.code for each in read_photo(folder, path, AT).report.diagnostics]


def test_a_photo_that_is_not_there_names_those_that_are(folder: Path) -> None:
    """A slip in the name is seen at once."""
    (folder / "photos").mkdir()
    (folder / "photos" / "finished.jpg").write_bytes(b"x")
    fault = read_photo(folder, "photos/finnished.jpg", AT).report.diagnostics[0]
    assert ("no-photo", "The folder holds photos/finished.jpg.") == (fault.code, fault.hint)


def test_a_library_without_stock(tmp_path: Path) -> None:
    """It is looked for in named folders."""
    assert ["no-library"] == [each.code for each in read_library(tmp_path).report.diagnostics]
