"""*Ready for inspection* signs what stands on the page: recorded first, asked back or refused, never lost."""

import re

import pytest
from django.http import HttpResponse
from django.test import Client

from qrecords.mountings.queries import case_of
from tests.cast import PASSWORD, Job, make_workshop, start
from tests.web.fitter_hand import form_of, photo, signed_in

pytestmark = pytest.mark.django_db
TAPS = {"running.turns": "smooth", "protection.covered": "yes"}


@pytest.fixture
def job() -> Job:
    made = start(make_workshop())
    made.receive()
    return made


@pytest.fixture
def fitter(job: Job) -> Client:
    return signed_in(job.shop, "fitter")


def here(job: Job, page: str) -> str:
    return f"/mountings/{job.mounting.id}/{page}/"


def closing(fitter: Client, job: Job) -> dict[str, str]:
    """The close page as it was opened, the fields that stand below its form with it."""
    page = fitter.get(here(job, "close"))
    below = re.findall(
        r'<input[^>]* name="(\w+)"(?: value="([^"]*)")?[^>]* form="closing"', page.content.decode()
    )
    assert [name for name, _ in below] == ["shown", "own_password"]
    return form_of(page) | dict(below) | {"own_password": PASSWORD}


def press_ready(fitter: Client, job: Job, fields: dict[str, str], **more: object) -> HttpResponse:
    return fitter.post(here(job, "ready"), fields | more)  # type: ignore[return-value, operator]


def signed(job: Job) -> bool:
    return bool(case_of(job.mounting).signatures)


def turns(job: Job) -> str:
    found = case_of(job.mounting).value_of("running", "turns")
    return found.word if found else ""


def test_what_is_tapped_and_not_saved_is_recorded_and_then_signed(fitter: Client, job: Job) -> None:
    answer = press_ready(fitter, job, closing(fitter, job) | TAPS)
    assert answer["Location"] == "/mountings/"
    case = case_of(job.mounting)
    assert turns(job) == "smooth" and case.value_of("protection", "covered") is not None
    last = max(case.order[case.answers[step][key].entry] for step, key in (name.split(".") for name in TAPS))
    assert signed(job) and case.signatures[-1].index > last


def test_his_own_photo_sent_from_the_page_does_not_make_it_stale(fitter: Client, job: Job) -> None:
    fields = closing(fitter, job) | TAPS
    fitter.post(
        here(job, "photos"), {"shot.covered": photo("covered")}, headers={"accept": "application/json"}
    )
    assert press_ready(fitter, job, fields)["Location"] == "/mountings/"
    assert signed(job)


def test_what_somebody_else_recorded_meanwhile_is_shown_before_it_is_signed(fitter: Client, job: Job) -> None:
    fields = closing(fitter, job) | TAPS
    job.own_reading()
    assert press_ready(fitter, job, fields)["Location"] == here(job, "close")
    assert not signed(job) and turns(job) == "smooth", "his taps are kept"


def test_a_wrong_password_signs_nothing_and_loses_no_answer(fitter: Client, job: Job) -> None:
    assert press_ready(fitter, job, closing(fitter, job) | TAPS, own_password="wrong").status_code == 302
    assert not signed(job) and turns(job) == "smooth"


def test_an_answer_that_changes_asks_why_before_anything_is_signed(fitter: Client, job: Job) -> None:
    job.say("running", turns="smooth")
    answer = press_ready(fitter, job, closing(fitter, job) | {"running.turns": "rough"})
    text = answer.content.decode()
    assert answer.status_code == 422 and "recorded already. Why does it change?" in text
    assert form_of(answer)["running.turns"] == "rough" and PASSWORD not in text
    assert not signed(job) and turns(job) == "smooth"


def test_ready_pressed_twice_is_one_signature(fitter: Client, job: Job) -> None:
    fields = closing(fitter, job) | TAPS
    for _press in range(2):
        assert press_ready(fitter, job, fields)["Location"] == "/mountings/"
    assert len(case_of(job.mounting).signatures) == 1
