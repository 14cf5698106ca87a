"""The fixtures that others build on do what they say."""

import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from http import HTTPStatus

import pytest
from django.db import connection, transaction
from pytest_django.live_server_helper import LiveServer

from qrecords.ledger import keys
from qrecords.ledger.models import Head
from qrecords.ledger.verifying import verify
from tests.cast import make_workshop, start
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
