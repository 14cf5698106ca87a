"""Heating logs at the API: handed in by an entry, sent as bytes, judged in the case, read as samples."""

import hashlib

import pytest

from qrecords.ledger.identifiers import new_id
from tests.api.caller import Answered, Caller
from tests.cast import Job, Workshop, start
from tests.steps.test_heating_log import HEATED, OUTER, text

LOG = text(HEATED, OUTER).encode()
SAID = {"columns": {"inner ring": 2, "outer ring": 3}}


def digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


@pytest.fixture
def job(shop: Workshop) -> Job:
    return start(shop)


def hand_in(fitter: Caller, job: Job, content: bytes = LOG, **said: object) -> Answered:
    about = {"entry_id": str(new_id()), "sha256": digest(content), "size": len(content), "media": "text/csv"}
    return fitter.post(f"mountings/{job.mounting.id}/logs/", **about, **said)


def send(fitter: Caller, job: Job, content: bytes = LOG, named: str = "") -> Answered:
    address = f"mountings/{job.mounting.id}/logs/{named or digest(content)}/"
    return fitter.send("PUT", address, content, "text/csv")


def logs(fitter: Caller, job: Job) -> list[dict[str, object]]:
    found: list[dict[str, object]] = fitter.get(f"mountings/{job.mounting.id}/").document["logs"]
    return found


def test_a_log_stands_judged_in_the_case(fitter: Caller, job: Job) -> None:
    assert hand_in(fitter, job, log=SAID).status == 201
    (waiting,) = logs(fitter, job)
    assert (waiting["received"], waiting["curves"]) == (False, [])
    assert send(fitter, job).status == 201 and send(fitter, job).status == 200
    (here,) = logs(fitter, job)
    assert (here["received"], here["said"]) == (True, SAID)
    curves = here["curves"]
    assert isinstance(curves, list)
    assert [(c["ring"], c["verdict"], c["peak_mdegc"]) for c in curves] == [
        ("inner ring", "conforming", 95_000),
        ("outer ring", "conforming", 86_000),
    ]


def test_its_samples_are_read_on_demand(fitter: Caller, job: Job) -> None:
    address = f"mountings/{job.mounting.id}/logs/{digest(LOG)}/"
    assert fitter.get(address).status == 404
    hand_in(fitter, job, log=SAID)
    send(fitter, job)
    told = fitter.get(address).document
    assert (told["times_s"][:2], told["columns"][0]["values"][0], told["unread"]) == ([0, 2], 20.0, None)


def test_what_cannot_be_read_is_kept_and_told_as_unread(fitter: Caller, job: Job) -> None:
    printed = b"%PDF-1.7\x00 a printed curve"
    hand_in(fitter, job, printed, log=SAID)
    assert send(fitter, job, printed).status == 201
    told = fitter.get(f"mountings/{job.mounting.id}/logs/{digest(printed)}/").document
    assert told["unread"]["reason"] == "not-text"


def test_other_bytes_than_were_named_are_refused(fitter: Caller, job: Job) -> None:
    refused = send(fitter, job, LOG, named="0" * 64)
    assert (refused.status, refused.code) == (422, "digest-differs")


@pytest.mark.parametrize(
    "log", [{"columns": {"cage": 2}}, {"columns": {"inner ring": 0}}, {"unit": "K"}, {"probe": "lost"}]
)
def test_what_is_said_of_a_log_is_asked_back_where_it_can_mean_nothing(
    fitter: Caller, job: Job, log: object
) -> None:
    assert hand_in(fitter, job, log=log).status == 400 and logs(fitter, job) == []


def test_one_takes_the_place_of_another_with_a_reason_only(fitter: Caller, job: Job) -> None:
    hand_in(fitter, job, log=SAID)
    first = logs(fitter, job)[0]["entry"]
    again = {"log": SAID | {"unit": "°C"}, "instead_of": first}
    assert hand_in(fitter, job, **again).code == "needs-reason"
    assert hand_in(fitter, job, **again, reason="the unit").status == 201
    assert [log["replaced"] for log in logs(fitter, job)] == [True, False]
