"""How much of a record a page showed: a signature or release covers that, and nothing that came later.

An extent is the record's first entries in the order of the ledger: how many, and the Merkle root (RFC 9162)
over their leaf hashes. It stays short however long the record grows, and cannot be made to fit another one.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from qrecords.proof import merkle
from qrecords.steps.case import Case

DIGITS = 10
WRITTEN = re.compile(rf"^([0-9]{{1,{DIGITS}}}):([0-9a-f]{{64}})$")


@dataclass(frozen=True)
class Extent:
    """So many entries of a record, with the root over their leaf hashes in hex."""

    entries: int
    root: str

    def __str__(self) -> str:
        return f"{self.entries}:{self.root}"

    def document(self) -> dict[str, int | str]:
        return {"entries": self.entries, "root": self.root}


def extent_of(leaves: Iterable[str]) -> Extent:
    """The extent of these leaf hashes (hex) in the order of the ledger."""
    hashes = [bytes.fromhex(leaf) for leaf in leaves]
    return Extent(len(hashes), merkle.root(hashes).hex())


NOTHING = extent_of(())


def shown_now(case: Case) -> Extent:
    """The whole record as it stands."""
    return extent_of(case.leaves.values())


def read_extent(text: str) -> Extent:
    """What a form carried; nothing at all if it is not the text of an extent."""
    found = WRITTEN.fullmatch(text)
    return Extent(int(found[1]), found[2]) if found else NOTHING


def not_shown(case: Case, shown: Extent) -> list[str]:
    """The entries of the record, by id, that lie outside: all of them where the root is of another record."""
    entries, leaves = list(case.leaves), list(case.leaves.values())
    covered = extent_of(leaves[: shown.entries]) == shown
    return entries[shown.entries :] if covered else entries
