"""What a page offers by itself is no fact, and what it shows is there."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from qrecords.mountings.judging import judged_now
from qrecords.outbox.jobs import drain
from tests.cast import Job, Workshop, start
from tests.web.fitter_hand import fill, signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop: Workshop) -> Job:
    made = start(shop)
    made.receive()
    made.measure()
    return made


def at(job: Job, rest: str) -> str:
    return f"/mountings/{job.mounting.id}/{rest}"


@pytest.mark.parametrize(
    ("page", "step", "reading"),
    [
        ("measure/?part=bore", "clearance_before", "g0"),
        ("cold/?part=rest", "clearance_after", "g1"),
    ],
)
def test_a_feeler_that_measured_no_clearance_is_not_named(
    fitter: Client, job: Job, page: str, step: str, reading: str
) -> None:
    feeler = {f"{step}.gauge": str(job.shop.gear["feeler"].id)}
    fill(fitter, at(job, page), feeler)
    assert step not in judged_now(job.mounting).case.answers
    fill(fitter, at(job, page), {**feeler, f"{step}.{reading}": "30", f"unit:{step}.{reading}": "um"})
    assert set(judged_now(job.mounting).case.answers[step]) == {"gauge", reading}


def test_a_released_cold_check_is_not_still_to_come(fitter: Client, job: Job) -> None:
    job.bore()
    job.heat(release=job.leaf(job.release("fit")))
    job.check_cold()

    def left() -> str:
        text = fitter.get(at(job, "close/")).content.decode()
        return text.split("Still to come:", 1)[1].split("</ul>", 1)[0]

    assert "Covered" in left() and "Cold check released" in left()
    job.photograph()
    job.release("cold")
    assert "Covered" in left() and "Cold check released" not in left()
    job.ready()
    desk = signed_in(job.shop, "inspector").get(reverse("inspect", args=[job.mounting.id])).content.decode()
    said = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", desk))
    assert "missing Cold check released before covering" in said
    assert "Not yet said whether it is covered." in said


@pytest.mark.parametrize("page", ["receive/", "sheet/"])
def test_a_small_picture_is_shown_once_it_is_made(fitter: Client, job: Job, page: str) -> None:
    job.photograph("seat")
    before = fitter.get(at(job, page)).content.decode()
    assert "received" in before and "<img" not in before
    drain()
    after = fitter.get(at(job, page)).content.decode()
    assert after.count("<img") == 1
