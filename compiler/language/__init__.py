"""The spoken forms of a design: texts become frozen trees, trees become exact values over a lookup.

`evaluate(text, lookup, units, at)` and `lookup_in(design, scope)` are what later stages use; `parse_*` give the trees.
"""

from compiler.language.evaluation import Bare, Lookup, Reading, Value, Want, value_of, wanted
from compiler.language.excerpts import Position, position_of, show_diagnostic, show_report
from compiler.language.faults import Refused, Unsolved
from compiler.language.names import did_you_mean, house_spelling, listed, rule_broken
from compiler.language.parsing import (
    parse_copies,
    parse_edge,
    parse_extent,
    parse_place,
    parse_size,
    parse_sizes,
    parse_thing,
    parse_tilt,
)
from compiler.language.resizing import bare_length, say, true_length
from compiler.language.scopes import Names, diagnostic, evaluate, lookup_in, odd_numbers, unknown_name

__all__ = [
    "Bare", "Lookup", "Names", "Position", "Reading", "Refused", "Unsolved", "Value", "Want", "bare_length", "diagnostic", "did_you_mean",
    "evaluate", "house_spelling", "listed", "lookup_in", "odd_numbers", "parse_copies", "parse_edge", "parse_extent",
    "parse_place", "parse_size", "parse_sizes", "parse_thing", "parse_tilt", "position_of", "rule_broken", "say", "show_diagnostic",
    "show_report", "true_length",
    "unknown_name", "value_of", "wanted",
]
