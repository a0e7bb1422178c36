"""The shop's library: finds an entry by its key or by either edition's name, and reads it for one edition.

`find_stock`, `find_item`, `find_entry`, `names_of` for what a plan names; `handbook`, `woods` for whole lists.
"""

from compiler.library.entries import find_item, find_stock, kind_of, woods
from compiler.library.index import Entry, entries, find_entry, names_of
from compiler.library.work import handbook

__all__ = ["Entry", "entries", "find_entry", "find_item", "find_stock", "handbook", "kind_of", "names_of", "woods"]
