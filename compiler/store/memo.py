"""Kept values: a file each, under the digest of all that made them.

In: a key (hex text) and a frozen value. Out: the same value later, or None: when it was never kept, was damaged, or can't be
read. A damaged file is removed and the value made anew; nothing found here is ever trusted without its checksum, and
only classes of the compiler and its plugins are brought back. Failing to keep something (a full disk, a read-only
folder) is no fault: it is made again next time.
"""

from __future__ import annotations

import contextlib
import copyreg
import dataclasses
import hashlib
import io
import os
import pickle
import tempfile
import zlib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

VERSION = 1
"""The scheme of keys and files. Another version has a folder of its own: neither harms the other."""

MOST_BYTES = 1_000_000_000
"""Beyond this the entries that were used longest ago go. A plan takes about one megabyte."""

_HEAD = b"kerfolio kept value 2\n"
_PLAIN = {"builtins": {"frozenset", "complex", "bytearray", "range", "slice", "float"}, "fractions": {"Fraction"}}


class _Reader(pickle.Unpickler):
    """Brings back values of our own kinds and nothing else, so that a planted file can't run anything."""

    def __init__(self, file: io.BytesIO, own: Callable[[str], bool]) -> None:
        super().__init__(file)
        self.own = own

    def find_class(self, module: str, name: str) -> Any:
        if name in _PLAIN.get(module, ()) or self.own(module):
            found = super().find_class(module, name)
            if isinstance(found, type):
                return found
        raise pickle.UnpicklingError(f"{module}.{name} does not belong in the store")


class _Writer(pickle.Pickler):
    """Keeps a number of another library as the plain number that it equals: its class would not be let in again."""

    def reducer_override(self, value: Any) -> Any:
        if isinstance(value, float) and type(value) is not float:
            return float, (float(value),)
        kind: Any = type(value)
        names = _fields_of(kind)
        return (copyreg.__newobj__, (kind,), [getattr(value, name) for name in names]) if names else NotImplemented  # type: ignore[attr-defined]


@cache
def _fields_of(kind: type) -> tuple[str, ...]:
    """The fields of a frozen dataclass with slots, which asks for them again for every value that is kept; of other kinds none."""
    own = getattr(kind, "__getstate__", None) is dataclasses._dataclass_getstate  # type: ignore[attr-defined]
    return tuple(item.name for item in dataclasses.fields(kind)) if own else ()


def _beside(path: Path) -> tuple[int, str]:
    """A new file in the folder of another, which is made where it is missing: most values find theirs there."""
    try:
        return tempfile.mkstemp(dir=path.parent, prefix=".part-")
    except FileNotFoundError:
        path.parent.mkdir(parents=True, exist_ok=True)
        return tempfile.mkstemp(dir=path.parent, prefix=".part-")


class Store:
    """A folder of kept values. `own` tells which modules' classes may come back."""

    def __init__(self, folder: Path | None, own: Callable[[str], bool] | None = None) -> None:
        self.folder = folder / f"v{VERSION}" if folder is not None else None
        self.own = own or (lambda module: module.startswith(("compiler.", "plugins.")))

    def get(self, key: str) -> Any | None:
        """The value kept under the key."""
        path = self._path(key)
        if path is None:
            return None
        try:
            raw = path.read_bytes()
        except OSError:
            return None
        size = len(_HEAD) + 32
        if raw[: len(_HEAD)] != _HEAD or hashlib.sha256(raw[size:]).digest() != raw[len(_HEAD) : size]:
            self._drop(path)
            return None
        try:
            value = _Reader(io.BytesIO(zlib.decompress(raw[size:])), self.own).load()
        except Exception:  # whatever is wrong with an old file, the answer is to make the value again
            self._drop(path)
            return None
        with contextlib.suppress(OSError):
            os.utime(path)
        return value

    def put(self, key: str, value: object) -> bool:
        """Keep the value; True when it was kept. Two processes may keep the same one: both write it whole."""
        path = self._path(key)
        if path is None:
            return False
        try:
            written = io.BytesIO()
            _Writer(written, protocol=5).dump(value)
            body = zlib.compress(written.getvalue(), 1)
            handle, name = _beside(path)
            try:
                with os.fdopen(handle, "wb") as file:
                    file.write(_HEAD + hashlib.sha256(body).digest() + body)
                os.replace(name, path)
            except BaseException:
                self._drop(Path(name))
                raise
        except (OSError, pickle.PicklingError, TypeError, AttributeError):
            return False
        return True

    def prune(self, most: int = MOST_BYTES) -> int:
        """Remove the entries used longest ago until the rest fits; gives the number removed."""
        if self.folder is None:
            return 0
        entries = []
        for path in self.folder.glob("??/*"):
            with contextlib.suppress(OSError):
                state = path.stat()
                entries.append((state.st_mtime_ns, state.st_size, path))
        total = sum(size for _, size, _ in entries)
        removed = 0
        for _, size, path in sorted(entries, key=lambda entry: (entry[0], str(entry[2]))):
            if total <= most:
                break
            self._drop(path)
            total -= size
            removed += 1
        return removed

    def _path(self, key: str) -> Path | None:
        return None if self.folder is None else self.folder / key[:2] / key[2:]

    def _drop(self, path: Path) -> None:
        with contextlib.suppress(OSError):
            path.unlink()
