"""Kerfolio: compiles a furniture design and its build notes into a paginated plan."""

__version__ = "0.1.0"
