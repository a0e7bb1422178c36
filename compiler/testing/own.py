"""The plugin that a test stands beside, imported as the compiler imports it.

In: the test's own file. Out: the plugin's module. The tests of a plugin live in its folder, wherever that is.
"""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

from compiler.plug.importing import module_in


def own_plugin(test: str) -> ModuleType:
    """The plugin whose folder a test stands in: `mine = own_plugin(__file__)`.

    Raises AssertionError when no folder above the test is a plugin's.
    """
    for folder in Path(test).resolve().parents:
        if (folder / "__init__.py").is_file():
            return module_in(folder)
    raise AssertionError(f"{Path(test).name} stands in no plugin's folder: none above it has an __init__.py")
