"""The fixtures that others build on do what they say."""

import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http import HTTPStatus
from uuid import UUID

import pytest
from django.db import connection, transaction
from pytest_django.live_server_helper import LiveServer

from qrecords.ledger import keys
from qrecords.ledger.models import Head
from qrecords.ledger.queries import entries_of
from qrecords.ledger.verifying import verify
from qrecords.people.models import Person
from tests.cast import Job, make_workshop, start
from tests.kept import every_row, values


def test_what_one_test_commits_the_next_does_not_see(own_database: str) -> None:
    Head.objects.update(size=99)
    assert connection.settings_dict["NAME"] == own_database


@pytest.mark.django_db
def test_the_shared_database_is_as_migrated() -> None:
    assert Head.objects.get().size == 0


@pytest.mark.django_db
def test_a_workshop_that_is_copied_is_the_one_that_the_actions_made() -> None:
    with undone():
        made = make_workshop()
        written = {model: list(map(values, rows.values())) for model, rows in every_row().items()}
    assert Head.objects.get().size == 0
    copied = make_workshop()
    assert copied == made
    assert copied is not made
    assert {model: list(map(values, rows.values())) for model, rows in every_row().items()} == written
    start(copied).receive()
    (only,) = verify(connection, keys.public_key()).differences
    assert "does not begin with the entry that opens it" in str(only)  # no installation was opened here


@contextmanager
def undone() -> Iterator[None]:
    """What happens inside is taken back at the end."""
    whole = transaction.atomic()
    whole._from_testcase = True  # type: ignore[attr-defined]  # so that a durable one may stand inside
    with whole:
        yield
        transaction.set_rollback(True)


def test_the_server_answers_over_http(server: LiveServer) -> None:
    try:
        with urllib.request.urlopen(f"{server.url}/no-such-page") as answer:  # noqa: S310 - http, our own
            status = answer.status
    except urllib.error.HTTPError as error:
        status = error.code
        error.close()
    assert status in (HTTPStatus.NOT_FOUND, HTTPStatus.OK)


def entries_of_a_received_job(between: Callable[[Job], object] = lambda job: None) -> list[UUID]:
    """Told in a database that forgets it afterwards."""
    empty = transaction.savepoint()
    job = start(make_workshop())
    between(job)
    job.receive()
    told = [said.id for said in entries_of(job.mounting.id)]
    transaction.savepoint_rollback(empty)
    return told


def take_back_a_measurement(job: Job) -> None:
    before = transaction.savepoint()
    job.measure()
    transaction.savepoint_rollback(before)


@pytest.mark.django_db
def test_what_the_cast_did_before_in_the_same_words_is_copied_with_its_identifiers() -> None:
    assert entries_of_a_received_job() == entries_of_a_received_job()


def taken_back(job: Job, act: Callable[[], object]) -> list[UUID]:
    """What stood after an act, which then never was."""
    here, clock = transaction.savepoint(), job.shop.clock
    act()
    told = [said.id for said in entries_of(job.mounting.id)]
    transaction.savepoint_rollback(here)
    job.shop.clock = clock
    return told


@pytest.mark.django_db
def test_an_act_that_is_taken_back_with_its_clock_is_copied_when_it_is_done_again() -> None:
    job = start(make_workshop())
    assert taken_back(job, job.receive) == taken_back(job, job.receive)
    assert taken_back(job, lambda: job.tap("heater on")) != taken_back(job, job.receive)
    assert taken_back(job, job.receive) == taken_back(job, job.receive)


@pytest.mark.django_db
def test_a_rollback_forgets_nothing_that_was_written_before_it() -> None:
    job = start(make_workshop())
    copied = taken_back(job, job.receive)
    Person.objects.update(first_password=False)
    assert taken_back(job, job.receive) != copied
    assert taken_back(job, job.receive) != copied


@pytest.mark.django_db
@pytest.mark.parametrize(
    "between",
    [
        lambda job: Person.objects.update(first_password=False),
        lambda job: job.tap("heater on"),
        take_back_a_measurement,
    ],
    ids=["a row written by hand", "another act", "an act taken back"],
)
def test_after_anything_else_the_cast_acts_for_real(between: Callable[[Job], object]) -> None:
    copied = entries_of_a_received_job()
    told = entries_of_a_received_job(between)
    assert len(told) >= len(copied)
    assert copied[-1] not in told
