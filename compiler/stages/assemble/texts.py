"""The texts of one joint of a design, and what stands around them.

In: a wish, the design's items and scopes. Out: what the maker wrote, by key. Nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from compiler.base.showing import Units
from compiler.stages.assemble.items import Items
from compiler.values.design import Design, JointWish, Known, Written
from compiler.values.model import Axis


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """The texts of one joint of a design, and what stands around them.

    `along` is the plan's axis that the contact runs along; `shop` holds `shop.fit`, `shop.kerf`.
    """

    items: Items
    wish: JointWish
    shop: Mapping[str, Known]
    along: Axis

    @property
    def design(self) -> Design:
        """The design."""
        return self.items.design

    @property
    def edition(self) -> Units:
        """The unit of the edition at hand."""
        return self.design.edition.units

    @property
    def units(self) -> Units:
        """The unit of bare numbers where the joint is written."""
        return self.items.units(self.wish.scope)

    def written(self, key: str) -> Written | None:
        """What the maker wrote under a key."""
        return dict(self.wish.parameters).get(key)
