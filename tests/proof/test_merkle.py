"""The tree beyond the published cases: any spoiled proof is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.proof import merkle

LEAVES = [merkle.leaf_hash(bytes([number])) for number in range(64)]


@st.composite
def _places(draw: st.DrawFn) -> tuple[int, int]:
    size = draw(st.integers(1, len(LEAVES)))
    return draw(st.integers(0, size - 1)), size


def _flipped(value: bytes, bit: int) -> bytes:
    return (int.from_bytes(value) ^ 1 << bit % 256).to_bytes(32)


@given(_places())
def test_every_leaf_is_proved(place: tuple[int, int]) -> None:
    index, size = place
    proof = merkle.inclusion_proof(LEAVES[:size], index)
    root = merkle.root(LEAVES[:size])
    assert merkle.verify_inclusion(index, size, LEAVES[index], root, proof)
    assert not merkle.verify_inclusion(index + 1, size, LEAVES[index], root, proof)
    assert not merkle.verify_inclusion(index, size, LEAVES[index], root, [*proof, root])
    assert not merkle.verify_inclusion(index, size, merkle.leaf_hash(b"x"), root, proof)


@given(_places(), st.integers(0, 10_000))
def test_a_flipped_bit_in_an_inclusion_proof_is_seen(place: tuple[int, int], bit: int) -> None:
    index, size = place
    root = merkle.root(LEAVES[:size])
    parts = [LEAVES[index], root, *merkle.inclusion_proof(LEAVES[:size], index)]
    spoiled = bit % len(parts)
    parts[spoiled] = _flipped(parts[spoiled], bit)
    assert not merkle.verify_inclusion(index, size, parts[0], parts[1], parts[2:])


@given(_places(), st.integers(0, 10_000))
def test_a_flipped_bit_in_a_consistency_proof_is_seen(place: tuple[int, int], bit: int) -> None:
    size1, size2 = place[0] + 1, place[1]
    proof = merkle.consistency_proof(LEAVES[:size2], size1)
    parts = [merkle.root(LEAVES[:size1]), merkle.root(LEAVES[:size2]), *proof]
    assert merkle.verify_consistency(size1, size2, parts[0], parts[1], parts[2:])
    spoiled = bit % len(parts)
    parts[spoiled] = _flipped(parts[spoiled], bit)
    assert not merkle.verify_consistency(size1, size2, parts[0], parts[1], parts[2:])


def test_a_hash_of_another_length_proves_nothing() -> None:
    leaf, root = b"short", merkle.node_hash(b"short", LEAVES[1])
    assert not merkle.verify_inclusion(0, 2, leaf, root, [LEAVES[1]])


def test_nothing_is_proved_of_the_empty_tree() -> None:
    assert not merkle.verify_consistency(0, 1, merkle.EMPTY_ROOT, LEAVES[0], [])
    assert not merkle.verify_inclusion(0, 0, LEAVES[0], merkle.EMPTY_ROOT, [])


@pytest.mark.parametrize("size", [1, 2, 7, 64])
def test_growth_from_stored_peaks_goes_on_as_if_never_stopped(size: int) -> None:
    tree = merkle.Growth()
    for leaf in LEAVES[: size - 1]:
        list(tree.add(leaf))
    continued = merkle.Growth(tree.size, list(tree.peaks))
    list(continued.add(LEAVES[size - 1]))
    assert continued.root() == merkle.root(LEAVES[:size])


def test_a_place_outside_the_tree_has_no_proof() -> None:
    with pytest.raises(IndexError):
        merkle.inclusion_proof(LEAVES[:3], 3)
    with pytest.raises(IndexError):
        merkle.consistency_proof(LEAVES[:3], 4)
