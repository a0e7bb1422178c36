"""Runs the programs of the set-up and shows how far it is.

In: commands. Out: their exit codes and lines; progress on standard error: a single line that is
rewritten on a terminal, one plain line a stage elsewhere. Standard library only.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable


class SetUpFailed(Exception):
    """The set-up cannot go on. The message is one sentence for the person at the keyboard.

    `line` is what to type, where one line helps; `log` holds what the failed program said.
    """

    def __init__(self, sentence: str, line: str = "", log: tuple[str, ...] = ()) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.line = line
        self.log = log


class Progress:
    """What the set-up is doing, on standard error."""

    def __init__(self) -> None:
        self._terminal = sys.stderr.isatty()
        self._started = time.monotonic()
        self._stage = ""
        self._stage_started = self._started
        self._detail = ""
        self._over = threading.Event()
        self._ticker: threading.Thread | None = None

    def say(self, text: str) -> None:
        """Print one lasting line; a stage that was begun and not ended is left at that."""
        self._over.set()
        if self._ticker is not None:
            self._ticker.join()
        self._write(text + "\n")

    def begin(self, stage: str) -> None:
        """Name what starts now; `detail` is shown beside it, and the seconds run, until `end`."""
        self._stage = stage
        self._stage_started = time.monotonic()
        self._detail = ""
        if not self._terminal:
            self.say(f"  {stage} ...")
            return
        self._over = threading.Event()
        self._ticker = threading.Thread(target=self._tick, args=(self._over,), daemon=True)
        self._ticker.start()

    def detail(self, text: str) -> None:
        """Show how far the stage is; on a terminal only."""
        self._detail = text

    def end(self) -> None:
        """Close the stage with how long it took."""
        seconds = time.monotonic() - self._stage_started
        self.say(f"  {self._stage}: done ({seconds:.1f} s)")

    def seconds(self) -> float:
        """Seconds since the set-up began."""
        return time.monotonic() - self._started

    def _tick(self, over: threading.Event) -> None:
        while not over.is_set():
            seconds = int(time.monotonic() - self._stage_started)
            line = f"  {self._stage} ... {seconds} s  {self._detail}"
            self._write(line[: shutil.get_terminal_size().columns - 1])
            over.wait(0.2)

    def _write(self, text: str) -> None:
        if self._terminal:
            # Blanks, since not every console knows the sequence that erases a line.
            sys.stderr.write("\r" + " " * (shutil.get_terminal_size().columns - 1) + "\r")
        sys.stderr.write(text)
        sys.stderr.flush()


def run(
    command: list[str],
    surroundings: dict[str, str] | None = None,
    on_line: Callable[[str], None] | None = None,
) -> tuple[int, tuple[str, ...]]:
    """Run `command` to its end: its exit code (127 when it cannot be started) and its lines.

    Both output streams are read together and each line is shown to `on_line` as it comes.
    An interrupt ends the command first.
    """
    lines: list[str] = []
    try:
        child = subprocess.Popen(
            command,
            env=surroundings,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        )
    except OSError as error:
        return 127, (f"{command[0]}: {error.strerror or error}",)
    try:
        if child.stdout is not None:
            for line in child.stdout:
                lines.append(line.rstrip())
                if on_line is not None:
                    on_line(lines[-1])
        return child.wait(), tuple(lines)
    except BaseException:
        child.terminate()
        child.wait()
        raise
    finally:
        if child.stdout is not None:
            child.stdout.close()


def python_surroundings() -> dict[str, str]:
    """This process's environment without what would lead a started Python or pip astray."""
    astray = {"PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX", "PIP_USER", "VIRTUAL_ENV"}
    return {name: value for name, value in os.environ.items() if name.upper() not in astray}
