"""`python3 -m tests.benchmarks NAME…`: each named benchmark's figures as one line of JSON.

A benchmark is a module in this folder with `run() -> dict[str, object]`. One that has `FAMILIES` takes their names: `NAME:family,family`.
"""

import importlib
import json
import pkgutil
import sys

from compiler.bootstrap import TESTING, enter


def names() -> list[str]:
    """The benchmarks there are."""
    import tests.benchmarks as folder

    return sorted(module.name for module in pkgutil.iter_modules(folder.__path__) if module.name[0] != "_")


def _families(name: str) -> tuple[str, ...]:
    """The families that the name asks for behind a colon."""
    return tuple(family for family in name.partition(":")[2].split(",") if family)


def _known(name: str) -> bool:
    module = name.partition(":")[0]
    return module in names() and set(_families(name)) <= set(getattr(importlib.import_module(f"tests.benchmarks.{module}"), "FAMILIES", ()))


def main() -> int:
    """Run the benchmarks that the command line names; 2 when one is not known, or none is named."""
    enter("tests.benchmarks", TESTING)
    asked = sys.argv[1:]
    if not asked or not all(map(_known, asked)):
        print(f"usage: python3 -m tests.benchmarks NAME[:FAMILY,...]...   names: {', '.join(names()) or 'none yet'}")
        return 2
    for name in asked:
        figures = importlib.import_module(f"tests.benchmarks.{name.partition(':')[0]}").run(*_families(name))
        print(json.dumps({"benchmark": name, **figures}), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
