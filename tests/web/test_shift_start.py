"""The page of shift start, and what the pages of a mounting put forward from it."""

from datetime import UTC, datetime, timedelta
from html import unescape

import pytest
from django.test import Client

from qrecords.mountings.queries import case_of
from qrecords.workshop.models import EquipmentVersion, ShiftStart
from tests.cast import Job, add_gear, make_workshop, start
from tests.web.fitter_hand import form_of, signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    job = start(make_workshop(datetime.now(UTC) - timedelta(minutes=30)))
    add_gear(job.shop, "micrometer_2", "outside micrometer", EquipmentVersion.objects.first().document)  # type: ignore[union-attr]
    return job


@pytest.fixture
def fitter(job: Job) -> Client:
    return signed_in(job.shop, "fitter")


def words(answer: object) -> str:
    return unescape(answer.content.decode())  # type: ignore[attr-defined]


def started(fitter: Client, job: Job, *pieces: str, **typed: str) -> object:
    gear = [str(job.shop.gear[piece].id) for piece in pieces]
    return fitter.post("/shift-start/", {"gear": gear, **typed}, follow=True)


def test_the_only_piece_there_is_is_put_forward_and_nothing_else(fitter: Client, job: Job) -> None:
    page = words(fitter.get("/shift-start/"))
    assert page.count("checked") == 6, "two micrometers are a choice; the other six kinds have one piece each"
    assert 'name="air" value=""' in page, "no number is ever put forward"


def test_what_was_named_is_put_forward_in_a_mounting_with_where_it_comes_from(
    fitter: Client, job: Job
) -> None:
    here = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    before = form_of(fitter.get(here))
    assert before["measurement.gauge"] == "", "two micrometers: nothing is put forward"
    assert before["measurement.air"] == ""
    assert "Shift start recorded" in words(started(fitter, job, "micrometer_2", "thermometer", air="18,5"))
    page = fitter.get(here)
    after = form_of(page)
    assert after["measurement.gauge"] == str(job.shop.gear["micrometer_2"].id)
    assert after["measurement.air"] == "18,5"
    assert "from shift start" in words(page)
    measured = ("measurement.shaft", "measurement.bearing", "measurement.gauge_temp")
    assert [after[name] for name in measured] == ["", "", ""], "what is measured is never put forward"
    assert "measurement" not in case_of(job.mounting).answers, "nor taken for said"


def test_the_air_is_put_forward_for_two_hours(fitter: Client, job: Job) -> None:
    started(fitter, job, "thermometer", air="18,5")
    ShiftStart.objects.update(at=datetime.now(UTC) - timedelta(hours=2, minutes=1))
    here = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    assert form_of(fitter.get(here))["measurement.air"] == ""


def test_what_was_used_last_comes_before_what_the_shift_began_with(fitter: Client, job: Job) -> None:
    started(fitter, job, "micrometer_2")
    job.shop.clock = datetime.now(UTC) - timedelta(minutes=1)
    job.say("measurement", gauge=str(job.shop.gear["micrometer"].id))
    page = words(fitter.get(f"/mountings/{job.mounting.id}/measure/?part=gauge"))
    assert "used last" in page or str(job.shop.gear["micrometer"].id) in page
    assert words(fitter.get("/shift-start/")).count("used last") >= 1


def test_a_number_that_is_none_is_asked_back_and_what_was_typed_stays(fitter: Client, job: Job) -> None:
    answer = started(fitter, job, "micrometer_2", air="warm")
    page = words(answer)
    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert "air of the shop: warm °C" in page
    assert 'value="warm"' in page
    assert f'value="{job.shop.gear["micrometer_2"].id}" checked' in page
    assert not ShiftStart.objects.exists()


def test_a_slip_is_asked_once_and_kept_when_it_is_so(fitter: Client, job: Job) -> None:
    asked = started(fitter, job, "micrometer_2", air="195")
    assert "it is so" in words(asked)
    started(fitter, job, "micrometer_2", **{"air": "195", "sure:air": "195"})
    assert ShiftStart.objects.get().document["climate"]["air"]["value"] == 195_000


def test_an_empty_start_is_asked_back(fitter: Client, job: Job) -> None:
    assert "Not recorded" in words(started(fitter, job))
    assert not ShiftStart.objects.exists()


def test_each_gauge_of_the_shift_is_read_on_its_master_from_here(fitter: Client, job: Job) -> None:
    started(fitter, job, "micrometer", "thermometer")
    page = words(fitter.get("/shift-start/"))
    assert page.count("read it on its master") == 1, "a thermometer has no setting master"
    assert "not read on its master yet" in page
    check = f"/registers/equipment/{job.shop.gear['micrometer'].id}/check/"
    assert f'href="{check}"' in page
    fitter.post(check, {"master": str(job.shop.gear["master"].id), "when": "before", "off": "0"})
    assert "before: 0 µm, within its limit" in words(fitter.get("/shift-start/")).replace("\u202f", " ")
