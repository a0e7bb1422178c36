"""Annotated plans with faults that only solids show."""
