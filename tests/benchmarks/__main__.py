"""`python3 -m tests.benchmarks NAME…`: each named benchmark's figures as one line of JSON.

A benchmark is a module in this folder with `run() -> dict[str, object]`.
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


def main() -> int:
    """Run the benchmarks that the command line names; 2 when one is not known, or none is named."""
    enter("tests.benchmarks", TESTING)
    asked = sys.argv[1:]
    known = names()
    if not asked or any(name not in known for name in asked):
        print(f"usage: python3 -m tests.benchmarks NAME...   names: {', '.join(known) or 'none yet'}")
        return 2
    for name in asked:
        figures = importlib.import_module(f"tests.benchmarks.{name}").run()
        print(json.dumps({"benchmark": name, **figures}), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
