"""The public surface: its names, its lightness, its types."""

from __future__ import annotations

import inspect
import subprocess
import sys
from pathlib import Path

import compiler.api

HOME = Path(__file__).resolve().parents[1]
PINNED = Path(__file__).with_name("api_names.txt")


def test_the_names_are_pinned() -> None:
    """Additions are written into api_names.txt with the change; a removal raises the contract."""
    assert PINNED.read_text().split() == sorted(compiler.api.__all__)


def test_every_name_is_there_and_documented() -> None:
    """A class, a function or a type alias; what can carry a docstring has one."""
    for name in compiler.api.__all__:
        thing = getattr(compiler.api, name)
        if inspect.isclass(thing) or inspect.isfunction(thing):
            assert thing.__doc__, name


def test_the_surface_is_light() -> None:
    """It pulls in no geometry, no drawing, no pages, no grammar."""
    code = "import sys, compiler.api; print(*sorted(sys.modules))"
    loaded = set(subprocess.run([sys.executable, "-c", code], cwd=HOME, capture_output=True, text=True, check=True).stdout.split())
    heavy = {"numpy", "weasyprint", "lark", "jinja2", "ruamel", "ruamel.yaml", "manifold3d", "shapely", "PIL", "rich", "markdown_it"}
    assert set() == heavy & loaded


def test_plugins_type_check_strictly() -> None:
    """tests/typing holds plugins as authors write them, and mistakes that the type checker finds before a plan is made."""
    run = subprocess.run([sys.executable, "-m", "mypy", "--strict", "--warn-unused-ignores", "tests/typing/sample_plugin.py", "tests/typing/mistakes.py"],
                         cwd=HOME, capture_output=True, text=True, check=False)
    assert "Success" in run.stdout, run.stdout
