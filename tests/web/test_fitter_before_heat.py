"""Hold point and heater: what is known and named before heat, and what the page says once it runs."""

import re
from typing import Any

import pytest
from django.test import Client

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.judging import judged_now
from qrecords.signoff.actions import release_by_telephone
from qrecords.steps.answers import Absent, State
from qrecords.steps.case import Answered
from qrecords.steps.telephone import answer_code, readings_code, readings_of
from tests.cast import PASSWORD, Job, Workshop, start
from tests.web.fitter_hand import form_of, tap

pytestmark = pytest.mark.django_db
WITHOUT = "heater on without the code: it is recorded and flagged"


def at(job: Job, page: str) -> str:
    return f"/mountings/{job.mounting.id}/{page}"


def text_of(client: Client, address: str) -> str:
    return client.get(address).content.decode()


def telephoned(shop: Workshop, job: Job) -> Entry:
    case = judged_now(job.mounting).case
    readings = readings_of(case)
    return release_by_telephone(
        acting=shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(),
        code=readings_code(case.mounting, readings), lowest_nm=min(readings.values()),
        highest_nm=max(readings.values()),
    )  # fmt: skip


def tapped(job: Job) -> list[str]:
    return [each.what for each in judged_now(job.mounting).case.taps]


def set_up(job: Job) -> None:
    heater = str(job.shop.gear["heater"].id)
    job.say("heating", heater=heater, setup="on the core leg", probe="inner ring")


def send(client: Client, job: Job, query: str = "", **fields: str) -> Any:
    """The heat page's form as it stands, with what is typed and the tap."""
    address = at(job, "hot/")
    return client.post(f"{address}{query}", form_of(client.get(address)) | {"tap": "heater-on"} | fields)


def test_a_release_by_telephone_is_named_by_its_code_and_by_nothing_else(
    shop: Workshop, fitter: Client, job: Job
) -> None:
    released = telephoned(shop, job)
    page = text_of(fitter, at(job, "hot/"))
    assert re.search(r'<input id="f-code" name="code"[^>]* required', page), "the code has its field"
    assert form_of(fitter.get(at(job, "hot/")))["release"] == "", "its hash proves no call"
    asked = send(fitter, job)
    assert asked.status_code == 422 and "The code he read back is wanted" in asked.content.decode()
    assert tapped(job) == []
    send(fitter, job, code=answer_code(job.leaf(released)).lower())
    heater_on = judged_now(job.mounting).case.taps[0]
    assert (heater_on.relies_on, heater_on.code) == ("", answer_code(job.leaf(released)))
    assert job.finding("fit released before heat").verdict.value == "conforming"


def test_heat_without_the_code_is_recorded_and_flagged(shop: Workshop, fitter: Client, job: Job) -> None:
    telephoned(shop, job)
    assert WITHOUT in text_of(fitter, at(job, "hot/"))
    send(fitter, job, "?without=1")
    assert tapped(job) == ["heater on"]
    assert job.finding("fit released before heat").verdict.value == "not proven"


def test_a_code_of_no_release_is_asked_back_once_and_kept_beside_its_field(
    shop: Workshop, fitter: Client, job: Job
) -> None:
    telephoned(shop, job)
    other = answer_code("ab" * 32)
    page = send(fitter, job, code=other)
    text = page.content.decode()
    assert page.status_code == 422 and f'name="code" class="fixed" value="{other}"' in text
    assert re.search(rf'class="asks" id="a-code" role="alert">{other} belongs to no release', text)
    assert tapped(job) == []
    fitter.post(at(job, "hot/"), form_of(page) | {"tap": "heater-on"})
    assert judged_now(job.mounting).case.taps[0].code == other, "sent again it is a fact"


def test_a_release_by_sign_in_asks_for_no_code(fitter: Client, job: Job) -> None:
    released = job.release("fit")
    assert 'name="code"' not in text_of(fitter, at(job, "hot/"))
    send(fitter, job)
    assert judged_now(job.mounting).case.taps[0].relies_on == job.leaf(released)


def test_what_is_read_out_says_that_it_is_as_typed(fitter: Client, job: Job) -> None:
    page = text_of(fitter, at(job, "measure/?part=fit"))
    told = page.split("Read out to him:", 1)[1].split("</details>", 1)[0]
    assert "from 60 mm, as typed" in told and "The code is made from the same readings." in told
    assert "not brought to 20 °C" not in told, "at 20 °C there is nothing to bring"


def test_readings_of_a_warm_seat_are_read_out_as_typed_and_say_so(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    job.receive()
    job.measure(shaft_c="24")
    job.say("measurement", reason="read again", gauge_temp=("20", "°C"))
    page = text_of(fitter, at(job, "measure/?part=fit"))
    told = page.split("Read out to him:", 1)[1].split("</details>", 1)[0]
    assert "<b>+16 µm</b>" in told and "<b>+18 µm</b>" in told and "(not brought to 20 °C)" in told


def release_here(
    client: Client,
    job: Job,
    hold: str = "fit",
    word: str = PASSWORD,
    marking: str = "6212 C3",
    marking_reason: str = "",
) -> Any:
    page = client.get(at(job, "measure/?part=fit" if hold == "fit" else "cold/?part=hold")).content.decode()
    shown = re.search(r'name="shown" value="([^"]*)"', page)
    assert shown
    typed = {"sign_in": "inspector", "inspector_password": word, "shown": shown[1]}
    if hold == "fit":
        typed |= {"marking": marking, "marking_reason": marking_reason, "reading_id": str(new_id())}
    return client.post(at(job, f"release/{hold}/"), typed, follow=True)


def test_after_a_release_here_the_heater_is_set_up_before_the_taps(fitter: Client, job: Job) -> None:
    page = release_here(fitter, job)
    assert page.request["PATH_INFO"] == at(job, "heat/")
    assert "heating.setup" in page.content.decode()


def test_after_a_release_here_the_taps_follow_where_the_heater_stands_ready(fitter: Client, job: Job) -> None:
    set_up(job)
    assert release_here(fitter, job).request["PATH_INFO"] == at(job, "hot/")


def test_at_the_tablet_the_inspector_reads_the_ring_before_he_sees_what_the_fitter_read(
    fitter: Client, job: Job
) -> None:
    panel = text_of(fitter, at(job, "measure/?part=fit")).split("What he releases", 1)[1]
    assert 'name="marking" value=""' in panel and "6212 C3" not in panel.split("by telephone", 1)[0]
    page = release_here(fitter, job, marking="").content.decode()
    assert "the inspector has not read the marking off the ring himself" in page
    assert judged_now(job.mounting).case.releases == ()


def test_what_the_inspector_read_at_the_tablet_stands_though_his_release_is_refused(
    fitter: Client, job: Job
) -> None:
    page = release_here(fitter, job, marking="6212").content.decode()
    assert "Not released while this is open: Marking, inspector&#x27;s own reading" in page
    assert 'name="marking"' not in page, "it is read"
    case = judged_now(job.mounting).case
    assert case.checks["identification"]["marking"].word == "6212" and case.releases == ()


def hidden_by_grease(job: Job) -> None:
    """The inspector said at his desk that the ring could not be read."""
    grease = Absent(State.NOT_POSSIBLE, "hidden by grease")
    job.say("identification", who="inspector", check=True, marking=grease)


def own_reading(job: Job) -> Answered:
    return judged_now(job.mounting).case.checks["identification"]["marking"]


def test_a_ring_that_could_not_be_read_is_read_at_the_tablet_with_why_that_changes(
    fitter: Client, job: Job
) -> None:
    hidden_by_grease(job)
    panel = text_of(fitter, at(job, "measure/?part=fit")).split("the inspector is here", 1)[1]
    assert "It stands as “not possible: hidden by grease”. Why does it change?" in panel
    page = release_here(fitter, job, marking_reason="wiped clean")
    assert page.request["PATH_INFO"] == at(job, "heat/"), "it is released"
    assert own_reading(job).word == "6212 C3"
    assert b"wiped clean" in bytes(Entry.objects.get(id=own_reading(job).entry).payload)


def test_a_reading_at_the_tablet_without_why_it_changes_is_asked_for_it_beside_the_field(
    fitter: Client, job: Job
) -> None:
    hidden_by_grease(job)
    page = release_here(fitter, job)
    text = page.content.decode()
    assert page.status_code == 422 and 'name="marking" value="6212 C3"' in text
    assert re.search(r'name="marking_reason"[^>]*aria-describedby="a-reason"', text)
    assert 'id="a-reason" role="alert">A reading stands already. Say why it changes.' in text
    assert "Look, and release again" not in text


def test_a_ring_read_meanwhile_in_other_letters_can_be_left_so_or_corrected(fitter: Client, job: Job) -> None:
    job.say("identification", who="inspector", check=True, marking="6212-C3")
    text = release_here(fitter, job).content.decode()
    assert 'name="marking" value="6212 C3"' in text, "what he typed stays"
    assert "An inspector read “6212-C3”. Why does it change? Or clear what was read here." in text
    assert 'id="a-reason" role="alert">A reading stands already. Say why it changes.' in text
    release_here(fitter, job, marking_reason="a dash that is not there")
    assert own_reading(job).word == "6212 C3"
    assert judged_now(job.mounting).case.releases


def test_a_ring_read_meanwhile_in_the_same_letters_asks_for_nothing_but_a_second_look(
    fitter: Client, job: Job
) -> None:
    job.own_reading()
    text = release_here(fitter, job).content.decode()
    assert "The marking has been read by an inspector meanwhile. Look, and release again." in text
    assert 'name="marking"' not in text and 'name="marking_reason"' not in text


def test_the_taps_say_what_of_the_set_up_is_not_recorded(fitter: Client, job: Job) -> None:
    job.release("fit")
    page = text_of(fitter, at(job, "hot/"))
    told = page.split("Not recorded of the set-up:", 1)[1].split("</p>", 1)[0]
    assert told.count("part=set-up") == 3 and "Set-up on the heater" in told
    set_up(job)
    assert "Not recorded of the set-up:" not in text_of(fitter, at(job, "hot/"))


def test_a_wrong_password_of_the_inspector_keeps_his_name_and_stands_beside_its_field(
    fitter: Client, job: Job
) -> None:
    page = release_here(fitter, job, word="not his word")
    text = page.content.decode()
    assert page.status_code == 422 and 'name="sign_in" value="inspector"' in text
    assert re.search(r'<details class="more" open><summary>the inspector is here', text)
    assert re.search(r'class="asks" id="a-inspector" role="alert">Name and password do not belong', text)
    assert judged_now(job.mounting).case.releases == ()


@pytest.mark.parametrize("page", ["measure/?part=fit", "heat/?part=set-up", "hot/"])
def test_what_is_open_of_the_preparation_is_known_before_heat(
    shop: Workshop, fitter: Client, page: str
) -> None:
    job = start(shop)
    job.receive()
    job.say("preparation", reason="looked again", zone="no", wiped="no")
    text = text_of(fitter, at(job, page))
    told = text.split('id="unprepared"', 1)[1].split("</div></div>", 1)[0]
    assert "Zone not kept." in told and "Not wiped clean." in told and "/receive/" in told
    tap(fitter, job.mounting, "heater-on")
    assert 'id="unprepared"' not in text_of(fitter, at(job, "hot/")), "nothing is read while it is hot"


@pytest.mark.parametrize("released", [False, True])
def test_where_heat_is_switched_on_the_safety_wording_stands_open(
    fitter: Client, job: Job, released: bool
) -> None:
    if released:
        job.release("fit")
    text = text_of(fitter, at(job, "hot/"))
    assert '<details class="safety-strip"' not in text
    zone = "stays outside the marked zone unless individually assessed by the employer. No one is asked here."
    assert text.count(zone) == 1 and text.index(zone) < text.index('value="heater-on"')
    for words in ("Bare metal from about 65 °C burns", "Guidance only. The law and codes where you work"):
        assert words in text.split('<div class="safety-strip open">', 1)[1]


def test_while_hot_the_wording_leaves_the_room_to_the_taps(fitter: Client, job: Job) -> None:
    tap(fitter, job.mounting, "heater-on")
    assert '<details class="safety-strip"' in text_of(fitter, at(job, "hot/"))


@pytest.mark.parametrize(
    ("designation", "outside_mm", "width_mm", "asked"),
    [("6212 C3", "110", "22", False), ("6412 C3", "150", "35", True)],
)
def test_a_hold_of_more_than_a_minute_asks_for_a_nut_or_clamp_in_plain_view(
    shop: Workshop, fitter: Client, designation: str, outside_mm: str, width_mm: str, asked: bool
) -> None:
    job = start(shop, designation=designation, outside_mm=outside_mm, width_mm=width_mm, shaft_class="k5")
    job.measure(readings=dict.fromkeys("ABC", ("8", "7", "8")))
    job.bore()
    job.tap("heater on")
    job.tap("lifted off")
    job.tap("home")
    text = text_of(fitter, at(job, "hot/"))
    in_view = text.split('class="safety-strip"', 1)[0]
    assert ("Use a nut or clamp, do not stand holding it." in in_view) == asked


def test_stuck_is_past_once_the_ring_went_home_after_all(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    for what in ("heater-on", "lifted-off", "stuck"):
        tap(fitter, job.mounting, what)
    assert "Stuck. Stop." in text_of(fitter, at(job, "hot/"))
    tap(fitter, job.mounting, "home")
    text = text_of(fitter, at(job, "hot/"))
    assert "Stuck. Stop." not in text
    assert re.search(r'class="overcome">stuck at \d\d:\d\d:\d\d; the work went on since\.', text)
    assert job.finding("went home").verdict.value == "nonconforming", "that it stuck stays said"


def test_stuck_after_home_was_tapped_takes_home_back_until_it_is_tapped_again(
    shop: Workshop, fitter: Client
) -> None:
    job = start(shop)
    for what in ("heater-on", "lifted-off", "home", "stuck"):
        tap(fitter, job.mounting, what)
    text = text_of(fitter, at(job, "hot/"))
    assert "home after all" in text and "let go after all" not in text
    tap(fitter, job.mounting, "home")
    assert 'value="let-go" data-hot-tap' in text_of(fitter, at(job, "hot/"))


def test_a_ring_that_fell_is_not_mended_by_going_on(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    for what in ("heater-on", "lifted-off", "dropped", "home"):
        tap(fitter, job.mounting, what)
    assert "do not fit it" in text_of(fitter, at(job, "hot/"))
