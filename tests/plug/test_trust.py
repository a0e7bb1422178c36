"""Trust from end to end: no consent, no import; with it, results are kept, and what a plugin does wrong is bounded and named."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from compiler import cli, guard
from compiler.build import Workshop
from compiler.build.reading import read_plan
from compiler.build.surroundings import surroundings
from compiler.build.wishes import Wishes
from compiler.build.working import document_of
from compiler.store.account import Account
from compiler.store.memo import Store

DESIGN = """plan: Rail and post
number: 1
issue: 1
date: 2026-11-02
units: inch
editions: [inch letter]
materials: {pine: white pine 4/4}
parts:
  post: {stock: pine, across: from 0, deep: 0 to 3, up: 0 to 20, grain: up}
  rail: {stock: pine, across: post.right to 24, deep: 0 to 3, up: from 6, grain: across}
joints:
  - {butt: rail, to: post}
"""
NOTES = "# Rail and post\n\nA test.\n\n## Glue\n:adds: post, rail\n\n- Glue them.\n"
CODE = '''from dataclasses import dataclass

from compiler.api import Model, Plugin, hook, task


@dataclass(frozen=True)
class Pieces:
    """How many."""

    number: int


@task
def pieces(model: Model) -> Pieces:
    """Count them."""
    BODY
    return Pieces(len(model.parts))


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, tasks=(pieces,))
'''


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A plan with a plugin of its own, in a shop that trusts nobody yet."""
    folder = tmp_path / "shop" / "rail-and-post"
    (folder / "plugins" / "pieces").mkdir(parents=True)
    (folder / "design.yaml").write_text(DESIGN, encoding="utf-8")
    (folder / "notes.md").write_text(NOTES, encoding="utf-8")
    write(folder)
    trust(folder, "")
    return folder


def write(plan: Path, body: str = "pass") -> None:
    (plan / "plugins" / "pieces" / "__init__.py").write_text(CODE.replace("BODY", body), encoding="utf-8")


def trust(plan: Path, entry: str) -> None:
    line = f"trusted: [{entry}]\n" if entry else ""
    (plan.parent / "shop.yaml").write_text(f"shop: Pinwheel Lane Woodshop\n{line}", encoding="utf-8")


def checked(plan: Path, capsys: pytest.CaptureFixture[str], *more: str) -> tuple[int, str]:
    """Exit code and what is said."""
    code = cli.main(["check", str(plan), *more])
    return code, capsys.readouterr().err


def test_code_runs_only_when_it_is_trusted(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Refused; allowed once by --trust; refused again; allowed by the very entry that the hint names; refused when the code has changed."""
    code, said = checked(plan, capsys)
    assert code == 1 and "its code runs only if you trust it" in said
    assert 0 == checked(plan, capsys, "--trust")[0]
    assert 1 == checked(plan, capsys)[0]
    entry = re.search(r"or (\S+ at \w+) to trust this code alone", said)
    assert entry is not None
    trust(plan, entry[1])
    assert (0, "") == checked(plan, capsys)
    write(plan, "number = 1")
    code, said = checked(plan, capsys)
    assert code == 1 and "has changed since it was trusted" in said


def test_without_consent_nothing_is_imported(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Not even the first line of the module runs."""
    mark = plan / "was-imported"
    home = plan / "plugins" / "pieces" / "__init__.py"
    home.write_text(f"open({str(mark)!r}, 'w').close()\n" + home.read_text(encoding="utf-8"), encoding="utf-8")
    assert 1 == checked(plan, capsys)[0]
    assert not mark.exists()


@pytest.mark.parametrize(("body", "code", "expected"), [
    ("while True: pass", 1, ("`pieces` was stopped after 0.5 s.", "plugins/pieces/__init__.py:16", "(pieces)")),
    ("print('three')", 0, ("`pieces` prints “three”.", "plugins/pieces/__init__.py:16", "(pieces)")),
    ("open('shop.yaml')", 1, ("`pieces` opens a file: shop.yaml", "plugins/pieces/__init__.py:16", "(pieces)")),
    ("import socket; socket.socket()", 1, ("`pieces` opens a connection", "plugins/pieces/__init__.py:16", "(pieces)")),
    ("1 // 0", 1, ("`pieces` stopped: ZeroDivisionError", "plugins/pieces/__init__.py:16", "(pieces)")),
    ("raise SystemExit(3)", 1, ("`pieces` stopped: SystemExit: 3", "plugins/pieces/__init__.py:16", "(pieces)")),
])
def test_what_goes_wrong_is_bounded_and_named(body: str, code: int, expected: tuple[str, ...], plan: Path,
                                              capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """The command ends with its own exit code and names the plugin and its line."""
    monkeypatch.setattr(guard, "LONGEST", 0.5)
    write(plan, body)
    found, said = checked(plan, capsys, "--trust")
    assert code == found
    for words in expected:
        assert words in said


def entries(plan: Path, store: Path) -> dict[str, bool]:
    """What a run made (True) or used again, by name."""
    around = surroundings(Workshop(store=store, installed=False))
    account = Account(around.store, "test")
    built = document_of(read_plan(plan, around), read_edition(), Wishes(trust=True), account, draw=False)
    assert built.report.ok, [fault.says for fault in built.report.errors]
    return {entry.name: entry.made for entry in account.entries}


def read_edition() -> object:
    from compiler.values.model import Edition

    return Edition(units="inch", paper="letter")


def test_products_of_a_plans_plugin_are_kept(plan: Path, tmp_path: Path) -> None:
    """Made once; used again when only the notes change, which it does not read; made again when its code does."""
    store = tmp_path / "store"
    assert entries(plan, store)["pieces pieces"]
    (plan / "notes.md").write_text(NOTES.replace("A test", "Another test"), encoding="utf-8")
    assert not entries(plan, store)["pieces pieces"]
    write(plan, "number = 1")
    assert entries(plan, store)["pieces pieces"]


def test_kept_values_of_code_that_was_not_imported_stay_away(plan: Path, tmp_path: Path) -> None:
    """A value comes back only to code that this process imported with consent: the store can make nothing run."""
    entries(plan, tmp_path / "store")
    strange = Store(tmp_path / "store")
    found = [strange.get(path.parent.name + path.name) for path in (tmp_path / "store").glob("v*/??/*")]
    assert found and not [value for value in found if "Pieces" in repr(value)]
