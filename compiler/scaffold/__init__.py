"""A new plugin: small, working, with its own test. `new_plugin` writes one into a plan's or the shop's folder, or as a package."""

from compiler.scaffold.writing import KINDS, Made, new_plugin, told

__all__ = ["KINDS", "Made", "new_plugin", "told"]
