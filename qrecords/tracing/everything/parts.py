"""The files of an export, each as a stream of bytes: made one after the other, none held in memory.

Tables come first and the entries after them, up to the size that the log has then: so whatever entry a row
rests on is among the entries, though others go on recording meanwhile.
"""

import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from uuid import UUID

from qrecords.evidence import storage
from qrecords.ledger.models import Leaf
from qrecords.ledger.queries import size
from qrecords.proof.merkle import leaf_hash
from qrecords.tracing.everything.cells import lines
from qrecords.tracing.everything.readme import README
from qrecords.tracing.everything.tables import Table, tables

ENTRIES_A_FILE = 20_000
PAGE = 500
CHUNK_BYTES = 65_536


@dataclass(frozen=True)
class Part:
    """One file. `fixed`: it can never become another, so that one made before is kept. `packed`: worth being
    compressed."""

    name: str
    chunks: Callable[[], Iterator[bytes]]
    fixed: bool = False
    packed: bool = True


def parts(sites: Sequence[UUID] | None) -> Iterator[Part]:
    """Every file but the counts and the checksums, which say of these what they hold. `sites` None: all."""
    yield Part("README.txt", lambda: iter([README.encode()]))
    for table in tables():
        yield Part(f"tables/{table.name.replace(' ', '-')}.csv", _csv(table, sites))
    total = size()
    for first in range(0, total, ENTRIES_A_FILE):
        last = min(first + ENTRIES_A_FILE, total)
        whole = last - first == ENTRIES_A_FILE
        yield Part(f"entries/from-{first:09d}.jsonl", _entries(first, last, sites), fixed=whole)
    files = next(table for table in tables() if table.name == "files")
    for sha256 in files.rows(sites).values_list("sha256", flat=True).iterator(PAGE):
        if storage.original(sha256).exists():
            yield Part(f"originals/{sha256[:2]}/{sha256}", _original(sha256), fixed=True, packed=False)


def missing_originals(sites: Sequence[UUID] | None) -> Iterator[str]:
    """Files that the record knows and that are not in their place."""
    files = next(table for table in tables() if table.name == "files")
    for sha256 in files.rows(sites).values_list("sha256", flat=True).iterator(PAGE):
        if not storage.original(sha256).exists():
            yield sha256


def _csv(table: Table, sites: Sequence[UUID] | None) -> Callable[[], Iterator[bytes]]:
    return lambda: (line.encode() for line in lines(table.lines(sites)))


def _original(sha256: str) -> Callable[[], Iterator[bytes]]:
    def chunks() -> Iterator[bytes]:
        with storage.original(sha256).open("rb") as file:
            while chunk := file.read(CHUNK_BYTES):
                yield chunk

    return chunks


def _entries(first: int, last: int, sites: Sequence[UUID] | None) -> Callable[[], Iterator[bytes]]:
    def chunks() -> Iterator[bytes]:
        for start in range(first, last, PAGE):
            rows = Leaf.objects.filter(index__gte=start, index__lt=min(start + PAGE, last))
            if sites is not None:
                rows = rows.filter(entry__site__in=sites)
            for leaf in rows.select_related("entry").order_by("index"):
                yield _line(leaf)

    return chunks


def _line(leaf: Leaf) -> bytes:
    """One entry: its place, the hash the log keeps, its text exactly as it is hashed, and its signature."""
    payload = bytes(leaf.entry.payload)
    said: dict[str, object] = {
        "index": leaf.index,
        "id": str(leaf.entry_id),
        "kind": leaf.entry.kind,
        "leaf": bytes(leaf.hash).hex(),
        "holds": leaf_hash(payload) == bytes(leaf.hash),
        "signature": bytes(leaf.entry.signature).hex(),
    }
    try:
        said["payload"] = payload.decode()
    except UnicodeDecodeError:  # what somebody put there is taken out as it is
        said["payload_hex"] = payload.hex()
    return json.dumps(said, ensure_ascii=False).encode() + b"\n"
