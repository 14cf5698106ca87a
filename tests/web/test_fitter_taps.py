"""The taps while it is hot: missed, made twice, taken back; what an event leads to."""

import re
from typing import Any

import pytest
from django.test import Client

from qrecords.mountings.judging import judged_now
from tests.cast import Workshop, start
from tests.web.fitter_hand import form_of, measure, signed_in, tap

pytestmark = pytest.mark.django_db


def test_a_tap_that_could_not_be_made_is_left_out(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    tap(fitter, job.mounting, "heater-on")
    text = fitter.get(f"/mountings/{job.mounting.id}/hot/").content.decode()
    assert "a tap was missed" in text and 'value="let-go"' in text
    fitter.post(f"/mountings/{job.mounting.id}/hot/", {"tap": "let-go"})
    assert [tap.what for tap in judged_now(job.mounting).case.taps] == ["heater on", "let go"]


def test_stuck_is_one_tap_and_says_what_to_do(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    tap(fitter, job.mounting, "heater-on")
    tap(fitter, job.mounting, "stuck")
    text = fitter.get(f"/mountings/{job.mounting.id}/hot/").content.decode()
    assert "Never hammer or flame. Stand clear. Call the engineer." in text
    assert job.finding("went home").verdict.value == "nonconforming"


def filled(page: Any) -> str:
    """The one filled field of the hot page, its first word."""
    fields = re.findall(r'<(?:a|button)[^>]*class="hot-button"[^>]*>(.*?)</(?:a|button)>', page, re.S)
    assert len(fields) == 1
    word = re.search(r'class="word">(.*?)<', fields[0])
    assert word is not None
    return word[1]


@pytest.mark.parametrize("event", ["stuck", "dropped", "alarm"])
def test_after_an_event_the_filled_field_leads_to_saying_what_is(
    shop: Workshop, fitter: Client, event: str
) -> None:
    job = start(shop)
    for what in ("heater-on", "lifted-off", event):
        tap(fitter, job.mounting, what)
    text = fitter.get(f"/mountings/{job.mounting.id}/hot/").content.decode()
    assert filled(text) == "say what is"
    assert 'value="home">home after all<' in text, "it may have gone home all the same"
    tap(fitter, job.mounting, "home")
    assert filled(fitter.get(f"/mountings/{job.mounting.id}/hot/").content.decode()) == "let go"


def test_a_heat_that_was_stopped_begins_again_with_heater_on(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    for what in ("heater-on", "stopped"):
        tap(fitter, job.mounting, what)
    text = fitter.get(f"/mountings/{job.mounting.id}/hot/").content.decode()
    assert filled(text) == "heater on" and "once the ring is cold" in text
    tap(fitter, job.mounting, "heater-on")
    assert filled(fitter.get(f"/mountings/{job.mounting.id}/hot/").content.decode()) == "lifted off"


def test_a_tap_made_meanwhile_on_another_device_is_said_and_kept_once(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    address = f"/mountings/{job.mounting.id}/hot/"
    stale = form_of(fitter.get(address)) | {"tap": "heater-on"}
    tap(signed_in(shop, "second_fitter"), job.mounting, "heater-on")
    text = fitter.post(address, stale, follow=True).content.decode()
    assert "“heater on” was tapped already" in text and "Second_Fitter Person" in text
    assert [tap.what for tap in judged_now(job.mounting).case.taps] == ["heater on"]


def test_the_undo_after_the_heat_counts_and_without_script_names_its_end(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    for what in ("heater-on", "lifted-off", "home", "let-go"):
        tap(fitter, job.mounting, what)
    text = fitter.get(f"/mountings/{job.mounting.id}/heat/?part=after").content.decode()
    assert re.search(r"<span data-seconds>till \d\d:\d\d:\d\d</span>", text)
    assert "qrecords/hot.js" in text, "with script the seconds run here too"


def test_a_tap_is_undone_within_ten_seconds(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    tap(fitter, job.mounting, "heater-on")
    page = fitter.get(f"/mountings/{job.mounting.id}/hot/")
    struck = judged_now(job.mounting).case.taps[0].entry
    assert struck in page.content.decode()
    fitter.post(f"/mountings/{job.mounting.id}/hot/", form_of(page) | {"undo": struck})
    assert judged_now(job.mounting).case.taps == ()


def test_of_a_wrong_tap_found_too_late_it_is_said_whom_to_tell(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    for what in ("heater on", "lifted off"):
        job.tap(what)
    page = fitter.get(f"/mountings/{job.mounting.id}/hot/").content.decode()
    assert 'name="undo"' not in page
    assert "cannot be taken back after 10 s and stays in the record: tell the inspector." in page


def test_heat_without_release_is_recorded_and_flagged(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    tap(fitter, job.mounting, "heater-on")
    assert job.finding("fit released before heat").verdict.value == "not proven"
