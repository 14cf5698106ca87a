"""The inspector releases a hold at his desk: what he has read before, what it names, what holds it back."""

import re

import pytest

from qrecords.mountings.queries import case_of
from qrecords.steps.transitions import standing_release
from tests.cast import Workshop, start
from tests.web.desk import LOW, Desk, hidden, main, make_pictures, sit

pytestmark = pytest.mark.django_db


def test_before_heat_the_one_filled_tap_is_the_own_reading_and_then_the_release(desk: Desk) -> None:
    page = desk.read()
    assert re.findall(r'tap-next">(.*?)<', page) == ["record my reading"]
    assert "release when you have read the marking off the ring" in page
    assert "release: heat may begin" not in page
    desk.job.own_reading()
    assert re.findall(r'tap-next">(.*?)<', desk.read()) == ["release: heat may begin"]


def test_a_release_without_an_own_reading_is_refused_in_words(desk: Desk) -> None:
    answer = desk.do("release", hold="fit", shown=str(desk.job.shown()))
    assert answer.status_code == 409
    assert "the inspector has not read the marking off the ring himself" in main(answer.content.decode())
    assert case_of(desk.job.mounting).releases == ()


def test_readings_that_are_kept_back_are_released_only_when_the_display_was_read(desk: Desk) -> None:
    desk.job.own_reading()
    desk.job.photograph("micrometer")
    make_pictures()
    page = desk.read()
    assert "release when you have read the display" in page and "release: heat may begin" not in page
    desk.do("read-display", display="60.018")
    assert "release: heat may begin" in desk.read()


NAMED = (("identification", "marking"), ("preparation", "edge_burrs"), ("measurement", "journal.A.0"))


def test_releasing_names_the_captures_it_rests_on(desk: Desk) -> None:
    desk.job.own_reading()
    assert desk.do("release", hold="fit", shown=hidden(desk.read(), "shown")).status_code == 302
    given = standing_release(case_of(desk.job.mounting), "fit")
    assert given is not None
    assert given.captures == case_of(desk.job.mounting).standing_captures("fit")
    named = {case_of(desk.job.mounting).said(*field).entry for field in NAMED}
    assert named <= given.captures


def test_the_release_tells_what_is_open_of_the_preparation(desk: Desk) -> None:
    desk.job.say("preparation", reason="a bystander came in", zone="no")
    hold = desk.read().split('id="hold-fit"', 1)[1].split("</section>", 1)[0]
    assert "Zone not kept." in hold


@pytest.mark.parametrize("hold", ["nonsense", ""])
def test_a_garbled_hold_releases_nothing(desk: Desk, hold: str) -> None:
    assert desk.do("release", hold=hold, shown=str(desk.job.shown())).status_code == 404
    assert case_of(desk.job.mounting).releases == ()


def test_a_release_sent_twice_is_one_release(desk: Desk) -> None:
    desk.job.own_reading()
    form = {"entry_id": hidden(desk.read(), "entry_id"), "hold": "fit"}
    shown = hidden(desk.read(), "shown")
    for _ in range(2):
        assert desk.client.post(desk.at("release"), form | {"shown": shown}).status_code == 302
    assert len(case_of(desk.job.mounting).releases) == 1


def test_heat_waits_and_says_why_while_a_journal_reading_is_out(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    job.measure(readings=LOW)
    job.bore()
    desk = sit(shop, "inspector", job)
    assert "release when 1 item is closed" in desk.read()
    assert desk.do("release", hold="fit", shown=str(job.shown())).status_code == 409
    assert case_of(job.mounting).releases == ()


def test_a_stale_release_tells_no_reading_before_the_display_was_read(desk: Desk) -> None:
    desk.job.own_reading()
    desk.job.photograph("micrometer")
    shown = str(desk.job.shown())
    desk.job.say("measurement", reason="read again", journal__A__0=("20", "um from 60 mm"))
    page = main(desk.do("release", hold="fit", shown=shown).content.decode())
    assert "Not released: something came" in page and "read again" in page
    assert "A 0° 20" not in page
    desk.do("read-display", display="60.018")
    assert "A 0° 20" in main(desk.do("release", hold="fit", shown=shown).content.decode())
