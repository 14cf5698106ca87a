"""What the tests of the pages ask for: the workshop, and its fitter and inspector at their pages."""

import pytest
from django.test import Client

from tests.cast import Job, Workshop, make_workshop, start
from tests.web.desk import Desk, sit
from tests.web.fitter_hand import signed_in


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


@pytest.fixture
def fitter(shop: Workshop) -> Client:
    return signed_in(shop, "fitter")


@pytest.fixture
def job(shop: Workshop) -> Job:
    """Received, measured, bore measured: what waits before heat."""
    job = start(shop)
    job.receive()
    job.measure()
    job.bore()
    return job


@pytest.fixture
def desk(shop: Workshop, job: Job) -> Desk:
    return sit(shop, "inspector", job)
