"""From a design to a model: joints made, workings cut, letters given, hardware and finish counted."""

from compiler.stages.assemble.assembling import assemble

__all__ = ["assemble"]
