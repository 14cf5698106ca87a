"""The only writer of the log.

An entry is inserted at once; its leaf is written under the head lock as the last act of the outermost
`atomic()`. So writers wait for each other only at the very end, the sequence has no gap after a rollback,
and no entry is ever visible to others without its place in the log.
"""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from uuid import UUID

from django.db import IntegrityError, transaction

from qrecords.ledger import keys, nodes
from qrecords.ledger.envelope import Envelope, same_statement
from qrecords.ledger.errors import DifferentContentError, NotRecordedError, PayloadTooLongError
from qrecords.ledger.models import PAYLOAD_LIMIT, Entry, Head, Leaf, Node
from qrecords.proof.canonical import parse_canonical
from qrecords.proof.identifiers import checked
from qrecords.proof.merkle import leaf_hash

LEAVES_A_QUERY = 500


@dataclass(frozen=True)
class Receipt:
    """What the sender may keep as proof: place, leaf hash in hex and the server's time of an entry."""

    id: UUID
    index: int
    leaf: str
    at_server: str


class _Unplaced(threading.local):
    """The entries of this thread's transaction that have no leaf yet, in order; None outside of one."""

    entries: list[UUID] | None = None


_unplaced = _Unplaced()


@contextmanager
def atomic() -> Iterator[None]:
    """One transaction of the log, as context or decorator; inner ones join the outermost.

    An inner one that fails takes its own entries with it, even where the outer one goes on.
    """
    if _unplaced.entries is not None:
        with _joined(_unplaced.entries):
            yield
        return
    _unplaced.entries = []
    try:
        with transaction.atomic(durable=True):
            yield
            _place(_unplaced.entries)
    finally:
        _unplaced.entries = None


def append(envelope: Envelope) -> Entry:
    """File one entry; the same statement sent again returns what is stored.

    Errors: `DifferentContentError`, `PayloadTooLongError`, `KeyMissingError`, `EnvelopeError`, a
    `CanonicalError` for a value that has no canonical form, an `IdentifierError` for an id not of version 7.
    """
    if _unplaced.entries is not None:
        return _file(envelope, _unplaced.entries)
    with atomic():
        return append(envelope)


def stored_before(envelope: Envelope) -> Entry | None:
    """The entry that says exactly this already, if it is there: what is sent again is not asked again whether
    it may be said. `DifferentContentError` if its identifier was used for something else."""
    stored = Entry.objects.filter(id=envelope.id).first()
    return stored and _replayed(stored, envelope)


def unplaced() -> tuple[UUID, ...]:
    """The entries of the running transaction that will get their leaf at its end, in order."""
    return tuple(_unplaced.entries or ())


def receipt(entry_id: UUID) -> Receipt:
    """The receipt of a committed entry; `NotRecordedError` if no leaf holds it."""
    leaf = Leaf.objects.select_related("entry").filter(entry_id=entry_id).first()
    if leaf is None:
        raise NotRecordedError(entry_id)
    at_server = parse_canonical(bytes(leaf.entry.payload))["at_server"]
    return Receipt(entry_id, leaf.index, bytes(leaf.hash).hex(), at_server)


@contextmanager
def _joined(entries: list[UUID]) -> Iterator[None]:
    before = len(entries)
    try:
        with transaction.atomic():
            yield
    except BaseException:
        del entries[before:]
        raise


def _file(envelope: Envelope, entries: list[UUID]) -> Entry:
    stored = stored_before(envelope)
    if stored is not None:
        return stored
    entry = _signed(envelope)
    try:
        with transaction.atomic():
            entry.save(force_insert=True)
    except IntegrityError:
        # The same identifier came in by another connection between the question and the insert.
        stored = Entry.objects.filter(id=envelope.id).first()
        if stored is None:
            raise
        return _replayed(stored, envelope)
    entries.append(entry.id)
    return entry


def _signed(envelope: Envelope) -> Entry:
    if envelope.at_server is None:
        envelope = replace(envelope, at_server=datetime.now(UTC))
    payload = envelope.payload()
    if len(payload) > PAYLOAD_LIMIT:
        raise PayloadTooLongError(envelope.id, len(payload), PAYLOAD_LIMIT)
    return Entry(
        id=checked(envelope.id),
        kind=envelope.kind,
        site=envelope.site,
        subject=envelope.subject(),
        payload=payload,
        signature=keys.sign(leaf_hash(payload)),
    )


def _replayed(stored: Entry, envelope: Envelope) -> Entry:
    if not same_statement(parse_canonical(bytes(stored.payload)), envelope.content()):
        raise DifferentContentError(envelope.id)
    return stored


def _place(entries: list[UUID]) -> None:
    """Write the leaves, the nodes and the head. Nothing may be locked after this."""
    if not entries:
        return
    payloads = _stored_payloads(entries)
    head = Head.objects.select_for_update().get()
    tree = nodes.growth(head.size)
    leaves = [
        Leaf(index=index, entry_id=entry_id, hash=leaf_hash(payload))
        for index, (entry_id, payload) in enumerate(payloads.items(), start=head.size)
    ]
    Leaf.objects.bulk_create(leaves)
    Node.objects.bulk_create(nodes.completed(tree, map(leaf_hash, payloads.values())))
    Head.objects.filter(id=head.id).update(size=tree.size)


def _stored_payloads(entries: list[UUID]) -> dict[UUID, bytes]:
    """What the database really holds of them: a savepoint rolled back by somebody else has taken its own."""
    found: dict[UUID, bytes] = {}
    for start in range(0, len(entries), LEAVES_A_QUERY):
        part = entries[start : start + LEAVES_A_QUERY]
        rows = Entry.objects.filter(id__in=part).values_list("id", "payload")
        found |= {entry_id: bytes(payload) for entry_id, payload in rows}
    return {entry_id: found[entry_id] for entry_id in entries if entry_id in found}
