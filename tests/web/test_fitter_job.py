"""The fitter's five screens without script: one job from its order to *ready for inspection*."""

import io
import re
import uuid
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.ledger.append import atomic
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.stating import state
from qrecords.signoff.actions import give_back, release_by_telephone
from qrecords.steps.shown import shown_now
from qrecords.steps.telephone import answer_code
from qrecords.steps.transitions import standing_release
from tests.cast import PASSWORD, Job, Workshop, add_gear, make_workshop, start
from tests.drawing import small_jpeg

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


@pytest.fixture
def fitter(shop: Workshop) -> Client:
    return signed_in(shop, "fitter")


def signed_in(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def form_of(page: Any) -> dict[str, str]:
    """What a browser without script would send of the page's capture form, before anybody types."""
    text = page.content.decode()
    form = re.search(r'<form[^>]*class="two-hands-form".*?</form>', text, re.S)
    assert form, "no capture form on this page"
    fields = {}
    for tag in re.findall(r"<input[^>]*>", form[0]):
        if (named := re.search(r' name="([^"]*)"', tag)) is None or 'type="file"' in tag:
            continue
        if ('type="radio"' in tag or 'type="checkbox"' in tag) and " checked" not in tag:
            continue
        value = re.search(r' value="([^"]*)"', tag)
        fields[named[1]] = value[1] if value else ""
    for name, body in re.findall(r'<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>', form[0], re.S):
        options = re.findall(r'<option value="([^"]*)"( selected)?', body)
        fields[name] = next((value for value, chosen in options if chosen), options[0][0])
    return fields


def fill(client: Client, address: str, answers: Mapping[str, Any]) -> HttpResponse:
    page = client.get(address)
    assert page.status_code == 200, page.content[:300]
    return client.post(address, form_of(page) | answers)  # type: ignore[return-value]


def tap(client: Client, job: Mounting, what: str) -> HttpResponse:
    address = f"/mountings/{job.id}/hot/"
    page = client.get(address)
    return client.post(address, form_of(page) | {"tap": what})  # type: ignore[return-value]


ORDER = {
    "work_order": "WO-77",
    "machine_name": "Vent fan 2",
    "owner": "Ostrey tram depot",
    "position": "DE",
    "designation": "6212 C3",
    "drawing": "TH-9",
    "revision": "B",
    "shaft_class": "m6",
    "seat_width": "40",
}
READINGS = dict(
    zip(
        [f"measurement.journal.{plane}.{at}" for plane in "ABC" for at in ("0", "60", "120")],
        ("18", "17", "18", "17", "17", "18", "17", "16", "17"),
        strict=True,
    )
)


def opened(client: Client, **changes: str) -> Mounting:
    first = client.post("/mountings/new/", ORDER | changes)
    assert first.status_code == 200, "D and B from the table are shown before they are accepted"
    text = first.content.decode()
    boundary = {
        name: re.search(rf'name="{name}" value="([^"]*)"', text)[1]  # type: ignore[index]
        for name in ("outside", "width", "nominal")
    }
    groups = {"clearance_kind": "deep_groove_ball_cyl_bore", "clearance_group": "3"}
    done = client.post("/mountings/new/", ORDER | boundary | groups | changes)
    assert done.status_code == 302, text
    return Mounting.objects.get(id=done["Location"].split("/")[2])


def receive(client: Client, mounting: Mounting) -> HttpResponse:
    return fill(
        client,
        f"/mountings/{mounting.id}/receive/",
        {
            "identification.marking": "6212 C3",
            "identification.package": "intact",
            "preparation.edge_burrs": "removed",
            "preparation.shoulder_burrs": "none",
            "preparation.fillet": "clears the ring",
            "preparation.wiped": "yes",
            "preparation.gear_ready": "yes",
            "preparation.zone": "yes",
            "shot.marking": photo("marking"),
            "shot.package": photo("package"),
            "shot.seat": photo("seat"),
        },
    )


def photo(seed: str) -> SimpleUploadedFile:
    return SimpleUploadedFile(f"{seed}.jpg", small_jpeg(f"{uuid.uuid4()} {seed}"), "image/jpeg")


TEMPERATURES = {
    "measurement.master_before": "0",
    "unit:measurement.master_before": "um",
    "measurement.shaft": "20",
    "measurement.bearing": "20,5",
    "measurement.gauge_temp": "20",
    "measurement.air": "21",
}


def measure(client: Client, mounting: Mounting, readings: Mapping[str, str] = READINGS) -> None:
    here = f"/mountings/{mounting.id}/measure/"
    assert fill(client, f"{here}?part=gauge", TEMPERATURES)["Location"].endswith("part=readings&after=gauge")
    assert fill(client, f"{here}?part=readings", readings)["Location"].endswith("part=bore&after=readings")
    bore = {"bore.source": "from class", "shot.micrometer": photo("micrometer")}
    assert fill(client, f"{here}?part=bore", bore)["Location"].endswith("part=fit&after=bore")


def shown(mounting: Mounting) -> str:
    return str(shown_now(case_of(mounting)))


def release(client: Client, mounting: Mounting, hold: str, who: str = "inspector") -> HttpResponse:
    """At the tablet: the inspector reads the ring and proves himself."""
    typed = {"sign_in": who, "inspector_password": PASSWORD, "shown": shown(mounting)}
    if hold == "fit":
        typed |= {"marking": "6212 C3", "reading_id": str(new_id())}
    return client.post(f"/mountings/{mounting.id}/release/{hold}/", typed)  # type: ignore[return-value]


def heat(client: Client, mounting: Mounting) -> None:
    here = f"/mountings/{mounting.id}/heat/"
    set_up = {"heating.setup": "on the core leg", "heating.probe": "inner ring", "shot.probe": photo("probe")}
    assert fill(client, f"{here}?part=set-up", set_up)["Location"].endswith("/hot/")
    for what in ("heater-on", "lifted-off", "home", "let-go"):
        assert tap(client, mounting, what).status_code == 302
    after = {"heating.peak": "95", "demagnetisation.cycle": "done"}
    assert fill(client, f"{here}?part=after", after)["Location"].endswith("/cold/?after=after")


def check_cold(client: Client, mounting: Mounting) -> None:
    here = f"/mountings/{mounting.id}/cold/"
    seat = {
        "seating.film": "thin oil",
        "seating.went_home": "in one move",
        "seating.dropped": "no",
        "seating.hammered": "no",
        "seating.held_by": "nut",
        "shot.held": photo("held"),
    }
    assert fill(client, f"{here}?part=seat", seat)["Location"].endswith("part=temperatures&after=seat")
    cold = {"shoulder_gap.ring_temp": "21", "shoulder_gap.shaft_temp": "20"}
    assert fill(client, f"{here}?part=temperatures", cold)["Location"].endswith("part=gap&after=temperatures")
    for number in range(4):
        page = client.get(f"{here}?part=gap")
        fields = form_of(page)
        assert fields["at"] == str(90 * number), "the next angle is chosen by itself"
        more = {"shot.blade": photo("blade")} if number == 3 else {}
        client.post(f"{here}?part=gap", fields | {"blade": "0"} | more)
    rest = {"demagnetisation.field": "0.9", "demagnetisation.where": "ring edge"}
    assert fill(client, f"{here}?part=rest", rest)["Location"].endswith("part=hold&after=rest")


def close(client: Client, mounting: Mounting) -> None:
    here = f"/mountings/{mounting.id}/close/"
    answers = {
        "running.turns": "smooth",
        "protection.covered": "yes",
        "shot.covered": photo("covered"),
    }
    assert fill(client, here, answers).status_code == 302


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
    signed = fitter.post(f"/mountings/{mounting.id}/ready/", {"password": PASSWORD, "shown": shown(mounting)})
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
    items = [("seat photo", "too dark to see the edge")]
    give_back(acting=shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(), items=items)
    for screen in ("receive", "measure", "heat", "hot", "cold", "close", "sheet"):
        text = fitter.get(f"/mountings/{job.mounting.id}/{screen}/").content.decode()
        assert "too dark to see the edge" in text, screen
    listed = fitter.get("/mountings/").content.decode()
    assert "returned" in listed and "<b>seat photo:</b> too dark to see the edge" in listed
    job.ready()
    for page in ("/mountings/", f"/mountings/{job.mounting.id}/sheet/"):
        assert "too dark to see the edge" not in fitter.get(page).content.decode(), "answered by *ready*"


def test_who_recorded_nothing_is_told_why_he_cannot_say_ready(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    client = signed_in(shop, "second_fitter")
    answer = client.post(
        f"/mountings/{job.mounting.id}/ready/", {"password": PASSWORD, "shown": str(job.shown())}, follow=True
    )
    assert b"recorded a part of it: you have not" in answer.content
    assert case_of(job.mounting).signatures == ()


def test_text_without_a_number_is_asked_back_and_everything_typed_stays(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    answers = TEMPERATURES | {"measurement.shaft": "warm"}
    page = fill(fitter, f"/mountings/{job.mounting.id}/measure/?part=gauge", answers)
    assert page.status_code == 422
    text = page.content.decode()
    assert "shaft: warm °C" in text and "0…45 °C" in text
    assert 'value="20,5"' in text and 'value="warm"' in text
    assert judged_now(job.mounting).case.answers == {}


def test_a_slip_is_asked_once_and_can_be_confirmed_or_taken_over(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    address = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    typed = TEMPERATURES | {"measurement.shaft": "68"}
    page = fill(fitter, address, typed)
    text = page.content.decode()
    assert page.status_code == 422 and "Did you mean 68\u202f°F?" in text
    fields = form_of(page)
    assert fitter.post(address, fields | {"mean:measurement.shaft": "68|°F"}).status_code == 302
    shaft = judged_now(job.mounting).case.value_of("measurement", "shaft")
    assert shaft is not None and shaft.answer.document() == {"typed": "68", "unit": "°F", "value": 20_000}

    other = start(shop, position="NDE")
    address = f"/mountings/{other.mounting.id}/measure/?part=gauge"
    fields = form_of(fill(fitter, address, typed))
    assert fitter.post(address, fields | {"sure:measurement.shaft": "68"}).status_code == 302
    shaft = judged_now(other.mounting).case.value_of("measurement", "shaft")
    assert shaft is not None and shaft.base == 68_000


def test_several_doubts_are_confirmed_with_one_tap_but_only_what_was_asked(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    address = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    page = fill(fitter, address, TEMPERATURES | {"measurement.shaft": "68", "measurement.air": "70"})
    fields = form_of(page) | {"sure_all": "1", "measurement.air": "99"}
    page = fitter.post(address, fields)
    text = page.content.decode()
    assert page.status_code == 422 and "air: 99" in text and "shaft: 68" not in text
    assert fitter.post(address, form_of(page) | {"sure:measurement.air": "99"}).status_code == 302
    case = judged_now(job.mounting).case
    assert [case.value_of("measurement", key).base for key in ("shaft", "air")] == [68_000, 99_000]  # type: ignore[union-attr]


def test_a_changed_answer_asks_for_a_reason_and_keeps_what_was_typed(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    address = f"/mountings/{job.mounting.id}/receive/"
    page = fill(fitter, address, {"identification.marking": "6212 C4"})
    text = page.content.decode()
    assert page.status_code == 422 and "Why does it change?" in text and 'value="6212 C4"' in text
    done = fitter.post(address, form_of(page) | {"reason": "typed wrongly"})
    assert done.status_code == 302
    marking = judged_now(job.mounting).case.value_of("identification", "marking")
    assert marking is not None and marking.word == "6212 C4"


def test_a_reading_too_close_to_call_is_offered_again_before_it_is_saved(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    address = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    fill(fitter, address, TEMPERATURES)
    close = READINGS | {"measurement.journal.C.60": "11.2"}
    address = f"/mountings/{job.mounting.id}/measure/?part=readings"
    page = fill(fitter, address, close)
    text = page.content.decode()
    assert page.status_code == 200 and "Measure this point twice more?" in text
    assert judged_now(job.mounting).case.many("measurement", "journal") == []
    again = {"measurement.journal.C.60.2": "11.4", "measurement.journal.C.60.3": "11.3"}
    assert fitter.post(address, form_of(page) | again).status_code == 302
    assert len(judged_now(job.mounting).case.many("measurement", "journal")) == 11


def test_figures_keep_their_own_unit_wherever_they_are_shown(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    um = "um from 60 mm"
    job.say("measurement", shaft=("71 °F", "°F"), journal__A__0=("18", um), journal__A__60=("60.017", "mm"))
    job.say("shoulder_gap", ring_temp=("71 °F", "°F"), shaft_temp=("21", "°C"))
    here = f"/mountings/{job.mounting.id}"
    typed = fitter.get(f"{here}/measure/?part=readings").content.decode()
    assert re.search(r'name="measurement.journal.A.60" value="60.017"[^>]*><span class="cell-unit">mm', typed)
    assert 'value="18"' in typed and typed.count("cell-unit") == 1
    still = fitter.get(f"{here}/sheet/").content.decode()
    assert '<p class="caption">journal, µm from 60</p>' in still
    assert '60.017 <span class="cell-unit">mm</span>' in still
    pages = still + fitter.get(f"{here}/cold/?part=gap").content.decode()
    assert "71 °F" in pages and "71 °F °F" not in pages


def test_a_reading_unlike_its_siblings_is_asked_once_and_recorded_when_it_is_so(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    fill(fitter, f"{here}gauge", TEMPERATURES)
    page = fill(fitter, f"{here}readings", READINGS | {"measurement.journal.B.60": "54"})
    text = page.content.decode()
    assert page.status_code == 422 and "journal B at 60°: 54 µm from 60" in text
    assert "is far from the other readings," in text
    assert judged_now(job.mounting).case.many("measurement", "journal") == []
    sure = form_of(page) | {"sure:measurement.journal.B.60": "54"}
    assert fitter.post(f"{here}readings", sure).status_code == 302
    read = judged_now(job.mounting).case.value_of("measurement", "journal.B.60")
    assert read is not None and read.base == 60_054_000


def test_points_measured_again_one_after_the_other_keep_and_show_all_their_readings(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    fill(fitter, f"{here}gauge", TEMPERATURES)
    close = {"measurement.journal.C.60": "11.2", "measurement.journal.B.60": "11.5"}
    page = fill(fitter, f"{here}readings", READINGS | close)
    again = {"measurement.journal.C.60.2": "11.4", "measurement.journal.C.60.3": "11.3"}
    page = fitter.post(f"{here}readings", form_of(page) | again)
    text = page.content.decode()
    assert "B at 60°: 0.5 µm from the limit" in text, "the next point is asked about"
    assert "<b>C at 60°</b> read 11.2, and again:" in text and "<b>B at 60°</b>" not in text
    again = {"measurement.journal.B.60.2": "11.6", "measurement.journal.B.60.3": "11.7"}
    assert fitter.post(f"{here}readings", form_of(page) | again).status_code == 302
    typed = {a.key: a.answer.typed for a in judged_now(job.mounting).case.many("measurement", "journal")}
    assert [typed[f"journal.C.60{n}"] for n in ("", ".2", ".3")] == ["11.2", "11.4", "11.3"]
    assert [typed[f"journal.B.60{n}"] for n in ("", ".2", ".3")] == ["11.5", "11.6", "11.7"]
    text = fitter.get(f"{here}readings").content.decode()
    assert text.index("<b>B at 60°</b> read 11.5") < text.index("<b>C at 60°</b> read 11.2")


def test_a_correction_near_a_limit_asks_why_and_whether_it_is_measured_again_on_one_page(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    fill(fitter, f"{here}gauge", TEMPERATURES)
    fill(fitter, f"{here}readings", READINGS)
    close = {"measurement.journal.C.60": "11.2"}
    page = fill(fitter, f"{here}readings", close)
    text = page.content.decode()
    assert "Measure this point twice more?" in text and "Why does it change?" in text
    answered = form_of(page) | {"reason": "measured again", "keep_close": "1"}
    assert fitter.post(f"{here}readings", answered).status_code == 302
    changed = judged_now(job.mounting).case.value_of("measurement", "journal.C.60")
    assert changed is not None and changed.base == 60_011_200


def test_questions_answered_one_after_the_other_do_not_ask_again(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    fill(fitter, f"{here}gauge", TEMPERATURES)
    fill(fitter, f"{here}readings", READINGS)
    typed = {"measurement.journal.C.60": "11.2", "measurement.journal.A.0": "180"}
    page = fill(fitter, f"{here}readings", typed)
    page = fitter.post(f"{here}readings", form_of(page) | {"reason_words": "read the wrong drum"})
    assert "Why does it change?" not in page.content.decode()
    page = fitter.post(f"{here}readings", form_of(page) | {"sure:measurement.journal.A.0": "180"})
    text = page.content.decode()
    assert "Measure this point twice more?" in text and "Why does it change?" not in text
    again = {"measurement.journal.C.60.2": "11.4", "measurement.journal.C.60.3": "11.3"}
    assert fitter.post(f"{here}readings", form_of(page) | again).status_code == 302
    case = judged_now(job.mounting).case
    assert case.value_of("measurement", "journal.A.0").base == 60_180_000  # type: ignore[union-attr]
    assert "11.4" in fitter.get(f"{here}readings").content.decode(), "a repeat counts and is seen"


def test_a_reason_in_words_and_enter_is_recorded_and_stays_while_another_field_is_asked_back(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    here = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    page = fill(
        fitter, here, TEMPERATURES | {"measurement.bearing": "", "not_measured": "measurement.bearing"}
    )
    words = {"words:measurement.bearing": "still in its box", "measurement.air": "warm"}
    page = fitter.post(here, form_of(page) | words)
    assert page.status_code == 422 and "still in its box" in page.content.decode()
    assert fitter.post(here, form_of(page) | {"measurement.air": "21"}).status_code == 302
    said = judged_now(job.mounting).case.said("measurement", "bearing")
    assert said is not None
    assert said.answer.document() == {"state": "not done", "reason": "still in its box"}


def test_the_verdict_of_the_page_just_sent_stands_at_the_top_of_the_next(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part="
    warm = TEMPERATURES | {"measurement.bearing": "28,2"}
    sent = fill(fitter, f"{here}gauge", warm)
    page = fitter.get(sent["Location"]).content.decode()
    before = page.split('id="said-before"')[1].split("</div></div>")[0]
    assert "not one temperature" in before
    sent = fill(fitter, f"{here}readings", READINGS)
    assert 'id="said-before"' in fitter.get(sent["Location"]).content.decode()
    assert 'id="said-before"' not in fitter.get(f"{here}bore").content.decode()


def test_a_reading_brought_to_20_degrees_stands_in_brackets_and_one_as_typed_does_not(
    shop: Workshop, fitter: Client
) -> None:
    for gauge_c, shown in (("20", "A at 60° is +16:"), ("22", "A at 60° is (+17.4):")):
        job = start(shop, position=f"DE {gauge_c}")
        here = f"/mountings/{job.mounting.id}/measure/?part="
        fill(fitter, f"{here}gauge", TEMPERATURES | {"measurement.gauge_temp": gauge_c})
        readings = READINGS | {"measurement.journal.A.60": "16"}
        fields = form_of(fitter.get(f"{here}readings")) | readings
        assert shown in fitter.post(f"{here}readings&try=1", fields).content.decode()


def test_gauges_are_offered_with_range_and_date_and_those_in_doubt_last_and_never_put_forward(
    shop: Workshop, fitter: Client
) -> None:
    wide, narrow, old = (
        {"status": "in use", "expanded_u": 1000, "due": due, "range_nm": [low * 10**6, high * 10**6]}
        for low, high, due in ((50, 75, "2099-02-01"), (25, 50, "2099-02-01"), (50, 75, "2020-01-31"))
    )
    add_gear(shop, "a_old", "outside micrometer", old)
    add_gear(shop, "b_narrow", "outside micrometer", narrow)
    add_gear(shop, "c_wide", "outside micrometer", wide)
    job = start(shop)
    page = fitter.get(f"/mountings/{job.mounting.id}/measure/?part=gauge").content.decode()
    select = page.split('name="measurement.gauge"')[1].split("</select>")[0]
    labels = re.findall(r'<option value="[^"]+"[^>]*>([^<]*)<', select)
    assert labels[0] == "C-WIDE-1 · 50…75\u202fmm · to 2099-02-01"
    assert labels[1].startswith("MICROMETER-1")
    assert labels[2:] == [
        "A-OLD-1 · 50…75\u202fmm · out of date since 2020-01-31",
        "B-NARROW-1 · 25…50\u202fmm · does not hold this size",
    ]
    assert " selected" not in select.replace('value="" selected', "")


def test_no_gap_reads_as_a_blade_that_does_not_go_in(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.check_cold()
    text = fitter.get(f"/mountings/{job.mounting.id}/sheet/").content.decode()
    assert "0.03 does not go in" in text and "<dd>0 mm</dd>" not in text


def test_a_bore_from_its_class_names_no_gauge(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part=bore"
    offered = form_of(fitter.get(here))["bore.gauge"]
    assert offered == str(shop.gear["bore_gauge"].id)
    fill(fitter, here, {"bore.source": "from class"})
    assert set(judged_now(job.mounting).case.answers["bore"]) == {"source"}
    fill(fitter, here, {"bore.bore.A.0": "-6", "reason": "measured it after all", "bore.source": "measured"})
    assert set(judged_now(job.mounting).case.answers["bore"]) == {"source", "gauge", "bore.A.0"}


def test_not_measured_is_two_taps_and_keeps_the_other_readings(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    here = f"/mountings/{job.mounting.id}/measure/?part=readings"
    fill(fitter, f"/mountings/{job.mounting.id}/measure/?part=gauge", TEMPERATURES)
    some = {name: value for name, value in READINGS.items() if ".C." not in name}
    page = fill(fitter, here, some | {"not_measured": "measurement.journal.C.0"})
    text = page.content.decode()
    assert "journal C at 0°" in text and "not measured. Why?" in text and 'value="16"' not in text
    reason = {"absent:measurement.journal.C.0": "not possible|cannot reach", "absent_rest": "1"}
    fitter.post(here, form_of(page) | reason)
    case = judged_now(job.mounting).case
    assert len(case.many("measurement", "journal")) == 9
    assert case.value_of("measurement", "journal.C.120") is None
    lost = case.said("measurement", "journal.C.120")
    assert lost is not None and lost.answer.document()["reason"] == "cannot reach"


def test_trying_judges_what_is_typed_and_records_nothing(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    fill(fitter, f"/mountings/{job.mounting.id}/measure/?part=gauge", TEMPERATURES)
    here = f"/mountings/{job.mounting.id}/measure/?part=readings"
    fields = form_of(fitter.get(here)) | {"measurement.journal.A.0": "5"}
    text = fitter.post(f"{here}&try=1", fields).content.decode()
    assert "A at 0° is +5:" in text and "Heat waits for the inspector." in text
    assert judged_now(job.mounting).case.many("measurement", "journal") == []


def test_an_open_finding_keeps_the_inspector_from_releasing_and_says_which(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting, READINGS | {"measurement.journal.C.60": "2"})
    text = release(fitter, job.mounting, "fit").content.decode()
    assert "Not released while this is open: Journal, worst reading" in text


def test_the_fitter_cannot_release_his_own_work(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    text = release(fitter, job.mounting, "fit", who="fitter").content.decode()
    assert "This needs inspector of this site." in text
    assert standing_release(judged_now(job.mounting).case, "fit") is None


def test_a_release_at_the_tablet_names_the_inspector_as_author_and_the_fitter_as_sender(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    release(fitter, job.mounting, "fit")
    standing = standing_release(judged_now(job.mounting).case, "fit")
    assert standing is not None and standing.author == str(shop.people["inspector"].id)
    assert standing.means == "sign-in on the fitter's device"


def test_at_the_tablet_the_inspector_sees_the_readings_and_the_set_up_he_releases(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    job.say("heating", heater=str(shop.gear["heater"].id), setup="on the core leg", probe="inner ring")
    here = f"/mountings/{job.mounting.id}/"
    text = fitter.get(f"{here}measure/?part=fit").content.decode()
    panel = text.split("What he releases", 1)[1].split("f-sign-in", 1)[0]
    assert re.findall(r'class="reading ">(.*?)<', panel) == [READINGS[f"measurement.journal.{plane}.{at}"]
        for at in ("0", "60", "120") for plane in "ABC"]  # fmt: skip
    for shown in ("MICROMETER-1", "20,5 °C", "HEATER-1", "on the core leg", "inner ring"):
        assert shown in panel, shown
    job.check_cold(at_90="0.05")
    panel = fitter.get(f"{here}cold/?part=hold").content.decode().split("What he releases", 1)[1]
    assert "gap at 90°" in panel and "0.05 mm" in panel


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


def test_a_release_by_telephone_is_named_by_the_code_that_was_read_back(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    text = fitter.get(f"/mountings/{job.mounting.id}/measure/?part=fit").content.decode()
    told = re.search(r'class="code fixed">(\w{7})<.*?lowest <b>(.*?) µm</b>, highest <b>(.*?) µm', text, re.S)
    assert told is not None and (told[2], told[3]) == ("+16", "+18")
    answered = release_by_telephone(
        acting=shop.acting("inspector"),
        mounting=job.mounting,
        entry_id=new_id(),
        code=told[1],
        lowest_nm=60_016_000,
        highest_nm=60_018_000,
    )
    code = answer_code(job.leaf(answered))
    address = f"/mountings/{job.mounting.id}/hot/"
    misheard = code[:-1] + ("2" if code[-1] != "2" else "3")
    fitter.post(address, {"tap": "heater-on", "code": misheard})
    assert judged_now(job.mounting).case.taps == (), "a code whose check does not fit is asked back"
    fitter.post(address, {"tap": "heater-on", "code": code.lower()})
    assert job.finding("fit released before heat").verdict.value == "conforming"


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


def test_gear_used_last_in_this_shift_is_prefilled_and_recorded_only_when_sent(shop: Workshop) -> None:
    shop.clock = datetime.now(UTC) - timedelta(hours=1)
    second = {"status": "in use", "due": "2100-01-31", "expanded_u": 1000, "resolution": 1000}
    add_gear(shop, "second_micrometer", "outside micrometer", second)
    earlier = start(shop, position="NDE")
    earlier.measure()
    job = start(shop)
    client = signed_in(shop, "fitter")
    fields = form_of(client.get(f"/mountings/{job.mounting.id}/measure/?part=gauge"))
    assert fields["measurement.gauge"] == str(shop.gear["micrometer"].id)
    assert fields["measurement.air"] == "20", "the air of an hour ago"
    assert fields["measurement.shaft"] == "", "a measured value is never prefilled"
    assert judged_now(job.mounting).case.answers == {}
    other = signed_in(shop, "second_fitter")
    fields = form_of(other.get(f"/mountings/{job.mounting.id}/measure/?part=gauge"))
    assert fields["measurement.gauge"] == "", "what somebody else used is not offered where there are two"


def test_a_tap_is_undone_within_ten_seconds(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    tap(fitter, job.mounting, "heater-on")
    page = fitter.get(f"/mountings/{job.mounting.id}/hot/")
    struck = judged_now(job.mounting).case.taps[0].entry
    assert struck in page.content.decode()
    fitter.post(f"/mountings/{job.mounting.id}/hot/", form_of(page) | {"undo": struck})
    assert judged_now(job.mounting).case.taps == ()


def test_heat_without_release_is_recorded_and_flagged(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    measure(fitter, job.mounting)
    tap(fitter, job.mounting, "heater-on")
    assert job.finding("fit released before heat").verdict.value == "not proven"


def test_a_file_that_is_no_photo_is_refused_with_its_reason(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    letter = io.BytesIO(b"Dear workshop, no picture today.")
    letter.name = "letter.jpg"
    answer = fitter.post(
        f"/mountings/{job.mounting.id}/photos/",
        {"shot.marking": letter},
        headers={"Accept": "application/json"},
    )
    assert answer.status_code == 422
    assert "Photo of ring marking not kept" in answer.json()["refused"][0]


def test_a_photo_is_shown_sandboxed_and_its_original_only_handed_out(shop: Workshop, fitter: Client) -> None:
    from qrecords.evidence.derivatives import make

    job = start(shop)
    fitter.post(f"/mountings/{job.mounting.id}/photos/", {"gallery.marking": photo("m")})
    taken = judged_now(job.mounting).case.photos[0]
    assert not taken.camera, "from the gallery, and marked so"
    address = f"/mountings/{job.mounting.id}/photos/{taken.sha256}"
    making = fitter.get(f"{address}/320/")
    assert making.status_code == 404 and b"being made" in making.content
    make(taken.sha256)
    small = fitter.get(f"{address}/320/")
    assert small.status_code == 200 and small["Content-Type"] == "image/jpeg"
    assert "sandbox" in small["Content-Security-Policy"] and small["X-Content-Type-Options"] == "nosniff"
    original = fitter.get(f"{address}/original/")
    assert original["Content-Disposition"].startswith("attachment")
    for answer in (small, original):
        b"".join(answer.streaming_content)  # type: ignore[attr-defined]
        answer.close()


def test_a_class_that_does_not_exist_says_which_do(fitter: Client) -> None:
    groups = {"outside": "110", "width": "22", "nominal": "60", "shaft_class": "m27"}
    page = fitter.post("/mountings/new/", ORDER | groups)
    text = page.content.decode()
    assert page.status_code == 422 and "there are:" in text and "m6" in text
    assert Mounting.objects.count() == 0


SIZES = {"outside": "110", "width": "22", "nominal": "60"}


def test_the_class_of_a_hole_is_no_seat_and_the_shaft_classes_are_named(fitter: Client) -> None:
    page = fitter.post("/mountings/new/", ORDER | SIZES | {"shaft_class": "K5"})
    text = page.content.decode()
    assert page.status_code == 422 and "is the class of a hole" in text and "k5, k6" in text
    assert Mounting.objects.count() == 0


def test_a_nominal_that_is_not_the_bore_wants_to_know_where_it_is_written(fitter: Client) -> None:
    typed = ORDER | SIZES | {"nominal": "65"}
    page = fitter.post("/mountings/new/", typed)
    text = page.content.decode()
    assert page.status_code == 422 and "6212 C3 says d 60 mm, not 65;" in text
    assert 'name="nominal_source"' in text and 'value="65"' in text
    sourced = fitter.post("/mountings/new/", typed | {"nominal_source": "drawing TH-9, note 4"})
    assert sourced.status_code == 302
    opened = Mounting.objects.get()
    assert judged_now(opened).case.requirement.document["nominal_source"] == "drawing TH-9, note 4"


def test_a_group_that_the_designation_contradicts_wants_to_know_where_it_is_written(fitter: Client) -> None:
    typed = ORDER | SIZES | {"clearance_group": "4"}
    page = fitter.post("/mountings/new/", typed)
    text = page.content.decode()
    assert page.status_code == 422 and "6212 C3 says 3, not 4;" in text and 'name="group_source"' in text
    assert fitter.post("/mountings/new/", typed | {"group_source": "note 4"}).status_code == 302


def test_everything_wrong_in_an_order_is_asked_back_at_once_each_beside_its_field(fitter: Client) -> None:
    wrong = {"position": "", "drawing": "", "mass": "light", "shaft_class": "m27", "clearance_group": "4",
             "clearance_least": "some"}  # fmt: skip
    page = fitter.post("/mountings/new/", ORDER | SIZES | wrong)
    text = page.content.decode()
    assert page.status_code == 422 and Mounting.objects.count() == 0
    summary = re.search(r'<div class="questions" role="alert">(.*?)</div>', text, re.S)
    assert summary
    linked = re.findall(r'href="#f-(\w+)"', summary[1])
    assert linked == ["position", "clearance_group", "mass", "drawing", "shaft_class", "clearance_least"]
    for name in linked:
        assert f'id="f-{name}"' in text, name
    beside = re.findall(r'<p class="asks" id="a-(\w+)">', text)
    assert set(linked) - set(beside) == {"clearance_group"}, "that one says so at its source"
    assert re.search(r'<p class="asks" role="alert">6212 C3 says 3, not 4;', text)
    assert re.findall(r'name="(\w+)"[^>]* autofocus', text) == ["position"]


def test_a_machine_that_is_known_is_named_and_not_made_twice(fitter: Client) -> None:
    fitter.post("/mountings/new/", ORDER | SIZES)
    mark = Mounting.objects.get().journal.machine.mark
    page = fitter.post("/mountings/new/", ORDER | SIZES | {"machine_name": "vent fan 2", "position": "NDE"})
    assert page.status_code == 422 and mark in page.content.decode()
    assert Mounting.objects.count() == 1


def test_an_unknown_designation_asks_for_d_and_b(fitter: Client) -> None:
    page = fitter.post("/mountings/new/", ORDER | {"designation": "XQ 77", "look_up": "1"})
    assert "unknown series. Type d, D and B from the drawing." in page.content.decode()
    typed = {"designation": "XQ 77", "outside": "110", "width": "22", "nominal": "60"}
    assert fitter.post("/mountings/new/", ORDER | typed).status_code == 302


def test_an_opening_sent_twice_opens_one_mounting(fitter: Client) -> None:
    sizes = {"outside": "110", "width": "22", "nominal": "60", "entry_id": str(new_id())}
    first, second = (fitter.post("/mountings/new/", ORDER | sizes) for _ in range(2))
    assert first["Location"] == second["Location"]
    assert Mounting.objects.count() == 1


def gap_page(client: Client, job: Job, **tapped: str) -> str:
    here = f"/mountings/{job.mounting.id}/cold/?part=gap"
    return client.post(here, form_of(client.get(here)) | tapped, follow=True).content.decode()


def test_more_asks_for_blades_together_at_the_quarter_chosen(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    text = gap_page(fitter, job, at="90", blade="more")
    assert "thickest blade or blades together" in text
    here = f"/mountings/{job.mounting.id}/cold/?part=gap"
    fitter.post(here, {"at": "180", "more": "0,15", "entry_id": str(new_id())})
    case = judged_now(job.mounting).case
    felt = case.value_of("shoulder_gap", "gap.180")
    assert felt is not None and felt.base == 150_000, "the quarter tapped last counts"
    assert case.said("shoulder_gap", "gap.90") is None


def test_a_blade_without_a_quarter_is_asked_back_and_kept(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    text = gap_page(fitter, job, at="", blade="0.05")
    assert "at which angle?" in text and '<input type="hidden" name="blade" value="0.05">' in text
    assert judged_now(job.mounting).case.answers == {}


def test_an_angle_that_cannot_be_reached_is_not_drawn_as_untried(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    text = gap_page(fitter, job, at="0", blade="cannot-reach")
    assert "0°: cannot reach" in text and ">0°: not yet tried" not in text


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
