"""The plugin in DEVELOPERS.md is run, with its test, as it stands there."""

from __future__ import annotations

import inspect
import re
from pathlib import Path
from types import ModuleType

from compiler import hooks
from compiler.plug.finding import Candidate
from compiler.plug.importing import _module
from tests.plug.plugins_at_hand import write

TEXT = (Path(__file__).resolve().parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
SECTION = TEXT.partition("## Plugins\n")[2].partition("\n## ")[0]
BLOCKS = re.findall(r"```python\n(.*?)```", SECTION, re.DOTALL)


def pegged(folder: Path) -> ModuleType:
    return _module(Candidate(name="pegged", folder=write(folder, "pegged", BLOCKS[0]), digest="developers", found="plan"))


def test_hook_plugin() -> None:
    """The contract's only hook stands there with its signature."""
    signature = f"plugin{inspect.signature(hooks.plugin)}".replace("'", "")
    assert f"```\n{signature}\n```" in SECTION


def test_the_sample_passes_its_own_test(tmp_path: Path) -> None:
    """Both blocks, unchanged."""
    names: dict[str, object] = {}
    exec(compile(BLOCKS[1], "DEVELOPERS.md", "exec"), names)
    test = names["test_one_peg"]
    assert callable(test)
    test(pegged(tmp_path))


def test_every_given_type_is_named() -> None:
    """What functions may need without a plugin making it."""
    from compiler.values.contributions import GIVEN

    assert [] == [kind.__name__ for kind in GIVEN if kind.__name__ not in SECTION]
