"""Verifying one record here finds what was changed in it, and what the sign-off names is all there."""

import pytest

from qrecords.ledger.models import Entry, Leaf, Node
from qrecords.ledger.queries import proved
from qrecords.tracing.proving import check, is_proved, is_signed, proof_of, standing
from tests.cast import Job, make_workshop, start
from tests.ledger.test_verifying import run, stored_id, without_guards

pytestmark = pytest.mark.usefixtures("own_database")


@pytest.fixture
def job(own_database: str) -> Job:
    job = start(make_workshop())
    job.receive()
    job.measure()
    return job


def test_a_sound_record_holds(job: Job) -> None:
    found = check(job.mounting.id)
    assert found.holds and found.entries == Entry.objects.filter(subject=job.mounting.id).count()
    assert found.size == Leaf.objects.count() and found.signed_entries == 0


def test_a_whole_record_says_how_many_entries_were_signed_and_what_came_after() -> None:
    job = start(make_workshop())
    job.whole()
    before = check(job.mounting.id)
    assert before.holds and before.signed_entries > 30 and before.after_signature == 0
    job.photograph("marking")
    assert check(job.mounting.id).after_signature == 1


def test_an_entry_carries_its_own_proof(job: Job) -> None:
    entry = Entry.objects.filter(subject=job.mounting.id).order_by("leaf__index")[0]
    proof = proved(entry.id)
    assert is_proved(proof) and is_signed(proof) is True


def places(job: Job) -> list[int]:
    return sorted(Leaf.objects.filter(entry__subject=job.mounting.id).values_list("index", flat=True))


def test_a_changed_byte_is_found_at_its_place(job: Job) -> None:
    place = places(job)[1]
    leaf = Leaf.objects.select_related("entry").get(index=place)
    changed = bytes(leaf.entry.payload).replace(b"intact", b"opened")
    with without_guards():
        Entry.objects.filter(id=leaf.entry_id).update(payload=changed)
    found = check(job.mounting.id)
    assert not found.holds
    assert {what.split(":")[0] for what in found.differences} == {f"entry {place}"}
    assert not is_proved(proved(leaf.entry_id)) and is_signed(proved(leaf.entry_id)) is False


def test_a_forged_leaf_is_found(job: Job) -> None:
    place = places(job)[1]
    with without_guards():
        run('UPDATE ledger_leaf SET hash = %s WHERE "index" = %s', bytes(32), place)
    assert any(f"entry {place}" in what for what in check(job.mounting.id).differences)


def test_a_changed_node_breaks_the_path(job: Job) -> None:
    Node.objects.filter(level=1).update(hash=bytes(32))
    assert any("no path leads" in what for what in check(job.mounting.id).differences)


def test_a_hole_in_the_stored_tree_proves_nothing_and_stops_nothing(job: Job) -> None:
    entry = Entry.objects.filter(subject=job.mounting.id)[0]
    Node.objects.all().delete()
    assert standing()[1] == b"" and not is_proved(proof_of(entry.id))
    assert any("no path leads" in what for what in check(job.mounting.id).differences)


def test_a_moved_column_is_found(job: Job) -> None:
    entry = Entry.objects.filter(subject=job.mounting.id, kind="capture")[0]
    with without_guards():
        Entry.objects.filter(id=entry.id).update(kind="tap")
    assert any("the column kind says tap" in what for what in check(job.mounting.id).differences)


def test_an_entry_taken_out_of_a_signed_record_is_missed(own_database: str) -> None:
    job = start(make_workshop())
    job.whole()
    gone = Entry.objects.filter(subject=job.mounting.id, kind="tap")[0]
    with without_guards():
        Leaf.objects.filter(entry=gone).delete()
        run("DELETE FROM ledger_entry WHERE id = %s", stored_id(gone))
    assert any("with another root" in what for what in check(job.mounting.id).differences)
