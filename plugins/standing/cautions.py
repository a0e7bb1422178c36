"""What is printed for the hazards that this plugin finds. Signal words as ANSI Z535.6 defines them."""

from __future__ import annotations

from compiler.api import SafetyRule

RULES = (
    SafetyRule(
        word="WARNING", hazard="clothing storage",
        says="A chest of this size can tip when drawers or doors stand open and crush a child. Fix it to the wall at once. If clothes go into it and you"
             " build it for sale, a federal rule on its stability applies: find out before you sell.",
        source="16 CFR 1261 and ASTM F2057-23, scope by height, weight and volume (SAF-09)"),
    SafetyRule(
        word="WARNING", hazard="tips easily",
        says="Standing free, this piece tips at a small push and can injure whoever it falls on. Fix it to the wall or to the floor before it is used.",
        source="statics of a standing box (STR-34); the limit of 10 degrees is from memory of product standards"),
)
