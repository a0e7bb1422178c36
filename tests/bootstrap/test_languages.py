"""What runs before the right Python is found must be readable by the oldest that may start it."""

import ast
import sys
from pathlib import Path

import pytest

from compiler.bootstrap import ROOT

OLDEST = (3, 9)
BEFORE = [
    *Path(ROOT, "compiler", "bootstrap").glob("*.py"),
    Path(ROOT, "compiler", "__init__.py"),
    Path(ROOT, "compiler", "__main__.py"),
    Path(ROOT, "tests", "__init__.py"),
    Path(ROOT, "tests", "__main__.py"),
    Path(ROOT, "tests", "benchmarks", "__init__.py"),
    Path(ROOT, "tests", "benchmarks", "__main__.py"),
]


@pytest.mark.parametrize("path", BEFORE, ids=lambda path: str(path.relative_to(ROOT)))
def test_oldest_python_can_read_it(path: Path) -> None:
    """Every module on the way to the set-up parses as Python 3.9."""
    ast.parse(path.read_text(encoding="utf-8"), feature_version=OLDEST)


@pytest.mark.parametrize("path", BEFORE, ids=lambda path: str(path.relative_to(ROOT)))
def test_it_imports_the_standard_library_and_itself(path: Path) -> None:
    """Nothing that has to be installed is imported at the top of a module that installs it."""
    tops = set()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.Import):
            tops |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            tops.add(node.module or "")
    foreign = {
        top
        for top in tops
        if top.split(".")[0] not in sys.stdlib_module_names and not top.startswith("compiler.bootstrap")
    }
    assert set() == foreign
