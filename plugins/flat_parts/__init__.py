"""Parts for machines: every kind of part flat at 1 : 1 as DXF, beside the booklet."""

from compiler.api import Model, Plugin, export, flat_parts, hook


@export(".parts.dxf")
def parts_dxf(model: Model) -> str:
    """Outlines and workings on layers by kind and depth, in the edition's units."""
    return flat_parts(model)


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, exports=(parts_dxf,))
