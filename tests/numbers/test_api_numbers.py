"""Every number field of the API: whatever is sent there, the answer is no 500 and names the field, what was
sent, the unit and the range; nothing is recorded of what is asked back, and the answer stays short."""

import json
import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pytest
from django.db import transaction

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.steps.procedure import STANDARD
from tests.api.addresses import filled
from tests.api.caller import Answered, Caller
from tests.api.two_sites import all_ids_of
from tests.cast import PASSWORD, REQUIREMENT, Job, make_workshop, start
from tests.numbers.api_fields import CAPTURED, COUNTS, DOCUMENTS, Row, found, known
from tests.numbers.spoilt import FAULTS, NO_NUMBER, SHOWN, spoilt

pytestmark = [pytest.mark.django_db, pytest.mark.asked_back]
LONGEST_ANSWER = 3_000
WRITTEN = [(operation, name) for operation, rows in DOCUMENTS.items() for name in rows]
SINCE = "2026-03-02T07:00:00Z"


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


def test_every_number_field_that_is_found_by_walking_has_a_row() -> None:
    assert known() == found()


def put(document: Mapping[str, Any], path: str, value: Any) -> dict[str, Any]:
    """The document with one of its numbers replaced; of a list the last."""
    name, _, rest = path.partition(".")
    held = document.get(name)
    if rest and isinstance(held, list):
        return {**document, name: [*held[:-1], put(held[-1], rest, value)]}
    if rest:
        return {**document, name: put(held or {}, rest, value)}
    return {**document, name: [*held[:-1], value] if isinstance(held, list) else value}


def sound(operation: str, name: str) -> dict[str, Any]:
    """A body whose every number is sound, of a kind of gear that has this field."""
    if "requirements" in operation:
        windows = {"limits_um": ["11", "30"], "interference_um": ["11", "45"], "bore_um": ["-19", "-4"]}
        taken = {"mass_from": "measured", "raceway_from": "drawing", "bore_source": "its own sheet"}
        unknown = {"designation": "XQ 77", "clearance_kind": "none"}
        return {"document": {**REQUIREMENT, **windows, **taken, **unknown}}
    if "procedures" in operation:
        visit = {"id": "visit", "kind": "witness", "party": "customer", "covers": ["bore"], "notice_min": 60}
        document = {**STANDARD, "revision": "B", "points": [visit]}
        return {
            "document": document,
            **({"reason": "x"} if "drafts" in operation else {"password": PASSWORD}),
        }
    sizes = (50_000_000, 60_000_000, 75_000_000)
    points = [{"size": size, "error": 4000, "expanded_u": 1200} for size in sizes]
    by_size = {"found_points": points, "left_points": points, "mpe": 4000, "interval_months": 12}
    gauge = {"expanded_u": 1200, "resolution": 1000, "range_nm": [50_000_000, 75_000_000], **by_size}
    feeler = {"blades_nm": [20_000, 30_000]}
    kind = "feeler set" if name == "blades_nm" else "outside micrometer"
    body: dict[str, Any] = {"document": feeler if name == "blades_nm" else gauge, "valid_from": SINCE}
    return body if "calibrations" in operation else {**body, "kind": kind, "mark": "NEW-1"}


def sent_as(row: Row, typed: str, like: object) -> Any:
    """A whole number where the document holds one, else the text as typed."""
    whole = isinstance(like, int) and typed not in NO_NUMBER.values() and typed
    return int(Decimal(typed)) if whole else typed


def address(operation: str, name: str, job: Job) -> str:
    piece = job.shop.gear["feeler" if name == "blades_nm" else "micrometer"]
    return filled(operation.removeprefix("POST "), {"journals": job.journal.id, "equipment": piece.id})


def wrong_with(answered: Answered, row: Row, name: str, typed: str, fault: str, recorded: int) -> str:
    """What is wrong with an answer; '' if nothing is."""
    if answered.status in (200, 201):
        return "" if fault in row.taken else f"taken: {typed[:SHOWN]}"
    if fault in row.taken:
        return f"asked although {row.taken[fault]}: {answered.document}"
    told = json.dumps(answered.document, ensure_ascii=False)
    likely = row.likely.split("|") if row.likely and fault not in NO_NUMBER else []
    ranged = any(said in told for said in (row.allowed, *likely))
    checks = {
        f"status {answered.status}": answered.status == 422,
        "does not name its field": name in told or (row.at != "" and row.at in told),
        "does not give the value back": given_back(typed, row, told, fault),
        "does not say the range": ranged,
        f"{recorded} recorded": recorded == 0,
        "long": len(answered.response.content) < LONGEST_ANSWER,
    }
    words = "; ".join(words for words, holds in checks.items() if not holds)
    return f"{words}: {told[:300]}" if words else ""


def given_back(typed: str, row: Row, told: str, fault: str) -> bool:
    """The text as sent, or the same number in the unit that is said."""
    if fault in NO_NUMBER or fault == "empty":
        return typed[:SHOWN] in told
    number = Decimal(typed) if row.per == 1 else Decimal(int(Decimal(typed))) / row.per
    numbers = re.findall(r"-?[0-9]+(?:[.][0-9]+)?", told.replace("−", "-"))
    return number in [Decimal(each) for each in numbers]


@pytest.mark.parametrize(("operation", "name"), WRITTEN, ids=[" ".join(each) for each in WRITTEN])
def test_a_spoilt_number_of_a_document_is_asked_back_in_words_or_may_be_true(
    job: Job, operation: str, name: str
) -> None:
    caller, row, body = (
        Caller.by_session(job.shop, "quality"),
        DOCUMENTS[operation][name],
        sound(operation, name),
    )
    if "requirements" in operation:
        caller = Caller.by_session(job.shop, "fitter")
    like = DOCUMENTS[operation] is not DOCUMENTS["POST journals/<uuid:id>/requirements/"]
    faults = {}
    for fault in FAULTS:
        if fault.startswith("°F") and "°C" not in row.allowed:
            continue
        typed, here, before = spoilt(row.sound, fault), transaction.savepoint(), Entry.objects.count()
        value = sent_as(row, typed, 1 if like and "." not in row.sound and name != "directions" else "")
        sent = {**body, "document": put(body["document"], name, value), "entry_id": new_id()}
        answered = caller.post(address(operation, name, job), **sent)
        recorded = Entry.objects.count() - before
        if wrong := wrong_with(answered, row, name.rpartition(".")[2], typed, fault, recorded):
            faults[fault] = wrong
        transaction.savepoint_rollback(here)
    assert faults == {}


@pytest.mark.parametrize("name", CAPTURED)
def test_a_spoilt_number_of_a_capture_is_asked_back_in_words_or_may_be_true(job: Job, name: str) -> None:
    caller, row, faults = Caller.by_session(job.shop, "fitter"), CAPTURED[name], {}
    step = name.split(".")[0]
    for fault in FAULTS:
        if fault.startswith("°F") and "°C" not in row.allowed:
            continue
        typed, here, before = spoilt(row.sound, fault), transaction.savepoint(), Entry.objects.count()
        answered = caller.post(
            f"mountings/{job.mounting.id}/captures/{step}/",
            entry_id=new_id(),
            fields={row.key: {"typed": typed, "unit": row.unit}},
        )
        if wrong := wrong_with(answered, row, row.key, typed, fault, Entry.objects.count() - before):
            faults[fault] = wrong
        transaction.savepoint_rollback(here)
    assert faults == {}


def nested(path: str, value: Any) -> dict[str, Any]:
    name, _, rest = path.partition(".")
    return {name: nested(rest, value) if rest else value}


COUNTED = sorted(each for each in found() if each.split(" ")[-1] in COUNTS)


@pytest.mark.parametrize("each", COUNTED)
def test_a_count_that_is_none_is_refused_with_what_it_may_be(job: Job, each: str) -> None:
    method, place, name = each.split(" ")
    ids = all_ids_of(job, digest=job.mounting.procedure_digest, entry=job.mounting.id, sha256="0" * 64)
    at = filled(place, {**ids, "mounting": job.mounting.id, "tap": new_id()})
    everybody = Caller.by_session(job.shop, "auditor" if method == "GET" else "inspector")
    before = Entry.objects.count()
    for value in ("sixty", "NaN", "", "9" * 100_000, -5, 1.5, 10**4000):
        answered = (
            everybody.get(at, **{name: value})
            if method == "GET"
            else everybody.post(at, **nested(name, value))
        )
        for who in ("fitter", "quality", "engineer"):
            if answered.status == 403:
                answered = Caller.by_session(job.shop, who).post(at, **nested(name, value))
        (why,) = [fault["why"] for fault in answered.document["fields"] if fault["field"] == name]
        assert answered.status == 400 and COUNTS[name] in why
        assert len(answered.response.content) < LONGEST_ANSWER
    assert Entry.objects.count() == before
