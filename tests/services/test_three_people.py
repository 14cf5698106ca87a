"""The whole job by three people at desks on production: nginx, gunicorn, PostgreSQL, Redis, Celery's worker.

Nothing here does a job of the outbox: every picture of a photo was made by the worker, told through Redis by
what the pages committed. Celery's clock, which would find forgotten jobs, is stopped before.
"""

import sys
from datetime import UTC, datetime, timedelta

import pytest
from django.conf import global_settings
from playwright.sync_api import Browser
from pytest_django import Settings

from qrecords.evidence.derivatives import RECIPE
from qrecords.evidence.models import StoredFile
from qrecords.mountings.queries import case_of
from qrecords.outbox.models import Job
from qrecords.steps.procedure import STANDARD
from qrecords.steps.transitions import State, state_of
from tests.browser.standard_job import used_today
from tests.browser.three_people import DESK, three_people, whole_job
from tests.cast import make_workshop, start
from tests.services.conftest import NAME, Production

pytestmark = [pytest.mark.service, pytest.mark.browser]


def test_the_worker_makes_the_pictures_while_three_people_do_the_whole_job(
    production: Production, chromium: Browser, settings: Settings
) -> None:
    settings.PASSWORD_HASHERS = global_settings.PASSWORD_HASHERS  # the pages there know no other
    production.programs.stop("beat")
    shop = make_workshop(datetime.now(UTC) - timedelta(hours=1))
    used_today(shop)
    job = start(shop)
    with three_people(chromium, f"https://{NAME}:{production.https_port}", DESK) as people:
        whole_job(people, job)
    assert state_of(case_of(job.mounting)) == State.SIGNED_OFF
    made = Job.objects.exclude(done_at=None)
    assert made.count() == StoredFile.objects.filter(recipe=RECIPE).count() == len(STANDARD["photos"])
    assert not Job.objects.filter(done_at=None).exists()
    assert "log holds" in production.do(sys.executable, "manage.py", "verify_ledger")
