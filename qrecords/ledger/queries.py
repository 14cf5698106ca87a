"""Reading the log."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Any
from uuid import UUID

from qrecords.ledger import nodes
from qrecords.ledger.append import unplaced
from qrecords.ledger.envelope import Known
from qrecords.ledger.errors import NotRecordedError
from qrecords.ledger.models import Entry, Head, Leaf
from qrecords.proof.canonical import parse_canonical, read_canonical
from qrecords.proof.merkle import leaf_hash


@dataclass(frozen=True)
class Said:
    """One entry as others use it: the content of its envelope, its leaf hash in hex, and its place.

    `index` is None while the transaction that files the entry is still running.
    """

    id: UUID
    kind: str
    payload: dict[str, Any]
    leaf: str
    index: int | None


@dataclass(frozen=True)
class Proved:
    """An entry's bytes with what shows that the log of this size and root holds them at this place."""

    id: UUID
    payload: bytes
    signature: bytes
    index: int
    size: int
    root: bytes
    proof: tuple[bytes, ...]


def entries_of(subject: UUID) -> list[Said]:
    """Everything said of one mounting or register object, in the order of the log; one query.

    Inside a transaction its own entries come last, in the order in which they were appended.
    """
    rows = Entry.objects.filter(subject=subject).values_list("id", "kind", "payload", "leaf__index")
    order = {entry_id: position for position, entry_id in enumerate(unplaced())}
    found = [_said(entry_id, kind, bytes(payload), index) for entry_id, kind, payload, index in rows]
    return sorted(found, key=lambda said: (said.index is None, said.index or order.get(said.id, 0)))


def entries_of_each(subjects: Iterable[UUID]) -> dict[UUID, list[Said]]:
    """Everything said of each of several, as `entries_of` gives it of one; one query however many."""
    wanted = list(subjects)
    found: dict[UUID, list[Said]] = {subject: [] for subject in wanted}
    rows = Entry.objects.filter(subject__in=wanted).order_by("leaf__index")
    for subject, id, kind, payload, index in rows.values_list(
        "subject", "id", "kind", "payload", "leaf__index"
    ):
        found[subject].append(_said(id, kind, bytes(payload), index))
    return found


def entries_named(ids: Iterable[UUID]) -> list[Said]:
    """These entries in the order of the log; one query."""
    rows = Entry.objects.filter(id__in=list(ids)).order_by("leaf__index")
    named = rows.values_list("id", "kind", "payload", "leaf__index")
    return [_said(id, kind, bytes(payload), index) for id, kind, payload, index in named]


def said_of(entry: Entry) -> Said:
    """An entry that was read with its leaf."""
    return _said(entry.id, entry.kind, bytes(entry.payload), entry.leaf.index)


def known_leaf() -> Known | None:
    """The newest leaf of the log; None while it is empty."""
    newest = Leaf.objects.order_by("-index").values_list("index", "hash").first()
    return newest and Known(newest[0], bytes(newest[1]).hex())


def leaf_at(index: int, digest: str) -> Known | None:
    """The leaf at this place, if it has this hash (hex)."""
    here = Leaf.objects.filter(index=index).values_list("hash", flat=True).first()
    return Known(index, digest) if here is not None and bytes(here).hex() == digest else None


def received_at(known: Known) -> datetime | None:
    """When the entry of a leaf that a sender says to have seen was received; None where the log holds no such
    leaf with that hash."""
    leaf = Leaf.objects.select_related("entry").filter(index=known.index).first()
    if leaf is None or bytes(leaf.hash).hex() != known.hash:
        return None
    return datetime.fromisoformat(parse_canonical(bytes(leaf.entry.payload))["at_server"])


def first_entry() -> Said | None:
    """What opened the log: its name, site and public key; None before install."""
    entry = Entry.objects.filter(leaf__index=0).first()
    return _said(entry.id, entry.kind, bytes(entry.payload), 0) if entry else None


def home_site() -> UUID | None:
    """The site the installation was opened for; None before install."""
    first = first_entry()
    return UUID(first.payload["site"]) if first else None


def size() -> int:
    """How many entries the log holds."""
    return Head.objects.get().size


def proved(entry_id: UUID) -> Proved:
    """A committed entry with its inclusion proof; `NotRecordedError` if no leaf holds it."""
    leaf = Leaf.objects.select_related("entry").filter(entry_id=entry_id).first()
    if leaf is None:
        raise NotRecordedError(entry_id)
    now = max(size(), leaf.index + 1)
    return Proved(
        id=entry_id,
        payload=bytes(leaf.entry.payload),
        signature=bytes(leaf.entry.signature),
        index=leaf.index,
        size=now,
        root=nodes.root(now),
        proof=tuple(nodes.inclusion_proof(leaf.index, now)),
    )


def _said(entry_id: UUID, kind: str, payload: bytes, index: int | None) -> Said:
    return Said(entry_id, kind, *_read(payload), index)


@lru_cache(maxsize=1024)
def _read(payload: bytes) -> tuple[dict[str, Any], str]:
    """The content of a payload and its leaf hash in hex. Kept, for every page of a mounting reads all of its
    entries again: nobody changes what is handed out."""
    return read_canonical(payload), leaf_hash(payload).hex()
