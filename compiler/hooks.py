"""The contract with plugins: one hook. This file holds it and nothing else."""

from __future__ import annotations

import pluggy

from compiler.values.contributions import Plugin

hook = pluggy.HookimplMarker("kerfolio")
"""`@hook` marks a plugin's own `plugin()` function."""

_contract = pluggy.HookspecMarker("kerfolio")


@_contract
def plugin() -> Plugin:
    """Everything that the plugin brings. Called once, at load, with no arguments; it must not open or read anything."""
    raise NotImplementedError
