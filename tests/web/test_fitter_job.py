"""The fitter's five screens without script: one job from its order to *ready for inspection*."""

import re
import uuid
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from qrecords.ledger.append import atomic
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.stating import state
from qrecords.signoff.actions import give_back
from qrecords.steps.transitions import standing_release
from tests.cast import PASSWORD, Job, Workshop, start
from tests.web.fitter_hand import (
    check_cold,
    close,
    form_of,
    heat,
    measure,
    opened,
    receive,
    release,
    shown,
    signed_in,
)

pytestmark = pytest.mark.django_db


def test_a_sound_job_goes_from_its_order_to_the_inspector_without_script(
    shop: Workshop, fitter: Client
) -> None:
    mounting = opened(fitter)
    assert receive(fitter, mounting)["Location"].endswith("/measure/?after=ring")
    measure(fitter, mounting)
    assert release(fitter, mounting, "fit")["Location"].endswith("/heat/"), "the heater is set up first"
    heat(fitter, mounting)
    check_cold(fitter, mounting)
    assert release(fitter, mounting, "cold")["Location"].endswith("/close/")
    close(fitter, mounting)
    signed = fitter.post(
        f"/mountings/{mounting.id}/ready/", {"own_password": PASSWORD, "shown": shown(mounting)}
    )
    assert signed["Location"] == "/mountings/"

    mounting.refresh_from_db()
    assert mounting.state == "ready for inspection"
    judged = judged_now(mounting)
    flagged = {f.characteristic: f.verdict.value for f in judged.findings if f.verdict != "conforming"}
    assert flagged == {}, "the inspector read the ring when he released it"
    assert len({photo.shot for photo in judged.case.photos if photo.received}) == 8
    heater_on = next(tap for tap in judged.case.taps if tap.what == "heater on")
    standing = standing_release(judged.case, "fit")
    assert standing is not None and heater_on.relies_on == standing.leaf


def test_the_same_form_sent_twice_is_one_entry(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    address = f"/mountings/{job.mounting.id}/receive/"
    page = form_of(fitter.get(address)) | {"identification.marking": "6212 C3"}
    fitter.post(address, page)
    before = len(judged_now(job.mounting).case.order)
    fitter.post(address, page)
    assert len(judged_now(job.mounting).case.order) == before


def test_a_form_sent_again_with_other_answers_is_shown_and_keeps_what_was_typed(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    address = f"/mountings/{job.mounting.id}/receive/"
    page = form_of(fitter.get(address))
    fitter.post(address, page | {"identification.marking": "6212 C3"})
    again = fitter.post(address, page | {"identification.marking": "6212 C2"})
    assert again.status_code == 409 and b'value="6212 C2"' in again.content
    assert form_of(again)["entry_id"] != page["entry_id"]
    changed = fitter.post(address, form_of(again))
    assert b"Why does it change?" in changed.content


def test_what_the_inspector_gave_back_stands_on_every_page(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    job.ready()
    items = [("turns-freely", "too dark to see the edge")]
    give_back(acting=shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(), items=items)
    for screen in ("receive", "measure", "heat", "hot", "cold", "close", "sheet"):
        text = fitter.get(f"/mountings/{job.mounting.id}/{screen}/").content.decode()
        assert "<b>Turned by hand:</b> too dark to see the edge" in text, screen
    listed = fitter.get("/mountings/").content.decode()
    assert "returned" in listed and "<b>Turned by hand:</b> too dark to see the edge" in listed
    job.ready()
    for page in ("/mountings/", f"/mountings/{job.mounting.id}/sheet/"):
        assert "too dark to see the edge" not in fitter.get(page).content.decode(), "answered by *ready*"


def test_who_recorded_nothing_is_told_why_he_cannot_say_ready(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    client = signed_in(shop, "second_fitter")
    answer = client.post(
        f"/mountings/{job.mounting.id}/ready/",
        {"own_password": PASSWORD, "shown": str(job.shown())},
        follow=True,
    )
    assert b"recorded a part of it: you have not" in answer.content
    assert case_of(job.mounting).signatures == ()


def test_ready_lists_what_is_missing_with_a_link_to_each_page(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/"
    text = fitter.get(f"{here}close/").content.decode()
    links = dict(re.findall(r'<li><a href="([^"]*)">(.*?)</a></li>', text.split('class="left"', 1)[1]))
    for address in ("measure/?part=gauge", "measure/?part=readings", "heat/?part=set-up", "heat/?part=after",
                    "cold/?part=seat", "cold/?part=gap", "cold/?part=hold", "close/?part=close"):  # fmt: skip
        assert here + address in links, address
        assert fitter.get(here + address).status_code == 200
    assert "Photo: ring marking" in text and "Released before heat" in text


def test_taking_it_off_begins_a_second_mounting_of_the_same_journal(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    answer = fitter.post(f"/mountings/{job.mounting.id}/again/", {"bearing": "same"})
    second = Mounting.objects.get(id=answer["Location"].split("/")[2])
    assert second.attempt_of_id == job.mounting.id
    assert (second.journal_id, second.bearing_id) == (job.journal.id, job.bearing.id)


def test_the_list_says_where_each_mounting_stands(
    shop: Workshop, fitter: Client, django_assert_max_num_queries: Any
) -> None:
    first = start(shop)
    first.receive()
    measure(fitter, first.mounting)
    start(shop, position="NDE")
    text = fitter.get("/mountings/").content.decode()
    assert "waits for the inspector" in text and "Receive" in text
    for position in ("A", "B", "C", "D"):
        start(shop, position=position)
    with django_assert_max_num_queries(16):
        fitter.get("/mountings/")


def test_the_sheet_shows_every_answer_with_its_author(shop: Workshop, fitter: Client) -> None:
    job: Job = start(shop)
    job.whole()
    text = signed_in(shop, "auditor").get(f"/mountings/{job.mounting.id}/sheet/").content.decode()
    assert "Fitter Person" in text and "MICROMETER-1" in text and "signed off" in text


def test_who_only_reads_is_led_to_the_sheet(shop: Workshop) -> None:
    job = start(shop)
    answer = signed_in(shop, "auditor").get(f"/mountings/{job.mounting.id}/measurement/")
    assert answer["Location"].endswith("/sheet/")


def test_a_mounting_of_another_site_does_not_exist(shop: Workshop, fitter: Client) -> None:
    assert fitter.get(f"/mountings/{uuid.uuid4()}/sheet/").status_code == 404


def test_entries_of_a_newer_form_are_said_to_fitter_and_inspector(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    acting, id = shop.acting("fitter"), job.mounting.id
    with atomic():
        state(acting, "thermal camera", id=new_id(), site=shop.site, mounting=id, said={"pixels": 9})
    told = "1 entry of a newer form is not shown here."
    for page in ("receive/", "hot/", "sheet/"):
        assert told in fitter.get(f"/mountings/{id}/{page}").content.decode(), page
    assert told in signed_in(shop, "inspector").get(reverse("inspect", args=[id])).content.decode()
