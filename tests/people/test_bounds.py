"""An act lies between its receipt and what its device says, or the leaf it had known; in days of its zone."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest

from qrecords.ledger.envelope import Known
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import entries_of, known_leaf
from qrecords.people import actions as people
from qrecords.people.bounds import bounds_of, known_zone, zone_of
from tests.cast import Job, add_gear, make_workshop, start

pytestmark = pytest.mark.django_db
UM = "um from 60 mm"
EVENING = datetime(2026, 3, 31, 22, 30, tzinfo=UTC)
"""In Berlin it is half past midnight, and April."""


@pytest.fixture
def job() -> Job:
    return start(make_workshop(EVENING))


def test_the_days_are_those_of_the_zone_of_the_act(job: Job) -> None:
    acting = job.shop.acting("fitter")
    assert bounds_of(acting).days == (date(2026, 4, 1), date(2026, 4, 1))
    assert bounds_of(replace(acting, zone="UTC")).days == (date(2026, 3, 31), date(2026, 3, 31))


@pytest.mark.parametrize("name", ["Nowhere/City", "../etc/passwd", "", "a" * 40, "Europe"])
def test_a_zone_that_is_none_is_utc(name: str) -> None:
    assert zone_of(name) is UTC


def test_the_device_is_believed_back_to_the_leaf_it_had_known_and_no_further(job: Job) -> None:
    acting = job.shop.acting("fitter")
    told = replace(acting, now=acting.now + timedelta(days=2), at_device=acting.now - timedelta(days=3))
    assert bounds_of(told).first == told.at_device
    known = known_leaf()
    assert bounds_of(replace(told, known=known)).first > told.at_device + timedelta(days=2)
    forged = Known(known.index, "00" * 32) if known else None
    assert bounds_of(replace(told, known=forged)).first == told.at_device


def test_a_device_ahead_of_the_server_is_bounded_by_the_receipt(job: Job) -> None:
    acting = job.shop.acting("fitter")
    ahead = replace(acting, at_device=acting.now + timedelta(days=1))
    assert (bounds_of(ahead).first, bounds_of(ahead).last) == (acting.now, acting.now)


def frozen(job: Job) -> dict[str, object]:
    return dict(entries_of(job.mounting.id)[-1].payload["body"]["seen"])


def test_a_gauge_whose_last_day_is_over_where_the_work_is_done_is_expired(job: Job) -> None:
    gauge = add_gear(job.shop, "mic_old", "outside micrometer", {"due": "2026-03-31", "expanded_u": 1000})
    job.say("measurement", gauge=str(gauge.id), journal__A__0=("18", UM))
    assert frozen(job)["days"] == ["2026-04-01", "2026-04-01"]
    assert job.finding("gauge MIC-OLD-1").message == "gauge-in-date.expired"


def test_an_act_kept_on_the_device_over_the_last_day_is_not_proven_and_says_why(job: Job) -> None:
    gauge = add_gear(job.shop, "mic_old", "outside micrometer", {"due": "2026-04-01", "expanded_u": 1000})
    at_device = job.shop.clock
    job.shop.clock += timedelta(days=2)
    job.say("measurement", at_device=at_device, gauge=str(gauge.id), journal__A__0=("18", UM))
    assert frozen(job)["days"] == ["2026-04-01", "2026-04-03"]
    assert job.finding("gauge MIC-OLD-1").message == "gauge-in-date.between"


@pytest.mark.parametrize(
    ("valid_to", "verdict"),
    [("2026-03-31", "nonconforming"), ("2026-04-01", "not proven"), ("2026-04-03", "conforming")],
)
def test_competence_is_of_the_day_in_the_zone_and_not_proven_where_the_two_bounds_differ(
    valid_to: str, verdict: str
) -> None:
    """Received two days after it was done, on 1 April where the work was and 31 March in UTC."""
    large = start(
        make_workshop(EVENING), designation="6084 M", nominal_mm="420", outside_mm="620", width_mm="90"
    )
    shop = large.shop
    people.assess(
        acting=shop.acting("quality"), site=shop.site, competence_id=new_id(), person=shop.people["fitter"],
        task="heat", basis="five jobs", assessor=shop.people["quality"], from_mm=Decimal(401),
        to_mm=Decimal(500), valid_from=date(2025, 1, 1), valid_to=date.fromisoformat(valid_to),
    )  # fmt: skip
    at_device = shop.clock
    shop.clock += timedelta(days=2)
    large.say("heating", at_device=at_device, probe="inner ring")
    finding = large.finding("competence, heating")
    assert finding.verdict == verdict
    assert (finding.facts["first"], finding.facts["last"]) == ("2026-04-01", "2026-04-03")


def test_a_fact_from_before_the_role_began_is_recorded_and_its_competence_not_proven(job: Job) -> None:
    early = job.shop.clock - timedelta(days=400)
    job.say("measurement", at_device=early, shaft=("20", "°C"))
    assert frozen(job)["competence"] == "differs"
    assert job.finding("competence, measurement").verdict == "not proven"


@pytest.mark.parametrize("told", ["", "Nowhere/Else", "../../etc", "Europe/Berlin\n"])
def test_a_zone_that_there_is_not_is_not_kept(told: str) -> None:
    assert known_zone(told, "Europe/Oslo") == "Europe/Oslo"
    assert known_zone("Asia/Tokyo", "Europe/Oslo") == "Asia/Tokyo"
    assert known_zone("UTC", "Europe/Oslo") == "UTC"
