"""Rules that other plugins bring: printed when what they ask for is there, and only then."""

from __future__ import annotations

import pytest

from compiler.api import Cautions, FinishUse, Hazard, Notes, SafetyRule, inch
from plugins.safety_notes.cautions import safety_notes
from tests.plugins.small_models import LIBRARY, OAK_6_4, VARNISH, model, part, square_feet

MODEL = model(part("top", OAK_6_4, inch(38), inch(13)),
              finishes=(FinishUse(kind="varnish", coats=1, parts=("top",), area=square_feet(3), item=VARNISH),))


def printed(*hazards: str, **asks: str) -> Cautions:
    rule = SafetyRule(word="WARNING", says="Mind it.", source="practice", **asks)
    return safety_notes(MODEL, Notes(title="A test"), LIBRARY, (rule,), tuple(Hazard(name) for name in hazards))


@pytest.mark.parametrize("asks", [{"stock": "white oak 6/4"}, {"stock": "white oak"}, {"finish": "varnish"}])
def test_a_rule_of_a_wood_or_a_finish_is_printed_at_the_front(asks: dict[str, str]) -> None:
    """By the stock's key, the wood's name, the finish."""
    assert ["WARNING"] == [signal.word for signal in printed(**asks).general]


def test_a_rule_of_a_hazard_is_printed_where_the_piece_is_placed() -> None:
    """When a check found the hazard; else not at all."""
    assert 1 == len(printed("tip-over", hazard="tip-over").placing)
    nothing = printed("heavy", hazard="tip-over")
    assert ((), ()) == (nothing.general, nothing.placing)


def test_a_rule_that_nothing_asks_for_is_not_printed() -> None:
    """Another wood, another finish."""
    assert ((), ()) == (printed(stock="black walnut").general, printed(finish="oil").general)
