"""The command line: words in, exit code out, never a traceback, and never a half-written file."""

from __future__ import annotations

import hashlib
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from compiler.cli import main
from tests.shop import ROOT, Small


@pytest.fixture
def shop(tmp_path: Path) -> Small:
    """A shop with one plan."""
    return Small(tmp_path)


def said(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    """Exit code, standard output, standard error of one command."""
    try:
        code = main([str(word) for word in words])
    except SystemExit as end:
        code = int(end.code or 0)
    heard = capsys.readouterr()
    assert "Traceback" not in heard.err + heard.out
    return code, heard.out, heard.err


def test_a_sound_plan_has_no_errors_and_exit_0(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """`check` draws and writes nothing."""
    assert (0, f"{shop.plan}: no errors.\n", "") == said(capsys, "check", shop.plan)
    assert {"design.yaml", "notes.md"} == {path.name for path in shop.plan.iterdir()}


def test_errors_of_several_plans_are_told_in_one_run(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """Each with its own folder, and exit 1."""
    other = Small(shop.home / "other")
    shop.edit("design.yaml", "grain: across}\n  shelf", "grian: across}\n  shelf")
    other.edit("design.yaml", "to: rail,", "to: rial,")
    code, _, err = said(capsys, "check", shop.plan, other.plan)
    assert code == 1
    assert f"{shop.plan}/design.yaml:" in err and "grian" in err
    assert f"{other.plan}/design.yaml:" in err and "rial" in err


@pytest.mark.parametrize("command", ["check", "publish", "why", "watch", "compare"])
def test_a_folder_that_is_not_there_is_one_error(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 1, one sentence."""
    words = [command, tmp_path / "nowhere", *(["rail.length"] if command == "why" else [])]
    code, _, err = said(capsys, *words)
    assert (1, 1) == (code, err.count("error:"))
    assert "There is no folder nowhere." in err


@pytest.mark.parametrize("words", [["publish"], ["publish", "x", "--paper", "a5"], ["check"], ["sell"], ["publish", "x", "--units", "feet"], ["why", "x"], ["new"]])
def test_a_mistyped_command_is_exit_2(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """It is told apart from a plan with errors."""
    assert said(capsys, *words)[0] == 2


@pytest.mark.parametrize(("words", "near"), [(["pubish", "x"], "publish"), (["publish", "x", "--units", "inches"], "inch")])
def test_a_mistyped_word_has_a_near_one(words: list[str], near: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The word meant, and where to read on."""
    _, out, err = said(capsys, *words)
    assert "" == out and f"Did you mean {near}?" in err and "--help says what may be written" in err


def test_an_unknown_theme_is_named_with_the_nearest_one(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is written."""
    code, out, err = said(capsys, "publish", shop.plan, "--theme", "standart")
    assert (1, "") == (code, out)
    assert "There is no theme `standart`." in err and "Did you mean standard?" in err
    assert not (shop.plan / "out").exists()


def test_publish_writes_pdf_record_letters_and_exports_whole(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """And leaves nothing beside them."""
    code, out, err = said(capsys, "publish", shop.plan)
    assert (0, "") == (code, err)
    assert f"{shop.plan}/out/wall-rail.pdf  " in out
    written = {path.name for path in (shop.plan / "out").iterdir()}
    assert {"wall-rail.pdf", "wall-rail.edition.json"} <= written
    assert not [name for name in written if ".part-" in name]
    assert "A: rail\nB: shelf\n" in (shop.plan / "letters.yaml").read_text()
    assert (shop.plan / "out/wall-rail.pdf").read_bytes().rstrip().endswith(b"%%EOF")


def test_what_is_right_already_is_not_touched(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """The files keep their time of change."""
    said(capsys, "publish", shop.plan)
    before = {path: path.stat().st_mtime_ns for path in (shop.plan / "out").iterdir()}
    code, out, _ = said(capsys, "publish", shop.plan)
    assert code == 0 and "as it was" in out
    assert before == {path: path.stat().st_mtime_ns for path in (shop.plan / "out").iterdir()}


def test_out_names_another_folder(shop: Small, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """The plan's own out folder is not made; a copy elsewhere is no issue of the plan."""
    said(capsys, "publish", shop.plan, "--out", tmp_path / "elsewhere")
    assert (tmp_path / "elsewhere/wall-rail.pdf").is_file()
    assert not (shop.plan / "out").exists() and not (shop.plan / "issues").exists()


def test_an_error_leaves_the_old_pdf(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """Byte for byte, and says so."""
    said(capsys, "publish", shop.plan)
    before = shop.pdf
    shop.edit("design.yaml", "up: from 1", "up: from")
    code, out, err = said(capsys, "publish", shop.plan)
    assert (1, "") == (code, out)
    assert "not published; what was there before is as it was." in err
    assert before == shop.pdf


def test_a_place_that_is_a_file_is_told(shop: Small, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """`--out` with the name of a file."""
    (tmp_path / "taken").write_text("")
    code, _, err = said(capsys, "publish", shop.plan, "--out", tmp_path / "taken")
    assert code == 1 and "can't be written to" in err and "--out" in err


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_place_is_told(shop: Small, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Permission denied."""
    (tmp_path / "shut").mkdir(mode=0o500)
    code, _, err = said(capsys, "publish", shop.plan, "--out", tmp_path / "shut")
    assert code == 1 and "can't be written to" in err


def test_two_plans_of_one_name_cannot_share_an_out_folder(shop: Small, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """One would overwrite the other."""
    other = Small(shop.home / "other")
    other.edit("design.yaml", "number: 7", "number: 8")
    code, _, err = said(capsys, "publish", shop.plan, other.plan, "--out", tmp_path / "both")
    assert code == 1 and "would both be written to" in err
    assert not (tmp_path / "both").exists()


def test_two_plans_with_one_number_are_refused(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """Records and buyers know a plan by its number."""
    other = Small(shop.home / "other")
    code, _, err = said(capsys, "publish", shop.plan, other.plan)
    assert code == 1 and "both have the number 7" in err
    assert not (other.plan / "out").exists()


def test_why_answers_for_a_letter_in_either_unit(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """`why F` is what a reader of the plan writes."""
    code, inch, _ = said(capsys, "why", shop.plan, "A")
    assert code == 0 and "rail (A)" in inch and "length = 24" in inch
    code, metric, _ = said(capsys, "why", shop.plan, "A", "--units", "mm")
    assert code == 0 and "length = 610 mm" in metric


def test_why_of_nothing_says_so(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """With the nearest name."""
    code, _, err = said(capsys, "why", shop.plan, "shelv.length")
    assert code == 1 and "Did you mean" in err


def test_a_fault_of_the_program_is_a_sentence(shop: Small, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """The rest goes into a file."""
    import compiler.build

    def fail(*_: object) -> None:
        raise RuntimeError("a fault")

    monkeypatch.setattr(compiler.build, "check", fail)
    code, _, err = said(capsys, "check", shop.plan)
    assert code == 1 and "Kerfolio itself failed" in err and "a fault" in err


def test_an_edition_record_of_a_newer_version_is_not_replaced(shop: Small, capsys: pytest.CaptureFixture[str]) -> None:
    """Nor is its PDF."""
    out = shop.plan / "out"
    out.mkdir()
    (out / "wall-rail.pdf").write_bytes(b"from the future")
    (out / "wall-rail.edition.json").write_text('{"format": 999}')
    code, _, err = said(capsys, "publish", shop.plan)
    assert code == 1 and "newer version" in err
    assert b"from the future" == shop.pdf


def started(*words: object, **surroundings: str) -> subprocess.Popen[str]:
    """The command in a process of its own."""
    return subprocess.Popen([sys.executable, "-m", "compiler", *map(str, words)], cwd=ROOT, env={**os.environ, **surroundings},
                            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


@pytest.mark.skipif(os.name != "posix", reason="signals are sent another way there")
@pytest.mark.parametrize("moment", [0.15, 0.6, 1.2])
def test_an_interrupted_publish_leaves_the_old_pdf(shop: Small, moment: float) -> None:
    """Ctrl-C at different moments: exit 1 and one sentence, or it was done already; the PDF is the old or the new one, whole."""
    out = shop.plan / "out"
    out.mkdir()
    (out / "wall-rail.pdf").write_bytes(b"the old one")
    shop.edit("design.yaml", "width: {inch: 24", f"width: {{inch: {25 + moment * 10:g}")
    process = started("publish", shop.plan)
    time.sleep(moment)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    assert "Traceback" not in err
    assert process.returncode in (0, 1, -signal.SIGINT)
    whole = shop.pdf == b"the old one" or shop.pdf.rstrip().endswith(b"%%EOF")
    assert whole
    assert not [path for path in out.iterdir() if ".part-" in path.name]


def test_other_surroundings_give_the_same_bytes(shop: Small, tmp_path: Path) -> None:
    """Hash seed, time zone, locale and folder: PDF, record and exports of both editions, made without a store."""
    script = """
import sys
from pathlib import Path
from compiler import build
workshop = build.Workshop(store=None)
for units in ("inch", "mm"):
    build.publish(Path(sys.argv[1]), build.Wishes(units=units), out=Path(sys.argv[2]) / units, workshop=workshop)
"""
    found = set()
    for number, (seed, zone, language) in enumerate((("1", "Asia/Tokyo", "de_DE.UTF-8"), ("4242", "America/Lima", "C"))):
        other = Small(tmp_path / f"folder {number}")
        surroundings = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": language, "LANG": language, "PYTHONPATH": str(ROOT)}
        out = tmp_path / f"out {number}"
        subprocess.run([sys.executable, "-c", script, str(other.plan), str(out)], env=surroundings, cwd=tmp_path, check=True)
        files = {path.relative_to(out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(out.rglob("*.*"))}
        assert {"inch/wall-rail.pdf", "mm/wall-rail.metric-a4.edition.json"} <= set(files)
        found.add(tuple(files.items()))
    assert 1 == len(found)
