"""Sections → Document: one walk numbers everything, a second resolves every reference.

In: sections in their order, the Model (for letters), what the pages' heads and feet need. Out: a Document in which no
number is 0 and no reference is empty. Sections, figures (photographs among them), tables, steps and cautions have one
continuous scheme each. This stage must not know templates, pages or the plugins that made a block.
"""

from compiler.stages.arrange.arranging import Frontispiece, arrange, order

__all__ = ["Frontispiece", "arrange", "order"]
