"""Document + Theme → Pages: blocks become markup, one template per block kind.

In: a numbered, resolved Document. Out: Outcome[Pages]. Jinja lives here and nowhere else. This stage must not know
the layout: where a page's number belongs it leaves a mark, where a drawing belongs an image by name.
"""

from compiler.stages.dress.dressing import dress
from compiler.stages.dress.leaves import leaves_in
from compiler.stages.dress.theme import load_theme

__all__ = ["dress", "leaves_in", "load_theme"]
