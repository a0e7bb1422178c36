"""The store gives back what was kept, and nothing else."""

import pickle
import zlib
from fractions import Fraction
from pathlib import Path

import numpy as np

from compiler.base.digests import digest
from compiler.base.measures import Length, inch
from compiler.store.account import Account
from compiler.store.memo import _HEAD, Store

KEY = digest("a key")
MADE_FROM = (("its ruler", "a digest"),)


def entry(store: Store) -> Path:
    """The one file of a store."""
    assert store.folder is not None
    (path,) = store.folder.glob("??/*")
    return path


def test_a_kept_value_comes_back_equal(tmp_path: Path) -> None:
    """Lengths stay exact."""
    assert Store(tmp_path).put(KEY, (inch("35 1/16"), Fraction(1, 3)))
    assert (inch("35 1/16"), Fraction(1, 3)) == Store(tmp_path).get(KEY)


def test_a_number_of_another_library_is_kept_as_the_number_it_equals(tmp_path: Path) -> None:
    """Geometry gives numpy's; the class is not let in, the number is."""
    assert Store(tmp_path).put(KEY, (np.float64(0.1), 2))
    found = Store(tmp_path).get(KEY)
    assert (0.1, 2) == found
    assert type(found[0]) is float


def test_a_value_is_made_once(tmp_path: Path) -> None:
    """The second run reuses it, and says so."""
    Account(Store(tmp_path), "a plan").keep("a length", MADE_FROM, lambda: inch(3))
    again = Account(Store(tmp_path), "a plan")
    assert inch(3) == again.keep("a length", MADE_FROM, lambda: inch(4))
    assert ["reused  a length"] == [str(entry) for entry in again.entries]


def test_one_flipped_bit_is_enough_to_make_it_again(tmp_path: Path) -> None:
    """A damaged file is never trusted, and goes."""
    store = Store(tmp_path)
    store.put(KEY, inch(3))
    path = entry(store)
    raw = bytearray(path.read_bytes())
    raw[-1] ^= 1
    path.write_bytes(raw)
    assert store.get(KEY) is None
    assert not path.exists()


def test_a_cut_off_file_is_made_again(tmp_path: Path) -> None:
    """As after a power cut."""
    store = Store(tmp_path)
    store.put(KEY, inch(3))
    path = entry(store)
    path.write_bytes(path.read_bytes()[:20])
    assert store.get(KEY) is None


class Runs:
    """Would run something when it is brought back."""

    def __reduce__(self) -> tuple[object, ...]:
        return (eval, ("1 + 1",))


def test_a_planted_file_runs_nothing(tmp_path: Path) -> None:
    """Even with a right checksum only our own classes come back."""
    import hashlib

    store = Store(tmp_path)
    store.put(KEY, inch(3))
    body = zlib.compress(pickle.dumps(Runs()))
    entry(store).write_bytes(_HEAD + hashlib.sha256(body).digest() + body)
    assert store.get(KEY) is None


def test_nothing_can_be_kept_in_a_folder_that_is_a_file(tmp_path: Path) -> None:
    """The value is still made."""
    (tmp_path / "file").write_text("")
    store = Store(tmp_path / "file")
    assert inch(3) == Account(store, "a plan").keep("a length", MADE_FROM, lambda: inch(3))
    assert not store.put(KEY, inch(3))


def test_pruning_takes_the_entries_used_longest_ago(tmp_path: Path) -> None:
    """The one just read stays."""
    import os

    store = Store(tmp_path)
    for number in range(3):
        store.put(digest(number), Length(Fraction(number)))
    assert store.folder is not None
    for age, path in enumerate(sorted(store.folder.glob("??/*"))):
        os.utime(path, ns=(age * 10**9, age * 10**9))
    store.get(digest(0))
    size = entry_size = next(iter(store.folder.glob("??/*"))).stat().st_size
    assert 2 == store.prune(most=size + entry_size // 2)
    assert Length(Fraction(0)) == store.get(digest(0))
