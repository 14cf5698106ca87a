"""The fixtures that others build on do what they say."""

import urllib.error
import urllib.request
from http import HTTPStatus

import pytest
from django.db import connection
from pytest_django.live_server_helper import LiveServer

from qrecords.ledger.models import Head


def test_what_one_test_commits_the_next_does_not_see(own_database: str) -> None:
    Head.objects.update(size=99)
    assert connection.settings_dict["NAME"] == own_database


@pytest.mark.django_db
def test_the_shared_database_is_as_migrated() -> None:
    assert Head.objects.get().size == 0


def test_the_server_answers_over_http(server: LiveServer) -> None:
    try:
        with urllib.request.urlopen(f"{server.url}/no-such-page") as answer:  # noqa: S310 - http, our own
            status = answer.status
    except urllib.error.HTTPError as error:
        status = error.code
        error.close()
    assert status in (HTTPStatus.NOT_FOUND, HTTPStatus.OK)
