"""Measurements, each a module with `run()`, which returns what it measured by name."""
