"""The recommended weight limit of one person's lift.

In: exact inches, degrees, multipliers. Out: pounds. Source: revised NIOSH lifting equation (ergonomics handbook page):
RWL = 51 lb x HM x VM x DM x AM x FM x CM, HM = 10/H, VM = 1 - 0.0075 |V - 30|, DM = 0.82 + 1.8/D, AM = 1 - 0.0032 A. Hands stand no
closer than 10 in, a lift under 10 in counts as 10; beyond H 25, V 70, D 70, A 135 nobody should lift (limit 0; from memory of the manual).
"""

from __future__ import annotations

from fractions import Fraction

from compiler.api import Length, inch

CONSTANT = Fraction(51)


def weight_limit(hands_out: Length, hands_up: Length, travel: Length, *, twist: Fraction = Fraction(0), coupling: Fraction = Fraction(1),
                 often: Fraction = Fraction(1)) -> Fraction:
    """Pounds. `hands_out` from the ankles, `hands_up` from the floor, `travel` of the lift, `twist` in degrees."""
    out, far = max(hands_out.inches, Fraction(10)), max(travel.inches, Fraction(10))
    up = hands_up.inches
    if out > 25 or not 0 <= up <= 70 or far > 70 or twist > 135:
        return Fraction(0)
    return (CONSTANT * (10 / out) * (1 - Fraction(75, 10000) * abs(up - 30)) * (Fraction(82, 100) + Fraction(18, 10) / far)
            * (1 - Fraction(32, 10000) * twist) * often * coupling)


def limit_for_piece(depth: Length) -> Fraction:
    """Pounds for a piece so deep, gripped low in its middle and lifted a step: hands half its depth and 8 in out (from memory of the
    manual), 28 in up, 10 in of travel, fair grip 0.95, now and then.
    """
    return weight_limit(min(depth / 2 + inch(8), inch(25)), inch(28), inch(10), coupling=Fraction(95, 100))
