"""The case document of a mounting: judged elsewhere it gives what the record itself was judged to be."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from pytest_django import Settings

from qrecords.evidence.intake import take_in_log
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions.attaching import receive_file
from qrecords.mountings.actions.finishing import withdraw
from qrecords.mountings.actions.keeping import keep_unread
from qrecords.mountings.judging import judged_now
from qrecords.mountings.logs import log_here
from qrecords.mountings.queries import case_with_document
from qrecords.people.permissions import Action
from qrecords.steps.answers import Absent, State
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.interchange.answer import finding_document, judgement
from qrecords.steps.interchange.reading import CaseRead, read_case
from qrecords.steps.log_text import LogTable
from qrecords.steps.transitions import state_of
from qrecords.workshop.queries import procedure_by_digest
from tests.cast import Job, make_workshop, start
from tests.mountings.test_heating_log import LOG, hand_in
from tests.rights.scenes import doubtful, finished
from tests.workshop.own_copy import approve, propose

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def evidence_dir(tmp_path: Path, settings: Settings) -> None:
    settings.EVIDENCE_DIR = tmp_path / "evidence"
    log_here.cache_clear()


def signed() -> Job:
    job = finished()
    job.sign()
    return job


def unread() -> Job:
    """What could not be read when it came, a correction, a check that took the place of work."""
    job = start(make_workshop())
    job.receive()
    job.measure()
    job.say("measurement", reason="read again", shaft=("21", "°C"))
    job.say("measurement", who="inspector", check=True, reason="own reading", bearing=("20.5", "°C"))
    job.say("clearance_before", g0=Absent(State.NOT_POSSIBLE, "no blade goes in"))
    keep_unread(
        acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(), right=Action.RECORD,
        sent='{"step": "polishing"}', why="step",
    )  # fmt: skip
    return job


def withdrawn() -> Job:
    job = start(make_workshop())
    job.receive()
    withdraw(
        acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(), reason="the wrong shaft"
    )
    return job


def of_own_tables() -> Job:
    """Opened under a row of the site's own copy, and another one in force since."""
    shop = make_workshop()
    approve(shop, propose(shop))
    job = start(shop)
    approve(shop, propose(shop, values=["23", "45"]))
    job.measure()
    job.bore()
    job.say("clearance_before", g0=("44.5", "um"), method="feeler")
    return job


def with_logs() -> Job:
    """Heated, with two logs of the heater: one in UTF-8, one that is not text at all."""
    job = finished()
    for content in (LOG, b"t [s];inner [\xb0C]\r\n0;20,5\r\n60;95,5\r\n", b"PK\x03\x04"):
        hand_in(job, content)
        acting = job.shop.acting("fitter")
        receive_file(acting=acting, mounting=job.mounting, taken=take_in_log([content]))
    return job


SCENES: dict[str, Callable[[], Job]] = {
    scene.__name__: scene for scene in (signed, doubtful, unread, withdrawn, of_own_tables, with_logs)
}


def samples(log: LogTable | LogUnreadableError) -> Any:
    return vars(log) if isinstance(log, LogTable) else str(log)


def read_back(job: Job) -> CaseRead:
    """Written out and read in again, as another program would."""
    _, document = case_with_document(job.mounting)
    return read_case(json.dumps(document).encode())


@pytest.mark.parametrize("scene", SCENES.values(), ids=SCENES)
def test_it_is_judged_as_the_record_itself_to_the_last_digest(scene: Callable[[], Job]) -> None:
    job = scene()
    read = read_back(job)
    answer, here = judgement(read, "test"), judged_now(job.mounting)
    assert answer["findings"] == [finding_document(here.case, finding) for finding in here.findings]
    assert (answer["state"], answer["unread"]) == (state_of(here.case).value, list(here.case.unread))
    assert (answer["doubts"], answer["procedure"]["given"]) == ([], True)
    assert (read.case.leaves, read.case.tables.digest) == (here.case.leaves, here.case.tables.digest)
    assert read.case.log_files == here.case.log_files
    assert {name: samples(log) for name, log in read.case.logs.items()} == {
        name: samples(log) for name, log in here.case.logs.items()
    }


def test_it_gives_the_digests_of_the_judgement_that_was_stored_at_sign_off() -> None:
    job = signed()
    stored: list[Any] = [
        finding
        for entry in entries_of(job.mounting.id)
        if entry.kind == "judgement" and entry.payload["body"]["said"]["occasion"] == "sign-off"
        for finding in entry.payload["body"]["seen"]["findings"]
    ]
    assert stored
    found = {f["digest"]: f for f in judgement(read_back(job), "test")["findings"]}
    for finding in stored:
        assert of_these(found[finding["digest"]], finding) == finding


def of_these(found: Any, stored: Any) -> Any:
    """What of an answer was stored: an answer says more, and in parts."""
    if not isinstance(stored, dict):
        return found
    return {name: of_these(found[name], stored[name]) for name in stored}


def test_it_takes_two_queries_and_one_once_its_procedure_is_known() -> None:
    job = signed()
    procedure_by_digest.cache_clear()
    for queries in (2, 1):
        with CaptureQueriesContext(connection) as captured:
            case_with_document(job.mounting)
        assert len(captured) == queries
