"""Ctrl-C at any moment: one sentence, exit 1, no traceback; also while libraries are read in and with several processes at work."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from compiler.stopping import STOPPED
from tests.shop import ROOT

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals are sent another way there")
SLOW = """
import os, signal, time
print("reading", flush=True)
time.sleep(30)
"""
SCRIPT = """
import sys
from compiler.stopping import STOPPED, run_silently, stoppable
try:
    with stoppable():
        {work}
except KeyboardInterrupt:
    print(STOPPED, file=sys.stderr)
    sys.exit(1)
"""


@pytest.mark.parametrize(("work", "says"), [
    ("import slow", STOPPED), ("exec(open('slow.py').read())", STOPPED), ("run_silently(lambda: __import__('slow'))", ""),
    ("run_silently(lambda: exec(open('slow.py').read()))", ""),
], ids=["while importing", "at work", "importing for another process", "at work for another process"])
def test_it_ends_with_one_sentence(work: str, says: str, tmp_path: Path) -> None:
    """Or with none, where another process tells."""
    (tmp_path / "slow.py").write_text(SLOW)
    process = subprocess.Popen([sys.executable, "-c", SCRIPT.format(work=work)], cwd=tmp_path, text=True, stdout=subprocess.PIPE,
                               stderr=subprocess.PIPE, env={**os.environ, "PYTHONPATH": f"{ROOT}:{tmp_path}"})
    assert process.stdout is not None and process.stdout.readline() == "reading\n"
    time.sleep(0.05)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=30)
    assert (1, says) == (process.returncode, err.strip())
