"""What was derived from a model: products by their type, sections in no order yet, hazards, exports."""

from __future__ import annotations

from dataclasses import dataclass

from compiler.values.document import Leaves, Section
from compiler.values.findings import Hazard


@dataclass(frozen=True, slots=True, kw_only=True)
class Derived:
    """Everything that plugins worked out of one model.

    `products` hold one value per task that succeeded, in the order of making (many-makers give a tuple).
    `sections` pair each section with what it stands after. `exports` pair a suffix with a file's bytes, or with pages to be set in a theme.
    """

    products: tuple[object, ...] = ()
    sections: tuple[tuple[str, Section], ...] = ()
    hazards: tuple[Hazard, ...] = ()
    exports: tuple[tuple[str, bytes | Leaves], ...] = ()

    def get[Product](self, kind: type[Product]) -> Product | None:
        """The product of a type; None when no task made it."""
        return next((product for product in self.products if type(product) is kind), None)

    def all[Product](self, kind: type[Product]) -> tuple[Product, ...]:
        """All products of a type that has many makers."""
        found: list[Product] = []
        for product in self.products:
            if isinstance(product, tuple):
                found += [each for each in product if type(each) is kind]
        return tuple(found)
