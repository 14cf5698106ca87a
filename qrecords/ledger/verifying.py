"""Whether the log is what it was when each entry was signed.

Starts from the payload bytes and believes nothing else: bytes → leaf → tree, canonical form, signature, the
columns beside the payload, the gap-free order, the stored nodes, the guards. What it cannot see is a log cut
short or rewritten by somebody who holds the key file as well; that needs a copy of a checkpoint elsewhere.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from django.db.backends.base.base import BaseDatabaseWrapper

from qrecords.ledger import keys, stored, triggers
from qrecords.ledger.models import PAYLOAD_LIMIT
from qrecords.ledger.opening import KIND as OPENING
from qrecords.proof.canonical import parse_canonical
from qrecords.proof.errors import CanonicalError
from qrecords.proof.merkle import HASH_LENGTH, Growth, leaf_hash


@dataclass(frozen=True)
class Difference:
    """What does not hold, in plain words, and at which place of the log (None: not at one place)."""

    index: int | None
    what: str

    def __str__(self) -> str:
        return self.what if self.index is None else f"entry {self.index}: {self.what}"


@dataclass
class Report:
    """What a verification found. `untold` is what could not be judged at all."""

    size: int = 0
    root: bytes = b""
    differences: list[Difference] = field(default_factory=list)
    untold: list[str] = field(default_factory=list)


def verify(connection: BaseDatabaseWrapper, public_key: bytes | None, signatures: bool = True) -> Report:
    """Read the whole log and say what differs. `public_key` is what the reader trusts, never a stored one."""
    report = Report()
    if public_key is None and signatures:
        report.untold.append("there is no key to check the signatures against")
    with stored.lenient(connection):
        _Reading(connection, public_key if signatures else None, report).whole()
        for entry_id in stored.entries_without_leaf(connection):
            report.differences.append(Difference(None, f"entry {entry_id} has no place in the log"))
    for difference in triggers.differences(connection):
        report.differences.append(Difference(None, f"trigger {difference}"))
    return report


def entry_differences(row: stored.Row, public_key: bytes | None) -> list[str]:
    """What does not hold of one entry by itself, without the tree: payload, columns, leaf, signature."""
    found = list(_payload_differences(row, row.index, public_key))
    computed = leaf_hash(row.payload)
    if row.hash != computed:
        found.append(f"payload and leaf of {row.id} do not belong together")
    if public_key is not None and not keys.is_signature(row.signature, computed, public_key):
        found.append(f"the signature of {row.id} is not by this installation's key")
    return found


class _Reading:
    """One pass over the leaves, in order."""

    def __init__(self, connection: BaseDatabaseWrapper, public_key: bytes | None, report: Report) -> None:
        self._connection = connection
        self._public_key = public_key
        self._report = report
        self._tree = Growth()
        self._nodes_checked = 0
        self._after: object = None
        self._wrong_nodes: list[tuple[int, int]] = []

    def whole(self) -> None:
        head = self._head()
        while self._pages() or self._tree.size != head:
            # Somebody may have appended between the two looks; only a standstill is a difference.
            now = self._head()
            if now == head and not self._pages():
                break
            head = now
        if self._tree.size != head:
            self._differs(None, f"the head says {head} entries, the log holds {self._tree.size}")
        self._check_nodes_as_a_whole()
        self._report.size, self._report.root = self._tree.size, self._tree.root()

    def _pages(self) -> bool:
        """Read every page there is; whether there was one."""
        before = self._tree.size
        while page := stored.leaves(self._connection, self._after):
            self._page(page)
            self._after = page[-1].index
        return self._tree.size > before

    def _page(self, page: list[stored.Row]) -> None:
        first = self._tree.size
        nodes = stored.node_hashes(self._connection, first, first + len(page))
        for row in page:
            index = self._tree.size
            if row.index != index:
                self._differs(index, f"its leaf stands at {row.index!r}: the order has a gap or was changed")
            value = self._hash_of(row, index)
            for place, expected in self._tree.add(value):
                if nodes.get(place) != expected:
                    self._wrong_nodes.append(place)

    def _hash_of(self, row: stored.Row, index: int) -> bytes:
        """Check one entry; return the hash with which the tree goes on."""
        leaf = row.hash if isinstance(row.hash, bytes) and len(row.hash) == HASH_LENGTH else None
        if row.id is None:
            self._differs(index, f"the leaf names entry {row.entry_id}, which is gone")
            return leaf or bytes(HASH_LENGTH)
        if not isinstance(row.payload, bytes):
            self._differs(index, f"the payload of {row.id} is not bytes but {type(row.payload).__name__}")
            return leaf or bytes(HASH_LENGTH)
        computed = leaf_hash(row.payload)
        for what in _payload_differences(row, index, self._public_key):
            self._differs(index, what)
        if leaf == computed:
            if self._public_key and not self._signed(row, computed):
                self._differs(index, f"the signature of {row.id} is not by this installation's key")
            return computed
        return self._disagreeing(row, index, leaf, computed)

    def _disagreeing(self, row: stored.Row, index: int, leaf: bytes | None, computed: bytes) -> bytes:
        """Payload and leaf do not belong together: the signature tells which of them was changed."""
        if leaf and self._signed(row, leaf):
            self._differs(index, f"the payload of {row.id} was changed after it was signed")
            return leaf
        if self._signed(row, computed):
            self._differs(index, f"the hash in the leaf of {row.id} was changed")
            return computed
        self._differs(index, f"payload, leaf and signature of {row.id} do not belong together")
        return leaf or computed

    def _signed(self, row: stored.Row, value: bytes) -> bool:
        return (
            self._public_key is not None
            and isinstance(row.signature, bytes)
            and keys.is_signature(row.signature, value, self._public_key)
        )

    def _check_nodes_as_a_whole(self) -> None:
        if self._wrong_nodes:
            level, position = self._wrong_nodes[0]
            self._differs(
                None,
                f"{len(self._wrong_nodes)} stored nodes do not follow from the leaves, the first at level "
                f"{level}, position {position}; the leaves themselves are not touched by this",
            )
        size, count = stored.size_and_nodes(self._connection)
        if isinstance(size, int) and size >= self._tree.size:
            expected = sum(size >> level for level in range(1, size.bit_length()))
            if count != expected:
                self._differs(None, f"there are {count} stored nodes, {expected} belong to {size} entries")

    def _head(self) -> object:
        sizes = stored.head_sizes(self._connection)
        return sizes[0] if len(sizes) == 1 else f"{len(sizes)} rows instead of a number of"

    def _differs(self, index: int | None, what: str) -> None:
        self._report.differences.append(Difference(index, what))


def _payload_differences(row: stored.Row, index: int, public_key: bytes | None) -> Iterator[str]:
    if len(row.payload) > PAYLOAD_LIMIT:
        yield f"the payload of {row.id} is longer than {PAYLOAD_LIMIT} bytes"
    try:
        content = parse_canonical(row.payload)
    except CanonicalError as error:
        yield f"the payload of {row.id} is not in canonical form: {error}"
        return
    if not isinstance(content, dict):
        yield f"the payload of {row.id} is not an object"
        return
    beside = {"id": row.id, "kind": row.kind, "site": row.site, "subject": row.subject}
    inside = {**content, "subject": content.get("mounting") or _id_of(content.get("object"))}
    for name, column in beside.items():
        if _comparable(column) != _comparable(inside.get(name)):
            yield f"the column {name} says {column}, the payload says {inside.get(name)}"
    if index == 0:
        yield from _opening_differences(content, public_key)


def _opening_differences(content: dict[str, Any], public_key: bytes | None) -> Iterator[str]:
    if content.get("kind") != OPENING:
        yield "the log does not begin with the entry that opens it"
        return
    body = content.get("body")
    seen = body.get("seen") if isinstance(body, dict) else None
    named = seen.get("key") if isinstance(seen, dict) else None
    if public_key is not None and named != public_key.hex():
        yield "the log was opened with another key than the one trusted here"


def _id_of(register_object: object) -> object:
    return register_object.get("id") if isinstance(register_object, dict) else None


def _comparable(value: object) -> object:
    if isinstance(value, UUID):
        return value.hex
    return value.replace("-", "") if isinstance(value, str) else value
