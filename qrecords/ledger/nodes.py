"""The stored tree: complete subtrees as rows, so that a proof reads a few rows instead of every leaf.

Level 0 is the leaves themselves. Nodes are a cache: verification never believes them.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice

from django.db import connection, transaction

from qrecords.ledger.errors import NodeMissingError
from qrecords.ledger.models import Head, Leaf, Node
from qrecords.proof import merkle

BATCH = 5_000

# One pair of conditions for each node: both databases answer that from the index, but SQLite would read the
# whole table for a list of pairs.
_NODES = 'SELECT level, "index", hash FROM ledger_node WHERE {}'
_AT = '(level = %s AND "index" = %s)'


def growth(size: int) -> merkle.Growth:
    """The tree of the first `size` leaves as it stands at its right edge."""
    return merkle.Growth(size, _hashes(merkle.places((0, size))))


def root(size: int) -> bytes:
    """The root of the tree over the first `size` leaves."""
    return growth(size).root()


def inclusion_proof(index: int, size: int) -> list[bytes]:
    """The proof that leaf `index` is in the tree of `size`."""
    return _range_hashes(merkle.inclusion_ranges(index, size))


def consistency_proof(size1: int, size2: int) -> list[bytes]:
    """The proof that the tree of `size1` is a prefix of the tree of `size2`."""
    return _range_hashes(merkle.consistency_ranges(size1, size2))


def completed(tree: merkle.Growth, leaf_hashes: Iterable[bytes]) -> Iterator[Node]:
    """Let the tree grow by the leaves; yield each node that becomes complete."""
    for leaf in leaf_hashes:
        for (level, index), value in tree.add(leaf):
            yield Node(level=level, index=index, hash=value)


def rebuild() -> int:
    """Make every node again from the leaves; return how many leaves there are."""
    with transaction.atomic():
        Head.objects.select_for_update().get()
        Node.objects.all().delete()
        tree = merkle.Growth()
        leaves = Leaf.objects.order_by("index").values_list("hash", flat=True).iterator(BATCH)
        nodes = completed(tree, map(bytes, leaves))
        while batch := list(islice(nodes, BATCH)):
            Node.objects.bulk_create(batch)
    return tree.size


def _range_hashes(ranges: Sequence[merkle.Range]) -> list[bytes]:
    rows = [merkle.places(part) for part in ranges]
    hashes = iter(_hashes([place for row in rows for place in row]))
    return [merkle.fold(list(islice(hashes, len(row)))) for row in rows]


def _hashes(places: Sequence[merkle.Place]) -> list[bytes]:
    """The hashes of complete subtrees in the given order, in at most two queries."""
    found: dict[merkle.Place, bytes] = {}
    nodes = [place for place in places if place[0]]
    if nodes:
        with connection.cursor() as cursor:
            # Plain SQL: the same question in the ORM's words takes longer to build than to answer.
            cursor.execute(_NODES.format(" OR ".join([_AT] * len(nodes))), [*chain(*nodes)])
            found = {(level, index): bytes(value) for level, index, value in cursor.fetchall()}
    leaves = [index for level, index in places if not level]
    if leaves:
        for index, value in Leaf.objects.filter(index__in=leaves).values_list("index", "hash"):
            found[0, index] = bytes(value)
    missing = next((place for place in places if place not in found), None)
    if missing is not None:
        raise NodeMissingError(*missing)
    return [found[place] for place in places]
