"""Names that hang together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


def connected(names: Sequence[str], links: Iterable[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """Groups of names that pairs of them join, in the order of the names; pairs with a name that is not among them are passed over."""
    group_of = {name: name for name in names}

    def root(name: str) -> str:
        while group_of[name] != name:
            group_of[name] = group_of[group_of[name]]
            name = group_of[name]
        return name

    for one, two in links:
        if one in group_of and two in group_of:
            group_of[root(two)] = root(one)
    groups: dict[str, list[str]] = {}
    for name in names:
        groups.setdefault(root(name), []).append(name)
    return [tuple(group) for group in groups.values()]
