"""What every build needs, read once by the process from which builds are forked.

In: nothing. Out: modules in memory. Without this each of sixty plans would read them again.
"""

from __future__ import annotations

import importlib
import os

_NEEDED = (
    "compiler.draw.picture", "compiler.language.excerpts", "compiler.plug.loading", "compiler.stages.arrange", "compiler.stages.assemble",
    "compiler.stages.check", "compiler.stages.choose", "compiler.stages.derive", "compiler.stages.dress", "compiler.stages.illustrate",
    "compiler.stages.inspect", "compiler.stages.letters", "compiler.stages.notes", "compiler.stages.parse", "compiler.stages.photos",
    "compiler.stages.publish",
)


def prepare() -> None:
    """Read it. numpy is kept to one thread: a process with threads is not safely forked, and nothing here is large enough to gain by them."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for name in _NEEDED:
        importlib.import_module(name)
