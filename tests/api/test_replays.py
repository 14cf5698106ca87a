"""The same sent twice is one entry; the same id with another content is refused and shown."""

from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from tests.api.caller import Caller, typed
from tests.cast import PASSWORD, REQUIREMENT, Job, Workshop, start

SHA256 = "ab" * 32
SINCE = "2026-03-01T00:00:00Z"


@pytest.fixture
def job(shop: Workshop) -> Job:
    made = start(shop)
    made.receive()
    made.measure()
    made.bore()
    return made


def replayed(caller: Caller, address: str, first: dict[str, Any], other: dict[str, Any]) -> None:
    """201, then 200 with the very receipt, then 409 for another content; one entry more in all."""
    entry_id = new_id()
    made = caller.post(address, entry_id=entry_id, **first)
    assert made.status == 201, made
    count = Entry.objects.count()
    again = caller.post(address, entry_id=entry_id, **first)
    assert (again.status, again.document) == (200, made.document)
    refused = caller.post(address, entry_id=entry_id, **{**first, **other})
    assert (refused.status, refused.code) == (409, "different-content")
    assert refused.document["facts"]["entry_id"] == str(entry_id)
    assert Entry.objects.count() == count


FACTS: dict[str, tuple[str, dict[str, Any], dict[str, Any]]] = {
    "capture": (
        "captures/running/",
        {"fields": typed(turns="smooth")},
        {"fields": typed(turns="rough")},
    ),
    "tap": ("taps/", {"what": "heater on"}, {"what": "alarm"}),
    "photo": (
        "photos/",
        {"shot": "seat", "sha256": SHA256, "size": 10, "media": "image/jpeg", "camera": True},
        {"camera": False},
    ),
}
REGISTERS: dict[str, tuple[str, dict[str, Any], dict[str, Any]]] = {
    "machine": ("machines/", {"name": "Pump", "owner": "Quarry"}, {"name": "Fan"}),
    "bearing": ("bearings/", {"designation": "6212 C3"}, {"designation": "6312"}),
    "equipment": (
        "equipment/",
        {"kind": "feeler set", "mark": "F-9", "document": {"blades_nm": [30_000]}, "valid_from": SINCE},
        {"mark": "F-10"},
    ),
}


@pytest.mark.parametrize(("act", "first", "other"), FACTS.values(), ids=FACTS)
def test_a_fact_sent_twice(
    fitter: Caller, job: Job, act: str, first: dict[str, Any], other: dict[str, Any]
) -> None:
    replayed(fitter, f"mountings/{job.mounting.id}/{act}", first, other)


@pytest.mark.parametrize(("address", "first", "other"), REGISTERS.values(), ids=REGISTERS)
def test_a_register_row_sent_twice(
    inspector: Caller, job: Job, address: str, first: dict[str, Any], other: dict[str, Any]
) -> None:
    replayed(inspector, address, first, other)


def test_an_opening_sent_twice(fitter: Caller, job: Job) -> None:
    first = {"journal": job.journal.id, "bearing": job.bearing.id, "rebuild": job.rebuild.id}
    bearing = fitter.act("bearings/", designation="6212 C3").document["entry"]
    replayed(fitter, "mountings/", first, {"bearing": bearing})


def test_a_requirement_sent_twice(fitter: Caller, job: Job) -> None:
    address = f"journals/{job.journal.id}/requirements/"
    replayed(fitter, address, {"document": REQUIREMENT}, {"document": {**REQUIREMENT, "revision": "D"}})


def test_a_release_sent_twice(inspector: Caller, job: Job) -> None:
    job.own_reading()
    replayed(
        inspector,
        f"mountings/{job.mounting.id}/releases/",
        {"hold": "fit", "shown": str(job.shown())},
        {"hold": "cold"},
    )


def test_a_decision_sent_twice(shop: Workshop, job: Job) -> None:
    job.say("running", turns="rough")
    digest = job.finding("turns-freely").digest
    engineer = Caller.by_session(shop, "engineer")
    first = {"decision": "measure again", "digests": [digest], "reason": "new seal, runs in"}
    replayed(engineer, f"mountings/{job.mounting.id}/decisions/", first, {"reason": "because"})


def test_ready_sent_twice_is_one_signature(shop: Workshop, job: Job) -> None:
    here = Caller.by_session(shop, "fitter")
    address, body = (
        f"mountings/{job.mounting.id}/ready/",
        {"entry_id": new_id(), "password": PASSWORD, "shown": str(job.shown())},
    )
    assert [here.post(address, **body).status for _ in range(2)] == [201, 200]


def test_times_and_counters_may_differ_in_a_replay(fitter: Caller, job: Job) -> None:
    address, entry_id = f"mountings/{job.mounting.id}/taps/", new_id()
    first = fitter.post(address, entry_id=entry_id, what="alarm", counter=7, at_device="2026-03-02T08:30:00Z")
    later = fitter.post(address, entry_id=entry_id, what="alarm", counter=8, at_device="2026-03-02T08:31:00Z")
    assert (first.status, later.status) == (201, 200)
    assert later.document == first.document


def test_an_answer_that_changes_needs_a_reason_and_keeps_the_first(fitter: Caller, job: Job) -> None:
    address = f"mountings/{job.mounting.id}/captures/measurement/"
    fields = typed(shaft=("21", "°C"))
    refused = fitter.post(address, entry_id=new_id(), fields=fields)
    assert (refused.status, refused.code) == (409, "needs-reason")
    assert refused.document["facts"]["keys"] == ["shaft"]
    fitter.act(address, fields=fields, reason="thermometer read again")
