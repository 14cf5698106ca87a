"""A heater's log becomes part of a mounting: kept as sent whatever it is, read again when it is judged."""

import hashlib
import uuid
from pathlib import Path

import pytest

from qrecords.evidence import storage
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import take_in_log
from qrecords.ledger.errors import NotRecordedError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.actions.attaching import hand_in_log, receive_file
from qrecords.mountings.errors import NeedsReasonError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.logs import log_here
from qrecords.mountings.queries import case_of
from qrecords.outbox.models import Job as Queued
from qrecords.steps.acts import LogSaid
from qrecords.steps.case import Case
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import MOST_BYTES, LogTable
from tests.cast import Job, make_workshop, start

pytestmark = pytest.mark.django_db
LOG = "t [s];inner [°C]\n0;20,5\n1;21,5\n2;22,5\n".encode()
INNER = LogSaid({"inner ring": 2}, "°C")


@pytest.fixture(autouse=True)
def _of_its_own(evidence_dir: Path) -> None:
    """Nothing is received into the folder of another test."""
    log_here.cache_clear()


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


def hand_in(job: Job, content: bytes = LOG, said: LogSaid = INNER, **more: object) -> Entry:
    return hand_in_log(
        acting=job.shop.acting("fitter"),
        mounting=job.mounting,
        entry_id=new_id(),
        sha256=hashlib.sha256(content).hexdigest(),
        size=len(content),
        media="text/csv",
        said=said,
        **more,  # type: ignore[arg-type]  # the names of the action
    )


def send(job: Job, content: bytes = LOG) -> Entry:
    acting = job.shop.acting("fitter")
    entry, _new = receive_file(acting=acting, mounting=job.mounting, taken=take_in_log([content]))
    return entry


def case(job: Job) -> Case:
    return case_of(job.mounting)


@pytest.mark.parametrize("bytes_first", [False, True])
def test_its_samples_stand_in_the_case_whichever_comes_first(job: Job, bytes_first: bool) -> None:
    for act in (send, hand_in) if bytes_first else (hand_in, send):
        act(job)
    (file,) = case(job).log_files
    assert (file.received, file.said) == (True, INNER)
    table = case(job).logs[file.sha256]
    assert isinstance(table, LogTable)
    assert table.columns[0].values == (20.5, 21.5, 22.5)


def test_handed_in_and_not_yet_received_it_has_no_samples(job: Job) -> None:
    hand_in(job)
    (file,) = case(job).log_files
    assert (file.received, case(job).logs) == (False, {})


def test_what_cannot_be_read_is_kept_as_it_was_sent(job: Job) -> None:
    picture_of_a_log = b"%PDF-1.7\x00 a printed curve"
    hand_in(job, picture_of_a_log)
    received = send(job, picture_of_a_log)
    (file,) = case(job).log_files
    assert storage.original(file.sha256).read_bytes() == picture_of_a_log
    assert isinstance(case(job).logs[file.sha256], LogUnreadableError)
    assert b"application/octet-stream" in bytes(received.payload)


def test_a_file_that_is_gone_is_missed_and_not_invented(job: Job) -> None:
    hand_in(job)
    send(job)
    (file,) = case(job).log_files
    storage.original(file.sha256).unlink()
    log_here.cache_clear()
    assert (case(job).log_files[0].received, case(job).logs) == (True, {})


def test_a_log_is_no_photo_and_no_small_picture_is_made_of_it(job: Job) -> None:
    job.photograph("seat")
    (photo,) = case(job).photos
    hand_in(job)
    send(job)
    assert [each.sha256 for each in case(job).photos] == [photo.sha256]
    assert hashlib.sha256(LOG).hexdigest() not in str(list(Queued.objects.values_list("argument", flat=True)))


def test_another_log_takes_its_place_with_a_reason_and_both_stay(job: Job) -> None:
    wrong = hand_in(job)
    with pytest.raises(NeedsReasonError):
        hand_in(job, said=LogSaid({"inner ring": 2}, "°F"), instead_of=wrong.id)
    hand_in(job, said=LogSaid({"inner ring": 2}, "°F"), instead_of=wrong.id, reason="the heater shows °F")
    assert [file.replaced for file in case(job).log_files] == [True, False]


def test_it_takes_the_place_of_no_entry_that_is_none(job: Job) -> None:
    with pytest.raises(NotRecordedError):
        hand_in(job, instead_of=uuid.UUID(int=7), reason="of another mounting")


def test_more_than_a_heater_writes_is_refused(job: Job) -> None:
    with pytest.raises(FileRefusedError) as caught:
        take_in_log([b"0;20\n" * (MOST_BYTES // 5 + 1)])
    assert caught.value.code == "too-large"


def test_judging_again_says_the_same(job: Job) -> None:
    hand_in(job)
    send(job)
    first = [finding.digest for finding in judged_now(job.mounting).findings]
    log_here.cache_clear()
    assert [finding.digest for finding in judged_now(job.mounting).findings] == first
