"""All parts flat at 1 : 1, for machines that cut: a door to the DXF of a model that plugins can hold without its weight.

In: a model. Out: DXF text. What draws it is imported when it is asked for, so that importing this costs nothing.
"""

from __future__ import annotations

from compiler.values.model import Model


def flat_parts(model: Model) -> str:
    """One DXF with each kind of part once: outline, and a layer for each kind of working and depth, in the edition's units."""
    from compiler.draw.part_dxf import together

    return together(model)
