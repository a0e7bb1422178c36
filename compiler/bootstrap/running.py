"""Runs the programs of the set-up and shows how far it is.

In: commands. Out: their exit codes and lines; progress on standard error: a single line that is
rewritten on a terminal, one plain line a stage elsewhere. Standard library only.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
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

    def say(self, text: str) -> None:
        """Print one lasting line."""
        self._wipe()
        print(text, file=sys.stderr, flush=True)

    def begin(self, stage: str) -> None:
        """Name what starts now; `detail` is shown beside it until `end`."""
        self._stage = stage
        self._stage_started = time.monotonic()
        if self._terminal:
            self.detail("")
        else:
            self.say(f"  {stage} ...")

    def detail(self, text: str) -> None:
        """Show how far the stage is; on a terminal only."""
        if not self._terminal:
            return
        seconds = int(time.monotonic() - self._stage_started)
        width = shutil.get_terminal_size().columns - 1
        line = f"  {self._stage} ... {seconds} s  {text}"
        sys.stderr.write("\r\x1b[K" + line[:width])
        sys.stderr.flush()

    def end(self, result: str = "") -> None:
        """Close the stage with what came of it and how long it took."""
        seconds = time.monotonic() - self._stage_started
        self.say(f"  {self._stage}: {result or 'done'} ({seconds:.1f} s)")

    def seconds(self) -> float:
        """Seconds since the set-up began."""
        return time.monotonic() - self._started

    def _wipe(self) -> None:
        if self._terminal:
            sys.stderr.write("\r\x1b[K")


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


def python_surroundings() -> dict[str, str]:
    """This process's environment without what would lead a started Python or pip astray."""
    astray = {"PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX", "PIP_USER", "VIRTUAL_ENV"}
    return {name: value for name, value in os.environ.items() if name.upper() not in astray}
