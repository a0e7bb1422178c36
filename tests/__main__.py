"""`python3 -m tests`: lint, types and tests, set up first where it has to be.

All tests run on two processors where there are two, the tests of a file on one of them. Arguments go to pytest
(`python3 -m tests -k letters`), and then only pytest runs, in one process. The exit code is the first one that is not 0;
pytest's own closing line is the last thing printed.
"""

import os
import subprocess
import sys

from compiler.bootstrap import ROOT, TESTING, enter

_JUDGES = (
    ("ruff", "check", "."),
    ("mypy",),
)
_ALL = ("-q", "-n", str(min(os.cpu_count() or 1, 2)), "--dist", "loadfile")


def main() -> int:
    """Run the checks in the project's environment; the first failing exit code, or 0."""
    enter("tests", TESTING)
    asked = sys.argv[1:]
    codes = []
    if not asked:
        for name, *words in _JUDGES:
            print(f"{name}:", flush=True)
            codes.append(_run(name, *words))
    codes.append(_run("pytest", *(asked or _ALL)))
    return next((code for code in codes if code), 0)


def _run(module: str, *words: str) -> int:
    return subprocess.run([sys.executable, "-m", module, *words], cwd=ROOT, check=False).returncode


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(1)
