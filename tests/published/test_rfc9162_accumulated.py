"""RFC 9162 section 2.1: every root and every proof of every tree of 1 to 130 leaves, as one digest each.

Source: computed from the text of the RFC by two independent programs of this project's authors (a literal
recursion and a level array), after the method of transparency-dev/merkle `testonly/vectors_test.go`. Not a
published number: it holds against our own change, the other files hold against the standard.
"""

import json
from hashlib import sha256
from pathlib import Path

from qrecords.proof import merkle

VECTORS = json.loads((Path(__file__).parent / "data" / "merkle_accumulated.json").read_text())
LARGEST = 130
LEAVES = [merkle.leaf_hash(bytes([number])) for number in range(LARGEST)]


def _digest(lines: list[str]) -> str:
    return sha256("".join(lines).encode()).hexdigest()


def _line(*parts: object) -> str:
    return " ".join(map(str, parts)) + "\n"


def test_all_roots() -> None:
    lines = [_line(size, merkle.root(LEAVES[:size]).hex()) for size in range(1, LARGEST + 1)]
    assert _digest(lines) == VECTORS["sha256"]["roots"]


def test_all_inclusion_proofs() -> None:
    lines = [
        _line(index, size, *(value.hex() for value in merkle.inclusion_proof(LEAVES[:size], index)))
        for size in range(1, LARGEST + 1)
        for index in range(size)
    ]
    assert _digest(lines) == VECTORS["sha256"]["inclusion"]


def test_all_consistency_proofs() -> None:
    lines = [
        _line(size1, size2, *(value.hex() for value in merkle.consistency_proof(LEAVES[:size2], size1)))
        for size2 in range(1, LARGEST + 1)
        for size1 in range(1, size2 + 1)
    ]
    assert _digest(lines) == VECTORS["sha256"]["consistency"]
