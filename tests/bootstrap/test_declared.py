"""Every package that the code imports is one that a fresh machine will have."""

import ast
import importlib.metadata
import re
import sys
import tomllib
from pathlib import Path

import pytest

from compiler.bootstrap import ROOT

PROJECT = tomllib.loads(Path(ROOT, "pyproject.toml").read_text(encoding="utf-8"))
OURS = {"compiler", "plugins", "tests"}
# Compared with where somebody has installed it, and measured without it elsewhere.
OPTIONAL = {"OCP"}


def plain(name: str) -> str:
    """A package's name as an index compares it."""
    return re.sub(r"[-_.]+", "-", re.split(r"[=;<>\[ ]", name)[0]).lower()


RUN = {plain(need) for need in PROJECT["project"]["dependencies"]}
TESTS = {plain(need) for need in PROJECT["dependency-groups"]["tests"]}


def imported(folder: str) -> dict[str, str]:
    """Each foreign top-level module that the folder imports anywhere, and one file that does."""
    found: dict[str, str] = {}
    for path in sorted(Path(ROOT, folder).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            modules: list[str] = []
            if isinstance(node, ast.Import):
                modules = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                modules = [node.module]
            for module in modules:
                top = module.split(".")[0]
                if top not in sys.stdlib_module_names and top not in OURS | OPTIONAL:
                    found[top] = str(path.relative_to(ROOT))
    return found


@pytest.mark.parametrize(
    ("folder", "declared"), [("compiler", RUN), ("plugins", RUN), ("tests", RUN | TESTS)]
)
def test_every_import_is_declared(folder: str, declared: set[str]) -> None:
    """What is imported stands in pyproject.toml by its own name, not by way of another package."""
    packages = importlib.metadata.packages_distributions()
    missing = {
        module: path
        for module, path in imported(folder).items()
        if not {plain(package) for package in packages.get(module, ())} & declared
    }
    assert {} == missing
