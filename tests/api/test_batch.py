"""A batch: one transaction and one receipt for each entry; one bad entry stops nothing else."""

from typing import Any

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from tests.api.caller import Caller, typed
from tests.cast import Workshop, start


def capture(**fields: Any) -> dict[str, Any]:
    return {"kind": "capture", "step": "identification", "entry_id": new_id(), "fields": typed(**fields)}


def test_each_entry_has_its_own_outcome(shop: Workshop, fitter: Caller) -> None:
    address = f"mountings/{start(shop).mounting.id}/entries/"
    before = Entry.objects.count()
    good, tap = capture(marking="6212 C3"), {"kind": "tap", "entry_id": new_id(), "what": "alarm"}
    bad = capture(package="somewhere")
    sent = fitter.post(address, entries=[good, bad, tap])
    assert sent.status == 200
    outcomes = sent.document["results"]
    assert [outcome["status"] for outcome in outcomes] == [201, 422, 201]
    assert outcomes[1]["problem"]["fields"][0]["field"] == "package"
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
    address = f"mountings/{start(shop).mounting.id}/entries/"
    entries: list[dict[str, Any]] = [
        {"kind": "release", "entry_id": new_id(), "hold": "fit"},
        {"kind": "capture", "entry_id": new_id(), "fields": typed(marking="6212")},
        {"kind": "tap", "what": "alarm"},
        {"kind": "tap", "entry_id": "x", "what": "alarm"},
        {"kind": "undo", "entry_id": new_id(), "tap": new_id()},
        {"kind": "capture", "step": "nowhere", "entry_id": new_id(), "fields": typed(a="b")},
        {},
    ]
    outcomes = fitter.post(address, entries=entries).document["results"]
    assert [o["status"] for o in outcomes] == [400, 400, 400, 400, 409, 404, 400]


def test_a_token_does_in_a_batch_only_what_it_was_made_for(shop: Workshop) -> None:
    address = f"mountings/{start(shop).mounting.id}/entries/"
    caller = Caller.by_token(shop, "fitter", "read", "tap")
    tap = {"kind": "tap", "entry_id": new_id(), "what": "alarm"}
    outcomes = caller.post(address, entries=[capture(marking="6212 C3"), tap]).document["results"]
    assert [outcome["status"] for outcome in outcomes] == [403, 201]
