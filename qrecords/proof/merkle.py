"""The Merkle tree of RFC 9162 section 2.1: roots, proofs and their verification, SHA-256.

A tree over n leaves splits at the largest power of two below n, so every part of it that a proof names is a
range of leaves; a range is a row of complete subtrees, and those never change again once they exist.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from hashlib import sha256

HASH_LENGTH = 32
EMPTY_ROOT = sha256(b"").digest()

Range = tuple[int, int]
"""Leaves from the first number up to, but without, the second."""
Place = tuple[int, int]
"""A complete subtree: its level (0 is a leaf) and its position on that level, from the left."""


def leaf_hash(payload: bytes) -> bytes:
    """SHA-256(0x00 || payload), RFC 9162 section 2.1.1."""
    return sha256(b"\x00" + payload).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    """SHA-256(0x01 || left || right), RFC 9162 section 2.1.1."""
    return sha256(b"\x01" + left + right).digest()


def fold(hashes: Sequence[bytes]) -> bytes:
    """The hash over a row of complete subtrees, largest first; of none, the hash of the empty tree."""
    if not hashes:
        return EMPTY_ROOT
    result = hashes[-1]
    for left in reversed(hashes[:-1]):
        result = node_hash(left, result)
    return result


@dataclass
class Growth:
    """A tree that only grows; it remembers its size and the complete subtrees at its right edge."""

    size: int = 0
    peaks: list[bytes] = field(default_factory=list)

    def add(self, leaf: bytes) -> Iterator[tuple[Place, bytes]]:
        """Every complete subtree above the leaf that this leaf completes, lowest first."""
        level, position, value = 0, self.size, leaf
        self.size += 1
        while position & 1:
            value = node_hash(self.peaks.pop(), value)
            level, position = level + 1, position >> 1
            yield (level, position), value
        self.peaks.append(value)

    def root(self) -> bytes:
        return fold(self.peaks)


def root(leaf_hashes: Iterable[bytes]) -> bytes:
    """The root over all leaf hashes; memory grows only with the logarithm of their number."""
    growth = Growth()
    for leaf in leaf_hashes:
        for _ in growth.add(leaf):
            pass
    return growth.root()


def places(part: Range) -> list[Place]:
    """The complete subtrees that make up a range named by a proof, from left to right."""
    start, end = part
    found = []
    while start < end:
        level = (end - start).bit_length() - 1
        found.append((level, start >> level))
        start += 1 << level
    return found


def _split(size: int) -> int:
    return 1 << ((size - 1).bit_length() - 1)


def inclusion_ranges(index: int, size: int) -> list[Range]:
    """The ranges whose hashes prove leaf `index` in a tree of `size`, lowest first (section 2.1.3.1)."""
    if not 0 <= index < size:
        raise IndexError(f"leaf {index} does not stand in a tree of {size}")
    ranges, start, end = [], 0, size
    while end - start > 1:
        middle = start + _split(end - start)
        if index < middle:
            ranges.append((middle, end))
            end = middle
        else:
            ranges.append((start, middle))
            start = middle
    return ranges[::-1]


def consistency_ranges(size1: int, size2: int) -> list[Range]:
    """The ranges whose hashes prove the first `size1` leaves to be a prefix of `size2` (section 2.1.4.1)."""
    if not 0 < size1 <= size2:
        raise IndexError(f"a tree of {size1} has no consistency proof with a tree of {size2}")
    ranges, start, end = [], 0, size2
    while end != size1:
        middle = start + _split(end - start)
        if size1 <= middle:
            ranges.append((middle, end))
            end = middle
        else:
            ranges.append((start, middle))
            start = middle
    if start:
        ranges.append((start, end))
    return ranges[::-1]


def inclusion_proof(leaf_hashes: Sequence[bytes], index: int) -> list[bytes]:
    """The proof that leaf `index` (from 0) is in the tree over `leaf_hashes`."""
    return [root(leaf_hashes[start:end]) for start, end in inclusion_ranges(index, len(leaf_hashes))]


def consistency_proof(leaf_hashes: Sequence[bytes], size1: int) -> list[bytes]:
    """The proof that the tree over the first `size1` leaves is a prefix of the tree over all of them."""
    return [root(leaf_hashes[start:end]) for start, end in consistency_ranges(size1, len(leaf_hashes))]


def verify_inclusion(index: int, size: int, leaf_hash: bytes, root: bytes, proof: Sequence[bytes]) -> bool:
    """Whether `proof` shows the leaf at `index` of the tree with this size and root (section 2.1.3.2)."""
    if not 0 <= index < size or not _are_hashes(leaf_hash, root, *proof):
        return False
    first, last, value = index, size - 1, leaf_hash
    for other in proof:
        if last == 0:
            return False
        if first & 1 or first == last:
            value = node_hash(other, value)
            while not first & 1 and first:
                first, last = first >> 1, last >> 1
        else:
            value = node_hash(value, other)
        first, last = first >> 1, last >> 1
    return last == 0 and value == root


def verify_consistency(size1: int, size2: int, root1: bytes, root2: bytes, proof: Sequence[bytes]) -> bool:
    """Whether `proof` shows the tree of `size1` to be a prefix of the tree of `size2` (section 2.1.4.2).

    Nothing is a prefix of everything and proves nothing, so `size1` of 0 is refused.
    """
    if not 0 < size1 <= size2 or not _are_hashes(root1, root2, *proof):
        return False
    if size1 == size2:
        return not proof and root1 == root2
    path = list(proof)
    if size1 & (size1 - 1) == 0:
        path.insert(0, root1)
    if not path:
        return False
    first, last = size1 - 1, size2 - 1
    while first & 1:
        first, last = first >> 1, last >> 1
    old = new = path[0]
    for other in path[1:]:
        if last == 0:
            return False
        if first & 1 or first == last:
            old, new = node_hash(other, old), node_hash(other, new)
            while not first & 1 and first:
                first, last = first >> 1, last >> 1
        else:
            new = node_hash(new, other)
        first, last = first >> 1, last >> 1
    return last == 0 and old == root1 and new == root2


def _are_hashes(*values: bytes) -> bool:
    # A shorter or longer value would let two different trees share one concatenation.
    return all(isinstance(value, bytes) and len(value) == HASH_LENGTH for value in values)
