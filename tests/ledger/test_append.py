"""Filing entries: one writer, one order, nothing twice, nothing half."""

import uuid
from datetime import UTC, datetime

import pytest
from django.db import IntegrityError, transaction
from pytest_django import DjangoAssertNumQueries

from qrecords.ledger import keys, nodes
from qrecords.ledger.append import append, atomic, receipt
from qrecords.ledger.envelope import Pseudonym
from qrecords.ledger.errors import (
    DifferentContentError,
    EnvelopeError,
    NotRecordedError,
    PayloadTooLongError,
)
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry, Head, Leaf
from qrecords.ledger.queries import entries_of, known_leaf, leaf_at, proved
from qrecords.proof import merkle
from qrecords.proof.errors import FloatError, IdentifierError
from tests.ledger.conftest import Stating

pytestmark = pytest.mark.django_db


def test_an_empty_log_has_the_root_of_the_empty_tree() -> None:
    assert Head.objects.get().size == 0
    assert nodes.root(0) == merkle.EMPTY_ROOT
    assert known_leaf() is None


def test_an_entry_gets_the_next_place_its_hash_and_a_signature(statement: Stating) -> None:
    append(statement())
    entry = append(statement())
    leaf = Leaf.objects.get(entry=entry)
    expected = merkle.leaf_hash(bytes(entry.payload))
    assert (leaf.index, bytes(leaf.hash)) == (1, expected)
    assert keys.is_signature(bytes(entry.signature), expected, keys.public_key())
    assert not keys.is_signature(bytes(entry.signature), merkle.leaf_hash(b"other"), keys.public_key())


def test_the_receipt_names_place_hash_and_time(statement: Stating) -> None:
    envelope = statement(at_server=datetime(2026, 3, 4, 5, 6, 7, 89_999, UTC))
    append(envelope)
    given = receipt(envelope.id)
    assert (given.index, given.at_server) == (0, "2026-03-04T05:06:07.089Z")
    assert given.leaf == merkle.leaf_hash(envelope.payload()).hex()


def test_there_is_no_receipt_for_what_was_never_filed() -> None:
    with pytest.raises(NotRecordedError):
        receipt(new_id())


def test_the_same_statement_again_gives_the_stored_entry(statement: Stating) -> None:
    envelope = statement(counter=1)
    first = append(envelope)
    # A replay of the queue comes with another time and another count, after the person's data were renewed.
    later = statement(
        id=envelope.id,
        mounting=envelope.mounting,
        counter=7,
        at_device=datetime(2027, 1, 1, tzinfo=UTC),
        author=Pseudonym(envelope.author.person, "cd" * 32) if envelope.author else None,
    )
    assert append(later) == first
    assert Entry.objects.count() == Leaf.objects.count() == 1


@pytest.mark.parametrize("change", [{"said": {"reading": "80,010"}}, {"reason": "misread"}, {"kind": "x"}])
def test_something_else_under_the_same_identifier_is_refused(
    statement: Stating, change: dict[str, object]
) -> None:
    envelope = statement()
    append(envelope)
    with pytest.raises(DifferentContentError):
        append(statement(**{"id": envelope.id, "mounting": envelope.mounting, **change}))
    assert Leaf.objects.count() == 1


def test_a_replay_inside_one_transaction_is_filed_once(statement: Stating) -> None:
    envelope = statement()
    with atomic():
        append(envelope)
        append(envelope)
    assert Leaf.objects.count() == 1


def test_too_many_bytes_are_refused_with_their_number(statement: Stating) -> None:
    with pytest.raises(PayloadTooLongError) as caught:
        append(statement(said={"curve": "x" * 65_536}))
    assert caught.value.length > caught.value.limit == 65_535


def test_a_float_has_no_place_in_a_payload(statement: Stating) -> None:
    with pytest.raises(FloatError) as caught:
        append(statement(said={"readings": ["80.009", 80.009]}))
    assert caught.value.where == "body.said.readings[1]"


def test_an_entry_that_speaks_of_nothing_is_refused(statement: Stating) -> None:
    with pytest.raises(EnvelopeError):
        append(statement(mounting=None))


def test_text_is_filed_in_normal_form_and_half_a_character_as_the_replacement(statement: Stating) -> None:
    envelope = statement(said={"note": "u\u0308ber", "bad": "a\ud800b"})
    append(envelope)
    assert envelope.mounting
    said = entries_of(envelope.mounting)[0].payload["body"]["said"]
    assert said == {"note": "\u00fcber", "bad": "a\ufffdb"}


def test_entries_of_a_mounting_include_those_not_yet_placed_in_their_order(statement: Stating) -> None:
    mounting = new_id()
    first, second, third = (statement(mounting=mounting) for _ in range(3))
    append(first)
    with atomic():
        append(third)
        append(second)
        within = entries_of(mounting)
    assert [said.id for said in within] == [first.id, third.id, second.id]
    assert [said.index for said in within] == [0, None, None]
    assert [said.index for said in entries_of(mounting)] == [0, 1, 2]
    assert [said.leaf for said in entries_of(mounting)] == [said.leaf for said in within]


def test_a_failed_inner_part_takes_its_entries_with_it_and_leaves_no_gap(statement: Stating) -> None:
    kept, lost, last = statement(), statement(), statement()

    @atomic()
    def fail() -> None:
        append(lost)
        raise LookupError

    with atomic():
        append(kept)
        with pytest.raises(LookupError):
            fail()
        append(last)
    assert list(Leaf.objects.values_list("index", "entry_id")) == [(0, kept.id), (1, last.id)]
    assert not Entry.objects.filter(id=lost.id).exists()


def test_a_savepoint_rolled_back_by_somebody_else_leaves_no_leaf(statement: Stating) -> None:
    with atomic():
        append(statement())
        with pytest.raises(LookupError), transaction.atomic():
            append(statement())
            raise LookupError
    assert Leaf.objects.count() == Entry.objects.count() == Head.objects.get().size == 1


def test_after_a_rollback_the_next_entry_takes_the_place(statement: Stating) -> None:
    append(statement())
    with pytest.raises(LookupError), atomic():
        append(statement())
        raise LookupError
    append(statement())
    assert list(Leaf.objects.values_list("index", flat=True)) == [0, 1]


def test_every_entry_proves_its_place(statement: Stating) -> None:
    ids = [append(statement()).id for _ in range(11)]
    for entry_id in ids:
        shown = proved(entry_id)
        assert merkle.verify_inclusion(
            shown.index, shown.size, merkle.leaf_hash(shown.payload), shown.root, shown.proof
        )


def test_the_stored_tree_is_the_tree_over_the_leaves(statement: Stating) -> None:
    sizes = {}
    for count in (1, 2, 5, 3):
        with atomic():
            for _ in range(count):
                append(statement())
        size = Head.objects.get().size
        sizes[size] = nodes.root(size)
    hashes = [bytes(leaf.hash) for leaf in Leaf.objects.order_by("index")]
    for size, root in sizes.items():
        assert root == merkle.root(hashes[:size])
        assert merkle.verify_consistency(size, 11, root, sizes[11], nodes.consistency_proof(size, 11))


def test_a_leaf_cannot_be_written_beside_the_line(statement: Stating) -> None:
    entry = append(statement())
    with pytest.raises(IntegrityError), transaction.atomic():
        Leaf.objects.create(index=2, entry=entry, hash=b"0" * 32)


def test_rebuilding_the_nodes_gives_the_same_tree(statement: Stating) -> None:
    for _ in range(7):
        append(statement())
    before = nodes.root(7)
    assert nodes.rebuild() == 7
    assert nodes.root(7) == before


def test_reading_a_mounting_takes_one_query_however_long_it_is(
    statement: Stating, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    mounting = new_id()
    for _ in range(20):
        append(statement(mounting=mounting))
    with django_assert_num_queries(1):
        assert len(entries_of(mounting)) == 20


def test_a_proof_takes_a_fixed_number_of_queries(
    statement: Stating, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    ids = [append(statement()).id for _ in range(37)]
    with django_assert_num_queries(6):
        proved(ids[5])


@pytest.mark.parametrize("id", [uuid.uuid4(), uuid.uuid5(uuid.NAMESPACE_URL, "x")])
def test_an_identifier_that_was_not_made_by_time_is_refused(statement: Stating, id: uuid.UUID) -> None:
    with pytest.raises(IdentifierError):
        append(statement(id=id))
    assert not Entry.objects.exists()


def test_a_leaf_is_known_only_with_its_own_hash(statement: Stating) -> None:
    append(statement())
    newest = known_leaf()
    assert newest is not None and leaf_at(newest.index, newest.hash) == newest
    assert leaf_at(newest.index, "0" * 64) is None and leaf_at(newest.index + 1, newest.hash) is None
