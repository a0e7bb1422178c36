"""The stage that fills pages: what may change places is arranged so that sections end soon."""

from compiler.stages.fill.filling import fill

__all__ = ["fill"]
