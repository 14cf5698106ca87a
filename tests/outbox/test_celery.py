"""A real Celery worker, woken through a real Redis."""

import time
from pathlib import Path

import pytest
from pytest_django import Settings

from qrecords.celery import app
from qrecords.outbox.jobs import enqueue
from tests.outbox.conftest import Starting, until

pytestmark = pytest.mark.service


@pytest.fixture
def broker(settings: Settings, redis_url: str) -> str:
    settings.BROKER_URL = redis_url
    with app.connection_for_write(redis_url) as connection:
        app.control.purge(connection)
    return redis_url


def test_a_commit_wakes_the_worker_at_once(start: Starting, broker: str, notes: Path) -> None:
    start("-m", "celery", "-A", "qrecords", "worker", "--pool", "solo", QRECORDS_BROKER=broker)
    enqueue("note", path=str(notes), text="first")
    assert until(notes.exists, 40)
    began = time.monotonic()
    enqueue("note", path=str(notes), text="second")
    assert until(lambda: "second" in notes.read_text(), 5)
    assert time.monotonic() - began < 3


def test_the_clock_sweeps_with_a_task_that_exists() -> None:
    app.loader.import_default_modules()
    assert {entry["task"] for entry in app.conf.beat_schedule.values()} <= app.tasks.keys()
