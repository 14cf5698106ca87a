"""What an inspector or engineer decides reaches the people who work on it, on their own pages."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.opening import open_mounting
from qrecords.web.fitter.listing import open_here
from qrecords.workshop.actions import register_bearing
from tests.cast import Job, Workshop, make_workshop, start
from tests.web.fitter_hand import signed_in

pytestmark = pytest.mark.django_db
SMALL = {"A": ("12", "12", "12"), "B": ("12", "12", "12"), "C": ("12", "9", "12")}
"""One reading 2 µm under the lower limit of 60 m6: it is built up, and nobody concedes it."""
CLOSE_CALL = dict.fromkeys("ABC", ("12", "12", "12"))
"""Every reading too close to the lower limit to call: the engineer may concede it."""
EVERY = ("receive", "measure", "heat", "hot", "cold", "close", "sheet")


@pytest.fixture
def small(shop: Workshop) -> Job:
    return found_small(shop)


@pytest.fixture
def close_call(shop: Workshop) -> Job:
    return found_small(shop, CLOSE_CALL)


def found_small(shop: Workshop, readings: Mapping[str, tuple[str, ...]] = SMALL) -> Job:
    job = start(shop)
    job.receive()
    job.measure(readings=readings)
    job.bore()
    return job


def page(client: Client, job: Job, rest: str) -> str:
    return client.get(f"/mountings/{job.mounting.id}/{rest}").content.decode()


def listed(client: Client) -> str:
    return client.get("/mountings/").content.decode()


@pytest.mark.parametrize(("kind", "who"), [("measure again", "inspector"), ("rework", "engineer")])
def test_what_is_to_be_done_stands_on_every_page_and_in_the_list(
    small: Job, fitter: Client, kind: str, who: str
) -> None:
    small.decide(kind, "journal size", who=who, reason="C again, after wiping")
    for screen in EVERY:
        text = page(fitter, small, f"{screen}/")
        assert f"<b>Decided: {kind}.</b> Journal, worst reading: C again, after wiping" in text, screen
        assert f"{who.title()} Person, 2026-03-02 08:" in text
    assert f"<b>{kind}.</b> Journal, worst reading: C again, after wiping" in listed(fitter)


def test_it_is_told_no_more_once_it_is_measured_again(small: Job, fitter: Client) -> None:
    small.decide("measure again", "journal size", who="inspector", reason="C again, after wiping")
    small.say("measurement", reason="measured again", journal__C__60=("16", "um from 60 mm"))
    assert "Decided:" not in page(fitter, small, "measure/") + listed(fitter)
    assert "Journal, worst reading: C again, after wiping" in page(fitter, small, "sheet/"), "history stays"


def test_what_is_conceded_since_is_no_work_any_more(close_call: Job, fitter: Client) -> None:
    close_call.decide("measure again", "journal size", who="inspector", reason="on another micrometer")
    close_call.decide("concession", "journal size", reason="fit holds at 20 µm")
    assert "on another micrometer" not in listed(fitter)
    for screen in ("measure", "heat"):
        assert "on another micrometer" not in page(fitter, close_call, f"{screen}/"), screen
    assert "fit holds at 20 µm" in page(fitter, close_call, "measure/?part=readings")


def test_of_two_things_to_be_done_about_a_finding_the_newest_is_told(small: Job, fitter: Client) -> None:
    small.decide("rework", "journal size", who="engineer", reason="grind it")
    small.decide("measure again", "journal size", who="inspector", reason="wiped first")
    for text in (listed(fitter), page(fitter, small, "heat/")):
        assert "wiped first" in text and "grind it" not in text


def test_a_decision_names_only_the_findings_that_no_later_one_answered(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    job.measure(readings={"A": ("12", "12", "12"), "B": ("12", "12", "12"), "C": ("12", "29", "12")})
    job.bore()
    job.decide("measure again", "journal size", "journal roundness", reason="grind it")
    job.decide("concession", "journal size", reason="fit holds at 20 µm")
    for text in (listed(fitter), page(fitter, job, "heat/")):
        assert "measure again.</b> Journal, roundness, half: grind it" in text


def test_a_concession_is_told_with_its_conditions_where_its_finding_is_told(
    close_call: Job, fitter: Client
) -> None:
    readings = "measure/?part=readings"
    assert "Heat waits for the inspector." in page(fitter, close_call, readings)
    close_call.decide("concession", "journal size", reason="fit holds at 20 µm")
    text = page(fitter, close_call, readings)
    assert "<b>Decided: accepted by concession.</b> Journal, worst reading: fit holds at 20 µm" in text
    assert "Heat waits for the inspector." not in text, "nothing of the readings waits any more"
    assert "Decided:" not in page(fitter, close_call, "receive/") + listed(fitter)


def test_a_ring_that_is_scrapped_stays_in_the_list_until_the_next_goes_onto_its_seat() -> None:
    shop = make_workshop(datetime.now(UTC) - timedelta(days=29))
    small, fitter = found_small(shop), signed_in(shop, "fitter")
    small.tap("dropped")
    small.decide("scrap", "not dropped", who="inspector", reason="fell on concrete")
    text = listed(fitter)
    assert "<b>scrap.</b> Not dropped: fell on concrete" in text and "start again" in text
    assert "<b>Decided: scrap.</b> Not dropped: fell on concrete" in page(fitter, small, "sheet/")
    fitter.post(f"/mountings/{small.mounting.id}/again/", {"bearing": "new"})
    assert "fell on concrete" not in listed(fitter)


def test_what_was_scrapped_a_month_ago_fills_no_list() -> None:
    shop = make_workshop(datetime.now(UTC) - timedelta(days=31))
    small = found_small(shop)
    small.tap("dropped")
    small.decide("scrap", "not dropped", who="inspector", reason="fell on concrete")
    assert small.mounting.number not in listed(signed_in(shop, "fitter"))


def test_what_was_opened_long_ago_and_is_scrapped_now_is_listed() -> None:
    shop = make_workshop(datetime.now(UTC) - timedelta(days=35))
    small = found_small(shop)
    small.tap("dropped")
    shop.clock += timedelta(days=34)
    small.decide("scrap", "not dropped", who="inspector", reason="fell on concrete")
    assert "fell on concrete" in listed(signed_in(shop, "fitter"))


def test_findings_are_counted_once_however_many_attempts_follow(small: Job) -> None:
    shop, first = small.shop, small.mounting

    def counted() -> tuple[int, int]:
        line = open_here(shop.people["fitter"], datetime.now(UTC)).get(id=first.id)
        return line.out, line.missing

    out, missing = counted()
    slow = first.opened_at - timedelta(hours=1)  # by such a clock each seems to follow the first
    for _ in range(2):
        ring = register_bearing(
            acting=shop.acting("fitter"), site=shop.site, bearing_id=new_id(), designation="6212 C3"
        )
        later = open_mounting(
            acting=shop.acting("fitter", at_device=slow), mounting_id=new_id(), journal=small.journal,
            bearing=ring, rebuild=small.rebuild,
        )  # fmt: skip
        assert later.attempt_of == first
    assert counted() == (out, missing)
    assert out == 1 and missing > 1
