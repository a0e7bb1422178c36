"""Makes the environment: a Python, the system's libraries, the pinned packages, the stamp.

In: the project folder and the names of pin files. Out: exit code 0 with a complete environment, or 1
after one sentence on standard error. An environment whose set-up was interrupted is taken down and
made again; a complete one that lacks newer pins is brought up to date in place. Standard library only.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from compiler.bootstrap import packages, pythons, systems
from compiler.bootstrap.pythons import Interpreter
from compiler.bootstrap.running import Progress, SetUpFailed, python_surroundings, run
from compiler.bootstrap.stamp import (
    Stamp,
    environment_python,
    read_stamp,
    remove_stamp,
    wanted_stamp,
    write_stamp,
)

_LOG = "set-up.log"


def set_up(root: str, environment: str, pins: tuple[str, ...]) -> int:
    """Complete `environment` for `pins`; the exit code, 0 or 1, said on standard error."""
    progress = Progress()
    try:
        with _alone(root, progress):
            # A set-up that was waited for may have done the work.
            stamp = read_stamp(environment)
            kept = _kept_python(environment, stamp)
            if stamp is None or kept is None or not stamp.covers(wanted_stamp(root, pins)):
                _make(root, environment, pins, stamp, kept, progress)
        return 0
    except SetUpFailed as failure:
        progress.say(f"error: {failure.sentence}")
        if failure.line:
            progress.say(f"    {failure.line}")
        if failure.log:
            progress.say(f"  (all that was said: {_keep_log(root, failure.log)})")
    except KeyboardInterrupt:
        progress.say("Set-up stopped; the next run starts it again.")
    except OSError as error:
        progress.say(f"error: the set-up could not write {error.filename or root}: {error.strerror or error}")
    return 1


def _make(
    root: str,
    environment: str,
    pins: tuple[str, ...],
    stamp: Stamp | None,
    kept: Interpreter | None,
    progress: Progress,
) -> None:
    """Set up; `kept` is the Python of an environment that only lacks newer pins, as `stamp` tells."""
    if kept is None:
        progress.say("Setting up in this folder; this happens once.")
    else:
        progress.say("Bringing the set-up of this folder up to date.")
    interpreter = _libraries(kept or _python(root, progress), progress)
    remove_stamp(environment)
    if kept is None:
        _new_environment(interpreter, environment, progress)
    pip = packages.unpack_pip(interpreter, environment)
    try:
        packages.install_pins(pip, root, pins, progress)
    except SetUpFailed as failure:
        if kept is not None and stamp is not None and not packages.changed_anything(failure.log):
            write_stamp(environment, stamp)
        raise
    if kept is None:
        packages.install_project(pip, root)
    _try_pango(environment_python(environment))
    digests = dict(stamp.digests) if kept is not None and stamp is not None else {}
    digests.update(wanted_stamp(root, pins).digests)
    write_stamp(environment, Stamp(environment, interpreter.short(), digests))
    if os.path.exists(os.path.join(root, _LOG)):
        os.remove(os.path.join(root, _LOG))
    progress.say(f"Ready in {progress.seconds():.0f} s.")


def _new_environment(interpreter: Interpreter, environment: str, progress: Progress) -> None:
    if os.path.lexists(environment):
        progress.say("  making .venv again, since the set-up of the one here was not finished")
        shutil.rmtree(environment)
    command = [interpreter.path, "-I", "-m", "venv", "--without-pip", environment]
    code, lines = run(command, python_surroundings())
    if code:
        raise SetUpFailed(f"{interpreter.named()} could not make the environment.", log=lines)


def _kept_python(environment: str, stamp: Stamp | None) -> Interpreter | None:
    """The Python of an environment that was completed here and still runs, to be brought up to date."""
    if stamp is None or stamp.folder != environment:
        return None
    interpreter = pythons.ask([environment_python(environment)])
    if interpreter is None or not interpreter.suits() or interpreter.short() != stamp.python:
        return None
    return interpreter


def _python(root: str, progress: Progress) -> Interpreter:
    """A Python that suits: this one, another on this machine, or one that uv fetches."""
    interpreter = pythons.find(root)
    if interpreter is None:
        interpreter = _fetched_python(root, progress)
    if interpreter.musl:
        raise SetUpFailed(
            "This system's C library is musl, for which the solids kernel has no build; use a system with glibc."
        )
    progress.say(f"  using {interpreter.named()}")
    return interpreter


def _fetched_python(root: str, progress: Progress) -> Interpreter:
    own = pythons.ask([sys.executable])
    found = f"Python 3.12, 3.13 or 3.14 is needed; this is {'.'.join(map(str, sys.version_info[:3]))}"
    needs = (systems.PYTHON,)
    if own is None:
        raise systems.lacking(f"{found}, and it lacks what is needed to fetch one.", needs)
    if not own.pip:
        systems.get((systems.PIP,), progress)
        own = pythons.ask([sys.executable]) or own
    progress.begin("fetching a newer Python")
    folder = os.path.join(root, ".python")
    tools = os.path.join(folder, "tools")
    code, lines = packages.install_uv(own, tools, root, progress)
    if code == 0:
        code, lines = run([*packages.python_fetcher(tools), folder], on_line=progress.detail)
    fetched = None if code else pythons.find(root)
    shutil.rmtree(tools if fetched else folder, ignore_errors=True)
    if fetched is None:
        fault = packages.fault(lines) if code else "what was fetched does not run here"
        raise systems.lacking(f"{found}, and none could be fetched: {fault}.", needs, lines)
    progress.end()
    return fetched


def _libraries(interpreter: Interpreter, progress: Progress) -> Interpreter:
    """The interpreter, with Pango and a pip at hand."""
    needs: tuple[str, ...] = (systems.PANGO,) if systems.lacks_pango() else ()
    if not interpreter.pip:
        needs += (systems.PIP,)
    if needs:
        systems.get(needs, progress)
    if not interpreter.pip:
        interpreter = pythons.ask([interpreter.path]) or interpreter
        if not interpreter.pip:
            raise systems.lacking(f"{interpreter.named()} comes without pip.", (systems.PIP,))
    return interpreter


def _try_pango(python: str) -> None:
    code, lines = run([python, "-I", "-c", "import weasyprint.text.ffi"], python_surroundings())
    if code:
        raise systems.lacking("The PDF renderer could not load Pango.", (systems.PANGO,), lines)


def _keep_log(root: str, lines: tuple[str, ...]) -> str:
    path = os.path.join(root, _LOG)
    try:
        with open(path, "w", encoding="utf-8") as file:
            file.write("\n".join(lines) + "\n")
    except OSError:
        return "\n" + "\n".join(lines[-5:])
    return path


@contextmanager
def _alone(root: str, progress: Progress) -> Iterator[None]:
    """Hold the folder's set-up lock; a second set-up waits, and finds the work done."""
    with open(os.path.join(root, ".venv.lock"), "a", encoding="utf-8") as file:
        if sys.platform == "win32":
            import msvcrt

            while True:
                try:
                    msvcrt.locking(file.fileno(), msvcrt.LK_LOCK, 1)
                    break
                except OSError:
                    progress.say("Another set-up of this folder is running; waiting for it.")
        else:
            import fcntl

            try:
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError:
                progress.say("Another set-up of this folder is running; waiting for it.")
                fcntl.flock(file, fcntl.LOCK_EX)
        yield
