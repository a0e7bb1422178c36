"""List files: all lists as a spreadsheet, and as plain tables of comma-separated values, beside the PDF."""

from compiler.api import Plugin, hook

from .files import cut_list_values, hardware_values, material_values, spreadsheet, weight_values


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, uses=("bits_and_cutters", "edge_banding", "loads_and_movement", "part_weights"),
                  exports=(spreadsheet, cut_list_values, hardware_values, material_values, weight_values))
