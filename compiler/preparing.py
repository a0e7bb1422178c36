"""What every build needs, read once by the process from which builds are forked.

In: where the bundled plugins and themes are. Out: modules, templates and the grammar in memory. Without this each of sixty plans would read them again.
"""

from __future__ import annotations

import contextlib
import importlib
import os
import sys
from pathlib import Path

_NEEDED = (
    "compiler.draw.part_dxf", "compiler.draw.picture", "compiler.draw.view_words", "compiler.language.excerpts", "compiler.plug.component_places",
    "compiler.plug.loading", "compiler.stages.arrange", "compiler.stages.assemble", "compiler.stages.check", "compiler.stages.choose",
    "compiler.stages.derive", "compiler.stages.dress", "compiler.stages.fill", "compiler.stages.illustrate", "compiler.stages.inspect.driving",
    "compiler.stages.inspect.soundness", "compiler.stages.inspect.standing", "compiler.stages.letters", "compiler.stages.notes",
    "compiler.stages.own_views", "compiler.stages.parse", "compiler.stages.photos", "compiler.stages.publish",
)


def prepare(plugins: Path | None = None, themes: Path | None = None) -> None:
    """Read it. numpy is kept to one thread: a process with threads is not safely forked, and nothing here is large enough to gain by them."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for name in _NEEDED:
        importlib.import_module(name)
    for name in _bundled(plugins):
        with contextlib.suppress(Exception):  # what is wrong with it is told, with its line, when it is loaded
            importlib.import_module(name)
    from compiler.language.parsing import parse_size
    from compiler.stages.dress.templates import compile_ahead

    parse_size("1")  # the first size builds the grammar's tables

    for folder in sorted(themes.glob("*/templates")) if themes is not None else ():
        with contextlib.suppress(OSError, UnicodeError):
            compile_ahead({path.name: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.html"))})


def forget() -> None:
    """Let the bundled plugins be read anew: their code has changed."""
    for name in [name for name in sys.modules if name.startswith("plugins.")]:
        del sys.modules[name]


def _bundled(plugins: Path | None) -> list[str]:
    """Their modules, when they are those that stand beside the compiler: others run only with consent."""
    if plugins is None or plugins != Path(__file__).resolve().parents[1] / "plugins":
        return []
    return [f"plugins.{path.parent.name}{'' if path.name == '__init__.py' else f'.{path.stem}'}" for path in sorted(plugins.glob("*/*.py"))]
