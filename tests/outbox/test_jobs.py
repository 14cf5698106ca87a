"""A job exists exactly when its transaction did, is done once where all goes well, and never gets lost."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from pathlib import Path

import pytest
from django.db import connections, transaction
from django.utils import timezone

from qrecords.outbox import waking
from qrecords.outbox.jobs import UnknownKindError, claim, drain, enqueue, failing, work
from qrecords.outbox.models import Job


def come_due() -> None:
    """Let the pause of every job pass."""
    Job.objects.update(run_after=timezone.now() - timedelta(seconds=1))


@pytest.mark.django_db
def test_a_job_is_done_with_its_argument(notes: Path) -> None:
    enqueue("note", path=str(notes), text="80,009 mm")
    assert drain() == 1
    assert notes.read_text() == "80,009 mm\n"
    assert drain() == 0


@pytest.mark.django_db
def test_a_job_of_a_transaction_that_failed_never_was(notes: Path) -> None:
    with pytest.raises(LookupError), transaction.atomic():
        enqueue("note", path=str(notes), text="x")
        raise LookupError
    assert not Job.objects.exists()


@pytest.mark.django_db
def test_a_kind_nobody_does_is_refused_at_once() -> None:
    with pytest.raises(UnknownKindError):
        enqueue("polish")


@pytest.mark.django_db
def test_a_failed_job_keeps_its_error_waits_and_is_tried_again(notes: Path) -> None:
    job = enqueue("fail_once", path=str(notes))
    assert drain() == 1
    job.refresh_from_db()
    assert job.done_at is None
    assert job.error == "RuntimeError: the camera's memory card is not in yet"
    assert drain() == 0
    come_due()
    assert drain() == 1
    job.refresh_from_db()
    assert (job.tries, job.error) == (2, "")
    assert job.done_at is not None


@pytest.mark.django_db
def test_a_claimed_job_whose_worker_died_comes_due_again(notes: Path) -> None:
    enqueue("note", path=str(notes), text="once more")
    assert claim() is not None  # and then the power went
    assert claim() is None
    come_due()
    assert drain() == 1
    assert notes.read_text() == "once more\n"


@pytest.mark.django_db
def test_every_try_waits_twice_as_long_up_to_six_hours() -> None:
    enqueue("note", path="/nowhere/at/all", text="x")
    pauses = []
    for _ in range(12):
        come_due()
        job = claim()
        assert job is not None
        pauses.append(round((job.run_after - timezone.now()).total_seconds()))
    assert pauses[:4] == [60, 120, 240, 480]
    assert pauses[-1] == 6 * 3600


@pytest.mark.django_db
def test_what_keeps_failing_is_shown() -> None:
    job = enqueue("note", path="/nowhere/at/all", text="x")
    for _ in range(3):
        assert failing() == []
        come_due()
        drain()
    assert failing() == [job]


@pytest.mark.django_db
def test_one_bad_job_does_not_keep_the_next_from_being_done(notes: Path) -> None:
    enqueue("note", path="/nowhere/at/all", text="x")
    enqueue("note", path=str(notes), text="good")
    assert drain() == 2
    assert notes.read_text() == "good\n"


@pytest.mark.django_db
def test_a_job_whose_handler_was_retired_fails_like_any_other() -> None:
    job = enqueue("note", path="x", text="x")
    Job.objects.update(kind="retired")
    claimed = claim()
    assert claimed is not None
    assert not work(claimed)
    job.refresh_from_db()
    assert "retired" in job.error


def test_eight_workers_do_each_job_once(own_database: str, notes: Path) -> None:
    for number in range(24):
        enqueue("note", path=str(notes), text=str(number))

    def sweep(_: int) -> None:
        try:
            drain()
        finally:
            connections.close_all()

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(sweep, range(8)))
    assert sorted(map(int, notes.read_text().split())) == list(range(24))


def test_the_worker_is_woken_by_the_commit_and_not_before(own_database: str, notes: Path) -> None:
    waking.work_waits.clear()
    with transaction.atomic():
        enqueue("note", path=str(notes), text="x")
        assert not waking.work_waits.is_set()
    assert waking.work_waits.is_set()
