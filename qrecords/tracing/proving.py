"""Verifying on the spot: the entries of one mounting, or a single one, with the check of `verify_ledger`.

Nothing is believed but the payload bytes and the key of this installation; the tree is reached through
inclusion proofs, so that a changed byte, leaf, node or signature is found and named.
"""

from dataclasses import dataclass
from uuid import UUID

from qrecords.ledger import keys, nodes, queries
from qrecords.ledger.errors import KeyMissingError, NodeMissingError
from qrecords.ledger.models import Entry, Leaf
from qrecords.ledger.stored import Row
from qrecords.ledger.verifying import entry_differences
from qrecords.proof.canonical import parse_canonical
from qrecords.proof.errors import CanonicalError
from qrecords.proof.merkle import leaf_hash, verify_inclusion
from qrecords.steps.shown import extent_of


@dataclass(frozen=True)
class Checked:
    """What verifying the entries of one subject found. `untold` is what could not be judged."""

    entries: int
    size: int
    root: bytes
    differences: tuple[str, ...]
    untold: tuple[str, ...]
    signed_entries: int
    """How many entries the sign-off covers; 0 before sign-off."""
    after_signature: int

    @property
    def holds(self) -> bool:
        return not self.differences and not self.untold


def trusted_key() -> bytes | None:
    """The public key of this installation; None before install."""
    try:
        return keys.public_key()
    except KeyMissingError:
        return None


def check(subject: UUID) -> Checked:
    """Verify every entry about a mounting or register object against the log as it stands."""
    key, (size, root) = trusted_key(), standing()
    rows = list(
        Leaf.objects.filter(entry__subject=subject).select_related("entry").order_by("index").iterator(500)
    )
    differences = [found for leaf in rows for found in _differences(leaf, size, root, key)]
    without = Entry.objects.filter(subject=subject, leaf__isnull=True).count()
    if without:
        differences.append(f"{without} entries have no place in the log")
    missing, covered, after = _against_signature(rows)
    return Checked(
        entries=len(rows),
        size=size,
        root=root,
        differences=tuple(differences + missing),
        untold=() if key else ("there is no key to check the signatures against",),
        signed_entries=covered,
        after_signature=after,
    )


def standing() -> tuple[int, bytes]:
    """Size and root of the log as it stands; an empty root where a part of the stored tree is missing."""
    size = queries.size()
    try:
        return size, nodes.root(size)
    except NodeMissingError:
        return size, b""


def proof_of(entry_id: UUID) -> queries.Proved:
    """The entry with its proof; an empty proof, which proves nothing, where the stored tree has a hole.

    `NotRecordedError` if no leaf holds the entry.
    """
    try:
        return queries.proved(entry_id)
    except NodeMissingError:
        leaf = Leaf.objects.select_related("entry").get(entry_id=entry_id)
        payload, signature = bytes(leaf.entry.payload), bytes(leaf.entry.signature)
        return queries.Proved(entry_id, payload, signature, leaf.index, queries.size(), b"", ())


def is_proved(proved: queries.Proved) -> bool:
    """Whether the proof leads from the payload's own hash to the root."""
    return verify_inclusion(
        proved.index, proved.size, leaf_hash(proved.payload), proved.root, list(proved.proof)
    )


def is_signed(proved: queries.Proved) -> bool | None:
    """Whether this installation's key signed the entry; None without a key."""
    key = trusted_key()
    return None if key is None else keys.is_signature(proved.signature, leaf_hash(proved.payload), key)


def _differences(leaf: Leaf, size: int, root: bytes, key: bytes | None) -> list[str]:
    entry = leaf.entry
    row = Row(
        index=leaf.index,
        hash=bytes(leaf.hash),
        entry_id=entry.id,
        id=entry.id,
        kind=entry.kind,
        site=entry.site,
        subject=entry.subject,
        payload=bytes(entry.payload),
        signature=bytes(entry.signature),
    )
    found = [f"entry {leaf.index}: {what}" for what in entry_differences(row, key)]
    if not verify_inclusion(leaf.index, size, leaf_hash(row.payload), root, _path(leaf.index, size)):
        found.append(f"entry {leaf.index}: no path leads from it to the root of {size} entries")
    return found


def _path(index: int, size: int) -> list[bytes]:
    """The stored path to the root; none where a part of it is missing."""
    try:
        return nodes.inclusion_proof(index, size) if index < size else []
    except NodeMissingError:
        return []


def _against_signature(rows: list[Leaf]) -> tuple[list[str], int, int]:
    """(what differs, entries covered, entries since) of what the sign-off covers against what lies here."""
    for place, leaf in enumerate(rows):
        if leaf.entry.kind != "signature":
            continue
        try:
            said = parse_canonical(bytes(leaf.entry.payload))["body"]["said"]
        except CanonicalError:
            continue
        if said.get("meaning") == "inspected":
            covered = said["shown"]["entries"]
            here = extent_of(bytes(leaf.hash).hex() for leaf in rows[:covered])
            what = (
                f"the sign-off covers {covered} entries with another root than the first {covered} here have"
            )
            return [] if here.document() == said["shown"] else [what], covered, len(rows) - place - 1
    return [], 0, 0
