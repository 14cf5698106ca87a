"""A batch: one transaction and one receipt for each entry; one bad entry stops nothing else."""

import json
from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings.queries import case_of
from qrecords.tracing.record import lines_of
from qrecords.web.auditor.saying import saying
from tests.api.caller import Caller, typed
from tests.cast import Job, Workshop, start


def capture(**fields: Any) -> dict[str, Any]:
    return {"kind": "capture", "step": "identification", "entry_id": new_id(), "fields": typed(**fields)}


def test_each_entry_has_its_own_outcome(shop: Workshop, fitter: Caller) -> None:
    address = f"mountings/{start(shop).mounting.id}/entries/"
    before = Entry.objects.count()
    good, tap = capture(marking="6212 C3"), {"kind": "tap", "entry_id": new_id(), "what": "alarm"}
    bad = {"kind": "looked", "entry_id": new_id(), "digest": "0" * 64, "explanation": "seen"}
    sent = fitter.post(address, entries=[good, bad, tap])
    assert sent.status == 200
    outcomes = sent.document["results"]
    assert [outcome["status"] for outcome in outcomes] == [201, 422, 201]
    assert outcomes[1]["problem"]["code"] == "unknown-finding"
    assert outcomes[0]["receipt"]["entry"] == str(good["entry_id"])
    assert outcomes[2]["receipt"]["index"] == outcomes[0]["receipt"]["index"] + 1
    assert Entry.objects.count() == before + 2


def test_a_batch_sent_again_gives_the_first_receipts(shop: Workshop, fitter: Caller) -> None:
    address = f"mountings/{start(shop).mounting.id}/entries/"
    entries = [capture(marking="6212 C3"), {"kind": "tap", "entry_id": new_id(), "what": "alarm"}]
    first, again = fitter.post(address, entries=entries), fitter.post(address, entries=entries)
    assert [outcome["status"] for outcome in again.document["results"]] == [200, 200]
    receipts = [[o["receipt"] for o in sent.document["results"]] for sent in (first, again)]
    assert receipts[0] == receipts[1]


def test_what_a_batch_cannot_hold_is_said_for_each(shop: Workshop, fitter: Caller) -> None:
    """No id, and acts of authority, under whatever form."""
    address = f"mountings/{start(shop).mounting.id}/entries/"
    entries: list[dict[str, Any]] = [
        {"kind": "release", "entry_id": new_id(), "hold": "fit"},
        {"kind": "signature", "entry_id": new_id(), "meaning": "performed"},
        {"kind": "tap", "what": "alarm"},
        {"kind": "tap", "entry_id": "x", "what": "alarm"},
        {"kind": "undo", "entry_id": new_id(), "tap": new_id()},
        {},
    ]
    outcomes = fitter.post(address, entries=entries).document["results"]
    assert [o["status"] for o in outcomes] == [400, 400, 400, 400, 409, 400]


UNREADABLE: list[dict[str, Any]] = [
    {"kind": "capture", "fields": typed(marking="6212")},
    {"kind": "capture", "step": "cryogenics", "fields": typed(a="b")},
    {"kind": "capture", "step": "identification", "fields": typed(hologram="seen")},
    {"kind": "capture", "step": "identification", "fields": typed(package="somewhere")},
    {"kind": "capture", "step": "identification", "fields": {"marking": {"spoken": "6212", "loud": 0.5}}},
    {"kind": "tap", "what": "sang"},
    {"kind": "tap", "what": "alarm", "mood": "calm", "at_device": "yesterday"},
    {"kind": "weather", "rain": True},
    {"kind": ["capture"], "step": 7},
]


@pytest.mark.parametrize("item", UNREADABLE)
def test_what_cannot_be_read_is_kept_exactly_as_it_was_sent(
    shop: Workshop, fitter: Caller, item: dict[str, Any]
) -> None:
    job = start(shop)
    sent = {"entry_id": str(new_id()), **item}
    address = f"mountings/{job.mounting.id}/entries/"
    first, again = (fitter.post(address, entries=[sent]).document["results"][0] for _ in range(2))
    assert (first["status"], again["status"]) == (201, 200)
    assert first["receipt"] == again["receipt"] and first["problem"]["detail"]
    entry = entries_of(job.mounting.id)[-1]
    assert (entry.kind, str(entry.id)) == ("unread", sent["entry_id"])
    assert json.loads(entry.payload["body"]["said"]["sent"]) == sent
    case = case_of(job.mounting)
    assert case.unread == (sent["entry_id"],) and case.worked_by == {str(shop.people["fitter"].id)}
    assert fitter.post(address, entries=[{**sent, "more": "x"}]).document["results"][0]["status"] == 409


def test_what_cannot_be_read_needs_the_right_to_what_it_says_it_is(shop: Workshop) -> None:
    job, inspector = start(shop), Caller.by_session(shop, "inspector")
    work = {"kind": "capture", "step": "cryogenics", "fields": {}, "entry_id": new_id()}
    address = f"mountings/{job.mounting.id}/entries/"
    check = {**work, "entry_id": new_id(), "check": True}
    outcomes = inspector.post(address, entries=[work, check]).document["results"]
    assert [outcome["status"] for outcome in outcomes] == [403, 201]
    assert case_of(job.mounting).worked_by == frozenset()
    reader = Caller.by_token(shop, "fitter", "read", "tap")
    assert reader.post(address, entries=[work]).document["results"][0]["status"] == 403


def test_what_cannot_be_read_is_bounded(shop: Workshop, fitter: Caller) -> None:
    item = {"kind": "weather", "entry_id": new_id(), "rain": "x" * 70_000}
    outcome = fitter.post(f"mountings/{start(shop).mounting.id}/entries/", entries=[item])
    assert outcome.document["results"][0]["status"] == 413


def test_a_slip_that_nobody_can_confirm_any_more_is_filed_and_marked(shop: Workshop, fitter: Caller) -> None:
    job = start(shop)
    item = {
        "kind": "capture",
        "step": "measurement",
        "entry_id": new_id(),
        "fields": typed(shaft=("68", "°C")),
    }
    sent = fitter.post(f"mountings/{job.mounting.id}/entries/", entries=[item]).document["results"][0]
    assert sent["status"] == 201 and "problem" not in sent
    entry = entries_of(job.mounting.id)[-1]
    assert (entry.kind, entry.payload["body"]["seen"]["unconfirmed"]) == ("capture", ["shaft"])
    assert case_of(job.mounting).said("measurement", "shaft").base == 68_000  # type: ignore[union-attr]
    assert "never confirmed" in saying_of(job)


def test_a_correction_sent_later_without_a_reason_stands_and_says_that_none_was_given(
    shop: Workshop, fitter: Caller
) -> None:
    job = start(shop)
    first = job.say("identification", marking="6212 C4", package="intact")
    item = capture(marking="6212 C3", package="intact")
    sent = fitter.post(f"mountings/{job.mounting.id}/entries/", entries=[item]).document["results"][0]
    assert sent["status"] == 201
    payload = entries_of(job.mounting.id)[-1].payload
    assert (payload["prev"], payload["reason"]) == (str(first.id), None)
    assert payload["body"]["seen"]["replaces"] == {"marking": str(first.id)}
    assert payload["body"]["seen"]["reason"] == "none given"
    assert case_of(job.mounting).said("identification", "marking").word == "6212 C3"  # type: ignore[union-attr]
    assert "no reason given" in saying_of(job)


def saying_of(job: Job) -> str:
    """The newest entry in words."""
    return str(saying(lines_of(entries_of(job.mounting.id))[-1]))


def test_a_token_does_in_a_batch_only_what_it_was_made_for(shop: Workshop) -> None:
    address = f"mountings/{start(shop).mounting.id}/entries/"
    caller = Caller.by_token(shop, "fitter", "read", "tap")
    tap = {"kind": "tap", "entry_id": new_id(), "what": "alarm"}
    outcomes = caller.post(address, entries=[capture(marking="6212 C3"), tap]).document["results"]
    assert [outcome["status"] for outcome in outcomes] == [403, 201]
