"""An author's call, watched: a plugin's function runs, and whatever it does becomes a value and a report.

In: who the author is, what is called, and the call. Out: an `Outcome`: the value, or one error that names the
plugin, what was called and the author's own line. During the call files, sockets and programs are refused, print()
becomes a warning and a hang ends. This guards the sameness of results, not the machine: trust is given before
a plugin is imported. Nothing here knows what the call is for.
"""

from __future__ import annotations

import io
import os
import sys
import threading
import time
import traceback
import weakref
from collections.abc import Callable, Iterable, Iterator
from difflib import get_close_matches
from fractions import Fraction
from pathlib import Path
from types import FrameType
from typing import TextIO

from compiler.base.measures import Length
from compiler.base.report import Diagnostic, Outcome, Report, Severity, Spot
from compiler.base.showing import Style, Units, show
from compiler.values.contributions import Author
from compiler.values.shapes import WrongShape

LONGEST = 20.0
"""Seconds that one call may take; the compiler's own plugins may take longer, as their work is known to end."""
_LONGEST_BUNDLED = 300.0

_POLL = 0.1
_OWN = str(Path(__file__).parent)
_IMPORTING = ("<frozen importlib._bootstrap>", "<frozen importlib._bootstrap_external>")
_REFUSED = {
    "open": "opens a file", "os.listdir": "lists a folder", "os.scandir": "lists a folder", "os.walk": "lists a folder",
    "glob.glob": "lists a folder", "pathlib.Path.glob": "lists a folder", "os.chdir": "changes the folder",
    "os.remove": "removes a file", "os.rename": "renames a file", "os.mkdir": "makes a folder", "os.rmdir": "removes a folder",
    "os.link": "makes a link", "os.symlink": "makes a link", "os.truncate": "changes a file", "os.chmod": "changes a file",
    "os.putenv": "changes the environment", "os.unsetenv": "changes the environment",
    "shutil.copyfile": "copies a file", "shutil.move": "moves a file", "shutil.rmtree": "removes a folder",
    "tempfile.mkstemp": "makes a file", "tempfile.mkdtemp": "makes a folder", "sqlite3.connect": "opens a file",
    "socket.__new__": "opens a connection", "socket.connect": "opens a connection", "socket.bind": "opens a connection",
    "socket.getaddrinfo": "asks for an address", "urllib.Request": "opens a connection",
    "subprocess.Popen": "runs a program", "os.system": "runs a program", "os.exec": "runs a program",
    "os.fork": "runs a program", "os.posix_spawn": "runs a program", "os.spawn": "runs a program",
    "os.startfile": "runs a program", "webbrowser.open": "opens a browser", "ctypes.dlopen": "loads a library",
}


class Refused(Exception):
    """Raised inside an author's call at the line that does what a plugin must not do."""


class _TooLong(BaseException):
    """Raised in the calling thread when a call takes too long."""


class _Call:
    """One call under way. `refused` keeps what was refused, though the author may catch the exception."""

    def __init__(self, author: Author, longest: float) -> None:
        self.author = author
        self.thread = threading.get_ident()
        self.longest = longest
        self.until = time.monotonic() + longest
        self.refused: list[tuple[str, Spot | None]] = []
        self.printed = _Printed(author)
        self.overdue = False


class _Printed(io.TextIOBase):
    """Takes what an author prints, with the line that printed first."""

    def __init__(self, author: Author) -> None:
        self.author, self.text, self.at = author, "", None  # type: tuple[Author, str, Spot | None]
        super().__init__()

    def writable(self) -> bool:
        return True

    def write(self, text: str, /) -> int:
        if self.at is None:
            self.at = _line(self.author, list(_frames(sys._getframe(1)))[::-1])
        self.text += text[: max(0, 200 - len(self.text))]
        return len(text)


_here = threading.local()
_lock = threading.Lock()
_calls: dict[int, _Call] = {}
_started = False


def call[Value](author: Author, name: str, run: Callable[[], Value], *, what: str = "", at: Spot | None = None,
                units: Units = "inch", longest: float | None = None) -> Outcome[Value]:
    """What `run` gives. `name` is the function's (`board_feet`), `what` how messages begin (``Joint `spline` ``; by default the name).

    `at` is the plan's place, when the call is about one; errors then stand there and point at the author's line too.
    """
    what = what or f"`{name}`"
    _start()
    seconds = longest or (_LONGEST_BUNDLED if author.found == "bundled" else LONGEST)
    under_way = _Call(author, seconds)
    value: Value | None = None
    found: list[Diagnostic] = []

    def report(code: str, says: str, own: Spot | None, hint: str = "", severity: Severity = Severity.ERROR) -> None:
        also = (own,) if at is not None and own is not None else ()
        found.append(Diagnostic(code, says, at or own, hint, severity, also, author.plugin))

    outer = (getattr(_here, "call", None), sys.stdout, sys.stderr)
    try:
        try:
            _begin(under_way)
            value = run()
        finally:
            _end(under_way, outer)
    except Refused:
        pass
    except (Exception, SystemExit, _TooLong) as problem:
        own = _line(author, traceback.walk_tb(problem.__traceback__))
        if isinstance(problem, _TooLong):
            report("plugin-too-slow", f"{what} was stopped after {seconds:g} s.", own, "A loop that never ends?")
        elif isinstance(problem, SyntaxError) and _inside(author, problem.filename or ""):
            report("plugin-stopped", f"{what} can't be read: {problem.msg}.", Spot(_short(author, problem.filename or ""), line=problem.lineno))
        elif _refused_when_built(problem):
            report("plugin-stopped", f"{what}: {_says(problem, units)}.", own)
        else:
            text = str(problem) if not isinstance(problem, ImportError) else str(problem).partition(" (")[0]  # never a folder of this machine
            says = f"{type(problem).__name__}: {text}".rstrip(": .")
            report("plugin-stopped", f"{what} stopped: {says}.", own, cure(problem))
    finally:
        _end(under_way, outer)
    for says, own in under_way.refused:
        report("plugin-reaches-out", f"{what} {says}; a plugin gets all it needs as needs.", own)
    if under_way.printed.text.strip():
        first = under_way.printed.text.strip().splitlines()[0]
        report("plugin-prints", f"{what} prints “{first}”.", under_way.printed.at,
               "Yield a warning or advice from a check.", Severity.WARNING)
    failed = any(entry.severity is Severity.ERROR for entry in found)
    return Outcome(None if failed else value, Report(tuple(found)))


def author_line(author: Author, line: int, file: str = "") -> Spot | None:
    """The place of a definition in an author's file; `file` is its path, by default the plugin's `__init__`."""
    if not line:
        return None
    return Spot(_short(author, file or f"{author.folder}{os.sep}__init__.py"), line=line)


def _begin(call: _Call) -> None:
    with _lock:
        _calls[call.thread] = call
    sys.stdout = sys.stderr = call.printed
    _here.call = call


def _end(call: _Call, outer: tuple[_Call | None, TextIO, TextIO]) -> None:
    """Everything as it was before. It is done twice: a call may be stopped in the very moment of its end."""
    with _lock:
        if outer[0] is None:
            _calls.pop(call.thread, None)
        else:
            _calls[call.thread] = outer[0]
        if call.overdue:
            _raise_in(call.thread, None)
    _here.call, sys.stdout, sys.stderr = outer


def _start() -> None:
    global _started
    if not _started:
        _started = True
        sys.addaudithook(_audit)
        threading.Thread(target=_watch, name="plugin watch", daemon=True).start()


def _audit(event: str, details: tuple[object, ...]) -> None:
    says = _REFUSED.get(event)
    if says is None:
        return
    call: _Call | None = getattr(_here, "call", None)
    if call is None:
        return
    innermost = sys._getframe(1)
    for frame, _ in _frames(innermost):
        if frame.f_code.co_filename in _IMPORTING:
            return  # An import reads the module's file, and a module may read its own when it is imported.
        if _inside(call.author, frame.f_code.co_filename):
            break
        if frame.f_code.co_name == "__del__" or frame.f_code.co_filename == weakref.__file__:
            return  # Something of an earlier run is swept away just now: none of the author's doing.
    _here.call = None
    try:
        name = details[0] if details else ""
        shown = Path(name.decode() if isinstance(name, bytes) else str(name)).name if event != "socket.__new__" else ""
        text = f"{says}: {shown}" if shown else says
        if not any(text == earlier for earlier, _ in call.refused):
            call.refused.append((text, _line(call.author, list(_frames(innermost))[::-1])))
    finally:
        _here.call = call
    raise Refused(says)


def _watch() -> None:
    while True:
        time.sleep(_POLL)
        now = time.monotonic()
        with _lock:
            for call in _calls.values():
                if now > call.until:
                    call.overdue = True
                    call.until = now + 1.0
                    _raise_in(call.thread, _TooLong)


def _raise_in(thread: int, problem: type[BaseException] | None) -> None:
    """Raise in a thread at its next step, or take back what was to be raised."""
    import ctypes

    target = ctypes.py_object(problem) if problem is not None else None
    ctypes.pythonapi.PyThreadState_SetAsyncExc(ctypes.c_ulong(thread), target)


def _frames(frame: FrameType | None) -> Iterator[tuple[FrameType, int]]:
    while frame is not None:
        yield frame, frame.f_lineno
        frame = frame.f_back


def _line(author: Author, frames: Iterable[tuple[FrameType, int]]) -> Spot | None:
    """The author's own line among the frames, outermost first: the last one in the plugin's folder."""
    found: Spot | None = None
    for frame, line in frames:
        if _inside(author, frame.f_code.co_filename):
            found = Spot(_short(author, frame.f_code.co_filename), line=line)
    return found


def _inside(author: Author, file: str) -> bool:
    return bool(author.folder) and file.startswith(author.folder + os.sep)


def _short(author: Author, file: str) -> str:
    """A file of the author's as messages name it: never with a folder of this machine."""
    if not _inside(author, file):
        return file.replace(os.sep, "/").rpartition("/")[2]
    inside = file[len(author.folder) + 1 :].replace(os.sep, "/")
    return inside if author.found == "test" else f"plugins/{author.folder.replace(os.sep, '/').rpartition('/')[2]}/{inside}"


def _refused_when_built(problem: BaseException) -> bool:
    """True when a measure or a shape refused a value: its own message says all."""
    if isinstance(problem, WrongShape):
        return True
    last = None
    for frame, _ in traceback.walk_tb(problem.__traceback__):
        last = frame.f_code.co_filename
    built = tuple(f"{_OWN}/{name}" for name in ("base/measures.py", "values/shapes.py", "values/document.py"))
    return isinstance(problem, (TypeError, ValueError)) and last is not None and Path(last).as_posix().startswith(built)


def _says(problem: BaseException, units: Units) -> str:
    if not isinstance(problem, WrongShape):
        return str(problem)
    return problem.says.format(*(in_words(length, units) for length in problem.lengths))


def cure(problem: BaseException) -> str:
    """What a name that isn't there was meant to be: one of the plugin surface, or one like it."""
    surface: tuple[str, ...] = tuple(getattr(sys.modules.get("compiler.api"), "__all__", ()))
    if isinstance(problem, NameError) and problem.name:
        if problem.name in surface:
            return f"Import it: from compiler.api import {problem.name}."
        near = get_close_matches(problem.name, surface, 1, 0.75)
        return f"Did you mean {near[0]}?" if near else "Is its import missing?"
    if isinstance(problem, AttributeError) and problem.name and problem.obj is not None:
        near = get_close_matches(problem.name, [name for name in dir(problem.obj) if not name.startswith("_")], 1, 0.6)
        return f"Did you mean {near[0]}?" if near else ""
    if isinstance(problem, ImportError) and problem.name == "compiler.api" and problem.name_from:
        near = get_close_matches(problem.name_from, surface, 1, 0.6)
        return f"Did you mean {near[0]}?" if near else "DEVELOPERS.md lists what a plugin may import."
    return ""


def in_words(length: Length, units: Units) -> str:
    """A length as messages write it: `-1/4`, `16.5 mm`; finer than any rule, so that no fault hides in rounding."""
    style = Style(units, _FINE[units])
    text = show(length, style).text.replace("−", "-")
    return f"{text} mm" if units == "mm" else text


_FINE = {"inch": Fraction(1, 1024), "mm": Fraction(1, 100)}
