"""The booklet: the pages every plan has, from the cover to the record of its issues."""

from compiler.api import Plugin, hook

from .back import record, terms_of_use, words_used
from .finish import finishing
from .front import at_a_glance, cover, how_to_read
from .steps import build


@hook
def plugin() -> Plugin:
    return Plugin(
        contract=1,
        sections=(cover, at_a_glance, how_to_read, build, finishing, words_used, terms_of_use, record),
    )
