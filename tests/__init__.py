"""Checks of Kerfolio: `python3 -m tests` runs them all."""
