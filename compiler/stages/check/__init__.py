"""A draft becomes a design: names resolved, lengths exact, copies expanded, components unfolded, for one edition.

    read(folder) → Source; parse(source) → Draft; editions_of(draft) → which editions the plan names;
    check(draft, library, edition) → Design; shop_of(draft, library, edition) → Shop.

Every fault is reported in one run; any error means no design.
"""

from compiler.stages.check.checking import check, editions_of
from compiler.stages.check.settings import shop_of

__all__ = ["check", "editions_of", "shop_of"]
