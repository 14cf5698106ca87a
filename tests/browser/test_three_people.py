"""The whole job by three people with phones in the hand.

Runs on SQLite with the worker of the embedded default beside the pages; `tests/services/test_three_people.py`
does the same job at desks on PostgreSQL and the other programs of production.
"""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from django.core.management import call_command
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from qrecords.ledger.opening import open_log
from qrecords.mountings.queries import case_of
from qrecords.outbox.worker import Worker
from qrecords.steps.transitions import State, state_of
from tests.browser.standard_job import used_today
from tests.browser.three_people import PHONE, three_people, whole_job
from tests.cast import make_workshop, start

pytestmark = pytest.mark.browser


@pytest.fixture
def worker(server: LiveServer) -> Iterator[Worker]:
    """The thread that `manage.py serve` runs beside the pages."""
    thread = Worker()
    thread.start()
    yield thread
    thread.stop()


def test_recorded_released_flagged_decided_signed_and_found_again(
    chromium: Browser, server: LiveServer, worker: Worker
) -> None:
    open_log()
    shop = make_workshop(datetime.now(UTC) - timedelta(hours=1))
    used_today(shop)
    job = start(shop)
    with three_people(chromium, server.url, PHONE) as people:
        whole_job(people, job)
    assert state_of(case_of(job.mounting)) == State.SIGNED_OFF
    with pytest.raises(SystemExit) as left:
        call_command("verify_ledger")
    assert left.value.code == 0
