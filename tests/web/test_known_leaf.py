"""What is sent from a page names the newest leaf its browser had been shown, not one that came since."""

import pytest

from qrecords.ledger.queries import entries_of, known_leaf
from tests.cast import Job, make_workshop, start
from tests.web.desk import Desk, sit

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Desk:
    job = start(make_workshop())
    job.receive()
    return sit(job.shop, "inspector", job)


def named(job: Job) -> object:
    """The known leaf of the newest check reading."""
    captures = [e for e in entries_of(job.mounting.id) if e.payload["body"]["said"].get("role") == "check"]
    return captures[-1].payload["known"]


def test_the_leaf_that_was_the_newest_when_the_page_was_made_is_named(desk: Desk) -> None:
    desk.read()
    shown = known_leaf()
    assert shown is not None
    desk.job.say("running", turns="smooth")
    desk.do("own-reading", marking="6212 C3")
    assert named(desk.job) == {"index": shown.index, "hash": shown.hash}


def test_who_was_shown_nothing_names_nothing(desk: Desk) -> None:
    desk.do("own-reading", marking="6212 C3")
    assert named(desk.job) is None


@pytest.mark.parametrize("told", ["0:" + "0" * 64, "99999:" + "a" * 64, "x", "7" * 4000, ":", "\xb2:ff"])
def test_a_leaf_that_the_log_does_not_hold_is_not_named(desk: Desk, told: str) -> None:
    desk.client.cookies["known"] = told
    desk.do("own-reading", marking="6212 C3")
    assert named(desk.job) is None
