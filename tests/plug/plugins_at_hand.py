"""Small plugins for tests: written into a folder, loaded alone, their messages read back."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

from compiler.base.report import Diagnostic, Outcome
from compiler.plug import load
from compiler.values.contributions import Contributions


def write(folder: Path, name: str, code: str) -> Path:
    """A plugin's folder with one file."""
    home = folder / "plugins" / name
    home.mkdir(parents=True)
    (home / "__init__.py").write_text(dedent(code).lstrip("\n"), encoding="utf-8")
    return home


def loaded(folder: Path, **plugins: str) -> Outcome[Contributions]:
    """The plugins with this code, and no others."""
    for name, code in plugins.items():
        write(folder, name, code)
    return load(bundled=None, installed=False, shop=folder, trust_all=True)


def said(diagnostic: Diagnostic) -> str:
    """Plugin, line, sentence and hint in one line."""
    line = f":{diagnostic.at.line}" if diagnostic.at is not None and diagnostic.at.line else ""
    hint = f" · {diagnostic.hint}" if diagnostic.hint else ""
    return f"{diagnostic.plugin}{line} {diagnostic.says}{hint}"
