"""Statics of a box that stands, and the scope of the rule on clothing storage.

In: exact lengths in inches, volumes, kilograms. Out: tangent of the tip angle, pounds of pull, a yes or no. Sources: moments about the front edge of
the footprint (statics); 16 CFR 1261 and ASTM F2057-23 as the safety commission's guidance tells them: free-standing, drawers or hinged
doors, at least 27 in high, 30 lb and 3.2 cubic feet enclosed; a drawer's volume is (height less 1/8 in) x inside width x depth, what doors
close off counts by half. A piece is told from others by its measure, not by its name: the scope leaves out bookcases, desks and built-ins.
"""

from __future__ import annotations

from fractions import Fraction

from compiler.api import Length, Volume, inch

HIGH = inch(27)
HEAVY = Fraction(136, 10)
"""Kilograms: 30 lb as the guidance converts it."""
LARGE = inch(12) * inch(12) * inch(12) * Fraction(32, 10)


def tip_slope(behind_front_foot: Length, centre_up: Length) -> Fraction:
    """Tangent of the angle at which it tips forward: the centre of gravity stands over the front edge then."""
    return behind_front_foot / centre_up


def pull_that_tips(kilograms: Fraction, behind_front_foot: Length, pulled_at: Length) -> Fraction:
    """Kilograms of outward pull at a height that just lift its back: moments about the front edge."""
    return kilograms * (behind_front_foot / pulled_at)


def drawer_volume(height: Length, width: Length, depth: Length) -> Volume:
    """Inside a drawer, as the rule counts it."""
    return (height - inch("1/8")) * width * depth


def in_scope(height: Length, kilograms: Fraction, enclosed: Volume) -> bool:
    """All three at once."""
    return height >= HIGH and kilograms >= HEAVY and enclosed >= LARGE
