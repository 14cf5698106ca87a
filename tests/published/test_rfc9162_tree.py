"""RFC 9162 section 2.1, known answers.

Source: the test constants of two independent implementations of the same tree, transparency-dev/merkle
(`testonly/constants.go`, `rfc6962/rfc6962_test.go`) and google/certificate-transparency
(`merkle_tree_test.cc`), both Apache-2.0. In `data/rfc9162_merkle_tree.json`.
"""

import json
from pathlib import Path

import pytest

from qrecords.proof import merkle

VECTORS = json.loads((Path(__file__).parent / "data" / "rfc9162_merkle_tree.json").read_text())
LEAVES = [merkle.leaf_hash(bytes.fromhex(text)) for text in VECTORS["leaves_hex"]]


def test_the_hash_of_no_leaf() -> None:
    assert merkle.root([]).hex() == VECTORS["empty_root"]


@pytest.mark.parametrize("case", VECTORS["hasher"])
def test_hashes_of_leaves_and_nodes(case: dict[str, str]) -> None:
    first = bytes.fromhex(case["left_or_data"])
    if case["kind"] == "leaf":
        assert merkle.leaf_hash(first).hex() == case["want"]
    else:
        assert merkle.node_hash(first, bytes.fromhex(case["right"])).hex() == case["want"]


@pytest.mark.parametrize("size", range(9))
def test_root_of_each_size(size: int) -> None:
    assert merkle.root(LEAVES[:size]).hex() == VECTORS["roots_by_size"][size]


def test_every_node_of_the_tree() -> None:
    tree, found = merkle.Growth(), {}
    for leaf in LEAVES:
        found.update(dict(tree.add(leaf)))
    expected = {
        (level, index): value
        for level, row in enumerate(VECTORS["node_levels"])
        for index, value in enumerate(row)
        if level
    }
    assert {place: value.hex() for place, value in found.items()} == expected


@pytest.mark.parametrize("case", VECTORS["inclusion"])
def test_inclusion_proofs(case: dict[str, object]) -> None:
    index, size = int(str(case["index"])), int(str(case["size"]))
    assert [value.hex() for value in merkle.inclusion_proof(LEAVES[:size], index)] == case["proof"]


@pytest.mark.parametrize("case", VECTORS["consistency"])
def test_consistency_proofs(case: dict[str, object]) -> None:
    size1, size2 = int(str(case["size1"])), int(str(case["size2"]))
    assert [value.hex() for value in merkle.consistency_proof(LEAVES[:size2], size1)] == case["proof"]
