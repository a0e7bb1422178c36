"""Whether plugins make the same on another machine: two processes with other hash seeds, time zones, languages and folders.

In: a plan's text, plugins. Out: sentences, none when all is the same. The processes get the text and the plugins' folders and give digests.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from types import ModuleType

from compiler.base.digests import digest
from compiler.base.showing import Units
from compiler.plug.importing import module_in
from compiler.testing.plans import plan

HERE = Path(__file__).resolve().parents[2]
PLACES = (
    {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "C"},
    {"PYTHONHASHSEED": "2", "TZ": "Pacific/Pago_Pago", "LC_ALL": "C.UTF-8"},
)
"""UTC+14 and UTC-11: nowhere is the date the same in both, but for an hour or none."""


def differences(text: str, *plugins: ModuleType) -> tuple[str, ...]:
    """What differs between two processes: products, sections and exports by name. Each takes as long as two plans.

    Raises AssertionError with what is wrong when the plan has errors.
    """
    order = {"text": text, "plugins": [_named(plugin) for plugin in plugins]}
    told = [_ask(order, place) for place in PLACES]
    names = dict.fromkeys(name for each in told for name in each)
    return tuple(f"{name} differs from machine to machine" for name in names if told[0].get(name) != told[1].get(name))


def _named(plugin: ModuleType) -> str:
    """A bundled plugin by its name, any other by its folder."""
    if plugin.__name__.startswith("plugins."):
        return plugin.__name__
    assert plugin.__file__ is not None, f"{plugin.__name__} stands in no folder"
    return str(Path(plugin.__file__).parent)


def _ask(order: Mapping[str, object], place: dict[str, str]) -> dict[str, str]:
    with tempfile.TemporaryDirectory() as elsewhere:
        path = os.pathsep.join((str(HERE), *filter(None, sys.path)))
        run = subprocess.run([sys.executable, "-c", "from compiler.testing import elsewhere; elsewhere.tell()"], input=json.dumps(order), cwd=elsewhere, text=True,
                             env={**os.environ, **place, "PYTHONPATH": path}, capture_output=True, encoding="utf-8", check=False)
    assert run.returncode == 0, run.stderr
    found: dict[str, str] = json.loads(run.stdout.splitlines()[-1])
    return found


def tell() -> None:
    """What such a process does: an order from standard input, digests to standard output."""
    order = json.loads(sys.stdin.read())
    mine = [import_module(name) if name.startswith("plugins.") else module_in(Path(name)) for name in order["plugins"]]
    given = [plugin for plugin in mine if not plugin.__name__.startswith("plugins.")]
    found: dict[str, str] = {}
    editions: tuple[Units, ...] = ("inch", "mm")
    for units in editions:
        outcome = plan(order["text"], *given, units=units).outcome
        derived = outcome.value
        if derived is None or not outcome.report.ok:
            raise SystemExit("; ".join(fault.says for fault in outcome.report.errors))
        things = [(type(product).__name__, product) for product in derived.products]
        things += [(f"section '{section.name}'", section) for _, section in derived.sections]
        things += [(f"export {suffix}", raw) for suffix, raw in derived.exports]
        found |= {f"in the {units} edition: {name}": digest(thing) for name, thing in things}
    print(json.dumps(found))
