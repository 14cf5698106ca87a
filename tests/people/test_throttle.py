"""How many wrong passwords are taken: by name at one address, by name alone, by address alone."""

from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.conf import settings
from django.db.models import F
from django.test import Client

from tests.cast import PASSWORD, Workshop, make_workshop

pytestmark = pytest.mark.django_db
HERE, OUTSIDE = "10.0.0.5", "203.0.113."
SHUT, WRONG = 429, 401


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def tried(name: str, address: str, password: str = "no") -> int:  # noqa: S107 - a wrong one
    sent = {"sign_in": name, "password": password}
    return Client(REMOTE_ADDR=address).post("/sign-in/", sent).status_code


def guess_from_many_addresses(name: str, times: int) -> list[int]:
    """Six tries an address, so that no address alone is at its limit for the name."""
    return [tried(name, f"{OUTSIDE}{n // 6}") for n in range(times)]


def test_a_name_is_shut_however_many_addresses_the_tries_come_from(shop: Workshop) -> None:
    answers = guess_from_many_addresses("fitter", settings.SIGN_IN_FAILURES_BY_NAME)
    assert answers[:-1] == [WRONG] * (len(answers) - 1)
    assert tried("fitter", f"{OUTSIDE}99", PASSWORD) == SHUT
    assert tried("inspector", f"{OUTSIDE}99", PASSWORD) == 302


def test_who_signed_in_here_lately_is_not_shut_out_by_tries_from_outside(shop: Workshop) -> None:
    assert tried("fitter", HERE, PASSWORD) == 302
    guess_from_many_addresses("fitter", settings.SIGN_IN_FAILURES_BY_NAME)
    assert tried("fitter", f"{OUTSIDE}99", PASSWORD) == SHUT
    assert tried("fitter", HERE, PASSWORD) == 302


def test_one_address_that_tries_many_names_is_shut_and_no_other(shop: Workshop) -> None:
    assert tried("inspector", f"{OUTSIDE}1", PASSWORD) == 302
    for n in range(settings.SIGN_IN_FAILURES_BY_ADDRESS):
        tried(f"nobody-{n}", f"{OUTSIDE}1")
    assert tried("fitter", f"{OUTSIDE}1", PASSWORD) == SHUT
    assert tried("fitter", HERE, PASSWORD) == 302
    assert tried("inspector", f"{OUTSIDE}1", PASSWORD) == 302  # at work there, behind the same address


def test_a_known_name_is_still_shut_by_its_own_tries_at_its_address(shop: Workshop) -> None:
    tried("fitter", HERE, PASSWORD)
    for _ in range(settings.AXES_FAILURE_LIMIT):
        tried("fitter", HERE)
    assert tried("fitter", HERE, PASSWORD) == SHUT


def test_an_own_sign_in_between_does_not_wipe_what_an_address_tried_on_others(shop: Workshop) -> None:
    for n in range(settings.SIGN_IN_FAILURES_BY_ADDRESS):
        tried(f"nobody-{n}", HERE)
        if n == 10:
            assert tried("second_fitter", HERE, PASSWORD) == 302
    assert tried("fitter", HERE, PASSWORD) == SHUT


def test_it_opens_after_a_quarter_of_an_hour_though_somebody_goes_on_trying(shop: Workshop) -> None:
    for _ in range(settings.AXES_FAILURE_LIMIT):
        tried("fitter", HERE)
    AccessAttempt.objects.update(attempt_time=F("attempt_time") - timedelta(minutes=14))
    assert tried("fitter", HERE) == SHUT
    AccessAttempt.objects.update(attempt_time=F("attempt_time") - timedelta(minutes=2))
    assert tried("fitter", HERE, PASSWORD) == 302
