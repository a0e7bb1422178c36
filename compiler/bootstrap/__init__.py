"""Leaves the calling command in a complete environment, setting it up first when it is not.

In: the name of the module that was started and the pin files that it needs. Out: nothing; `enter`
returns once this process is the environment's own Python, and otherwise replaces the process.

Standard library only, and readable by Python 3.9. It knows nothing of plans. What is imported here
is kept to almost nothing, since every run of every command passes through it; the set-up proper is
imported when there is something to set up.
"""

from __future__ import annotations

import os
import sys

from compiler.bootstrap.stamp import environment_python, read_stamp, remove_stamp, wanted_stamp

# Type checkers take this for true; at run time the import, half the cost of this module, is spared.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NoReturn

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.realpath(__file__))))
ENVIRONMENT = os.path.join(ROOT, ".venv")

PUBLISHING = ("run",)
TESTING = ("run", "tests")

_HOPS = "KERFOLIO_SET_UP_HOPS"


def enter(module: str, pins: tuple[str, ...] = PUBLISHING) -> None:
    """Return when this process runs in the environment with `pins` installed; else go there.

    `module` is what was started with `-m`, so that it can be started again with the same arguments.
    A set-up that cannot be finished ends the process with one sentence and exit code 1.
    """
    hops = int(os.environ.pop(_HOPS, "0") or "0")
    try:
        wanted = wanted_stamp(ROOT, pins)
    except OSError as error:
        sys.exit(f"error: this copy of the project is not whole: {error.filename} cannot be read")
    inside = _same_folder(sys.prefix, ENVIRONMENT)
    stamp = read_stamp(ENVIRONMENT)
    complete = stamp is not None and stamp.covers(wanted)
    true = not inside or stamp is None or stamp.python == _own_version()
    if inside and complete and true:
        return
    if hops > 2:
        sys.exit(f"error: the set-up does not settle; remove {ENVIRONMENT} and run the same command again")
    if inside:
        if not true:
            # The Python beneath was replaced by another version, which sees none of the packages.
            remove_stamp(ENVIRONMENT)
        # The environment may have to be taken down, which a process inside it cannot do everywhere.
        _start(_base_python(), module, hops + 1)
    if not complete or not os.path.exists(environment_python(ENVIRONMENT)):
        from compiler.bootstrap.set_up import set_up

        code = set_up(ROOT, ENVIRONMENT, pins)
        if code:
            sys.exit(code)
    _start(environment_python(ENVIRONMENT), module, hops + 1)


def _own_version() -> str:
    return f"{sys.version_info[0]}.{sys.version_info[1]}"


def _base_python() -> str:
    return getattr(sys, "_base_executable", None) or sys.executable


def _same_folder(one: str, other: str) -> bool:
    try:
        return os.path.samefile(one, other)
    except OSError:
        return False


def _start(python: str, module: str, hops: int) -> NoReturn:
    """Replace this process by `python -m module` with the same arguments; never returns."""
    command = [python, "-m", module, *sys.argv[1:]]
    surroundings = {**os.environ, _HOPS: str(hops)}
    if sys.platform != "win32":
        os.execve(python, command, surroundings)
    import subprocess

    child = subprocess.Popen(command, env=surroundings)
    while True:
        try:
            sys.exit(child.wait())
        except KeyboardInterrupt:
            # The console has interrupted the child too; its own code is the one to hand on.
            continue


__all__ = ["ENVIRONMENT", "PUBLISHING", "ROOT", "TESTING", "enter"]
