"""The paper sheet: printed blank or part-filled, entered later as what was written by hand."""

import re
from datetime import UTC, datetime, timedelta
from html import unescape
from typing import Any

import pytest
from django.test import Client

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import entries_of
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.steps.paper import short_reference
from qrecords.web.fitter.screens import SCREENS
from qrecords.web.fitter.words import field_label
from qrecords.workshop.shifts import start_shift
from tests.cast import U_HALF_UM, Job, add_gear, make_workshop, start
from tests.qr_reading import of_svg, read
from tests.web.fitter_hand import fill, form_of, photo, signed_in

pytestmark = pytest.mark.django_db
DAY = "2026-03-02"


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


@pytest.fixture
def fitter(job: Job) -> Client:
    return signed_in(job.shop, "fitter")


def page(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200, answer.status_code
    return unescape(answer.content.decode())


def printed(client: Client, job: Job, query: str = "") -> str:
    return page(client, f"/mountings/{job.mounting.id}/paper/{query}")


def test_the_blank_sheet_asks_everything_the_screens_ask_in_their_order(fitter: Client, job: Job) -> None:
    sheet = printed(fitter, job)
    procedure = case_of(job.mounting).procedure
    places = []
    for screen in SCREENS.values():
        for part in screen.under(procedure).parts:
            for name in part.fields:
                if name not in ("measurement.journal", "bore.bore", "shoulder_gap.gap"):
                    places.append(sheet.find(f">{field_label(name)}", places[-1] if places else 0))
    assert -1 not in places
    assert places == sorted(places)
    assert "+11…+30" in sheet, "the limits of the journal"
    assert "never above 120 °C" in sheet.replace("\u202f", " ").replace("\xa0", " ")
    assert "does not go in" in sheet
    assert sheet.count("box-8mm") > 60


def test_nothing_stands_on_a_blank_sheet_that_somebody_measured(fitter: Client, job: Job) -> None:
    job.receive()
    job.measure()
    assert ">18 " not in printed(fitter, job)
    filled = printed(fitter, job, "?filled=1")
    assert re.search(r'box-8mm">18\b', filled)
    assert "part-filled" in filled


def test_part_filled_it_holds_the_plan_and_the_reference_of_the_release(fitter: Client, job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.own_reading()
    leaf = job.leaf(job.release())
    sheet = printed(fitter, job)
    assert short_reference(leaf) in sheet, "the sheet was printed after the release, blank or not"
    assert "Set " in sheet
    fit = page(fitter, f"/mountings/{job.mounting.id}/measure/?part=fit")
    assert f"to be written on paper: {short_reference(leaf)}" in fit


def test_a_release_by_telephone_is_named_by_the_code_that_was_read_back(fitter: Client, job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.own_reading()
    job.release_by_telephone()
    leaf = case_of(job.mounting).releases[0].leaf
    assert short_reference(leaf) not in printed(fitter, job)
    assert "to be written on paper" not in page(fitter, f"/mountings/{job.mounting.id}/measure/?part=fit")


def test_its_code_leads_to_where_it_is_entered(fitter: Client, job: Job) -> None:
    code = re.search(r'<div class="qr".*?(<svg.*?</svg>)', printed(fitter, job), re.S)
    assert code
    address = read(of_svg(code[1]))
    assert address == f"http://testserver/mountings/{job.mounting.id}/from-paper/"
    assert fitter.get(address.removeprefix("http://testserver")).status_code == 200


def test_a_sheet_can_be_printed_before_any_mounting_is_opened(fitter: Client) -> None:
    sheet = page(fitter, "/paper-sheet/")
    assert "work order" in sheet
    assert "marking, read from the ring itself" in sheet
    code = re.search(r'<div class="qr".*?(<svg.*?</svg>)', sheet, re.S)
    assert code
    assert read(of_svg(code[1])) == "http://testserver/mountings/new/"


def hand_in(client: Client, job: Job, **changes: Any) -> Any:
    here = f"/mountings/{job.mounting.id}/from-paper/"
    told = {"by": str(job.shop.people["second_fitter"].id), "day": DAY, "shot.paper_sheet": photo("sheet")}
    return client.post(here, told | changes)


def test_what_is_entered_from_it_says_so_with_the_time_as_written(fitter: Client, job: Job) -> None:
    answer = hand_in(fitter, job)
    assert answer.status_code == 302, answer.content.decode()[:2000]
    assert answer["Location"].endswith("/receive/")
    receive = f"/mountings/{job.mounting.id}/receive/"
    assert "From paper sheet" in page(fitter, receive)
    typed = {"identification.marking": "6212 C3", "identification.package": "intact", "paper_time": "07:30"}
    fill(fitter, receive, typed)
    case = case_of(job.mounting)
    told = case.answers["identification"]["marking"]
    assert told.paper
    assert (told.paper.sheet, told.paper.written) == (case.sheets[0].entry, f"{DAY} 07:30")
    assert case.sheets[0].by == str(job.shop.people["second_fitter"].id)
    assert job.finding("paper sheet 1").verdict.value == "conforming"
    sheet = page(fitter, f"/mountings/{job.mounting.id}/sheet/")
    assert "from paper sheet, written 2026-03-02 07:30" in sheet


def test_heat_is_entered_as_times_and_a_reference_in_one_form(fitter: Client, job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.own_reading()
    leaf = job.leaf(job.release())
    hand_in(fitter, job)
    gear = job.shop.gear
    set_up = {"heating.heater": str(gear["heater"].id), "heating.setup": "on the core leg"}
    answer = fill(
        fitter,
        f"/mountings/{job.mounting.id}/heat/?part=set-up",
        set_up | {"heating.probe": "inner ring", "shot.probe": photo("probe")},
    )
    assert answer["Location"].endswith("/from-paper/taps/"), "no big tap where the ring is long cold"
    hot = fitter.get(f"/mountings/{job.mounting.id}/hot/")
    assert hot["Location"].endswith("/from-paper/taps/")
    taps = answer["Location"]
    sent = {"paper_sheet": case_of(job.mounting).sheets[0].entry, "paper_day": DAY}
    times = {"heater-on": "09:00", "lifted-off": "09:04:10", "home": "09:04:30", "let-go": "09:06"}
    answer = fitter.post(taps, sent | times | {"reference": short_reference(leaf).upper()})
    assert answer.status_code == 302
    case = case_of(job.mounting)
    assert [tap.what for tap in case.taps] == ["heater on", "lifted off", "home", "let go"]
    found = job.finding("fit released before heat")
    assert (found.verdict.value, found.message) == ("conforming", "released-before-heat.paper")


@pytest.mark.parametrize("time", ["9 o'clock", "25:00"])
def test_a_time_that_is_none_is_asked_back_and_nothing_is_recorded(
    fitter: Client, job: Job, time: str
) -> None:
    hand_in(fitter, job)
    sheet = case_of(job.mounting).sheets[0].entry
    answer = fitter.post(
        f"/mountings/{job.mounting.id}/from-paper/taps/",
        {"paper_sheet": sheet, "paper_day": DAY, "heater-on": "09:00", "home": time},
    )
    assert answer.status_code == 422
    assert "HH:MM:SS" in unescape(answer.content.decode())
    assert case_of(job.mounting).taps == ()


def test_a_day_written_wrong_is_asked_back_on_its_page(fitter: Client, job: Job) -> None:
    hand_in(fitter, job)
    receive = f"/mountings/{job.mounting.id}/receive/"
    answer = fill(fitter, receive, {"identification.package": "intact", "paper_day": "2 March"})
    assert answer.status_code == 422
    words = unescape(answer.content.decode())
    assert "day and time as written: 2 March" in words
    assert "identification" not in case_of(job.mounting).answers


@pytest.mark.parametrize("day", ["", "soon", "2999-01-01"])
def test_a_day_that_cannot_be_is_asked_back(fitter: Client, job: Job, day: str) -> None:
    answer = hand_in(fitter, job, day=day)
    assert answer.status_code == 422
    assert "a day up to today" in unescape(answer.content.decode())
    assert case_of(job.mounting).sheets == ()


def test_a_file_that_is_no_photo_is_refused_with_why(fitter: Client, job: Job) -> None:
    from django.core.files.uploadedfile import SimpleUploadedFile

    answer = hand_in(fitter, job, **{"shot.paper_sheet": SimpleUploadedFile("s.jpg", b"no", "image/jpeg")})
    assert answer.status_code == 422
    assert "Photo of the sheet not kept" in unescape(answer.content.decode())


def test_paper_ends_when_it_is_entered_and_is_nobody_elses(fitter: Client, job: Job) -> None:
    hand_in(fitter, job)
    here = f"/mountings/{job.mounting.id}/from-paper/"
    receive = f"/mountings/{job.mounting.id}/receive/"
    other = signed_in(job.shop, "second_fitter")
    other.cookies["paper"] = fitter.cookies["paper"].value
    assert "From paper sheet" not in page(other, receive)
    fitter.post(here, {"leave": "1"})
    assert "From paper sheet" not in page(fitter, receive)
    fill(fitter, receive, {"identification.package": "intact"})
    assert case_of(job.mounting).answers["identification"]["package"].paper is None


def test_a_form_of_the_tablet_stays_one_of_the_tablet(fitter: Client, job: Job) -> None:
    """Which sheet a form is of stands in the form: a page loaded before says nothing of paper."""
    receive = f"/mountings/{job.mounting.id}/receive/"
    before = form_of(fitter.get(receive))
    hand_in(fitter, job)
    fitter.post(receive, before | {"identification.package": "intact"})
    assert case_of(job.mounting).answers["identification"]["package"].paper is None


def test_a_sheet_is_chosen_again_the_next_day(fitter: Client, job: Job) -> None:
    hand_in(fitter, job)
    fitter.cookies.clear()
    fitter.force_login(job.shop.people["fitter"], backend="django.contrib.auth.backends.ModelBackend")
    here = f"/mountings/{job.mounting.id}/from-paper/"
    assert "Second_Fitter Person" in page(fitter, here)
    fitter.post(here, {"sheet": case_of(job.mounting).sheets[0].entry})
    assert "From paper sheet" in page(fitter, f"/mountings/{job.mounting.id}/receive/")


def test_the_next_fitter_finds_it_on_his_list_and_both_stand_in_the_record(fitter: Client, job: Job) -> None:
    second = job.shop.people["second_fitter"]
    other = signed_in(job.shop, "second_fitter")
    assert 'class="mine"' not in page(other, "/mountings/")
    given = {"to": str(second.id), "note": "C still to measure"}
    fitter.post(f"/mountings/{job.mounting.id}/hand-over/", given)
    shown = page(other, "/mountings/")
    assert 'class="mine"' in shown
    assert "Fitter Person hands it over to Second_Fitter Person: C still to measure" in shown
    sheet = page(other, f"/mountings/{job.mounting.id}/sheet/")
    assert "handed over to Second_Fitter Person" in sheet
    assert entries_of(job.mounting.id)[-1].kind == "hand over"


@pytest.mark.parametrize("to", ["", "nobody", "fitter", "inspector"])
def test_it_goes_to_nobody_who_does_not_record_here(fitter: Client, job: Job, to: str) -> None:
    person = job.shop.people.get(to)
    address = f"/mountings/{job.mounting.id}/hand-over/"
    answer = fitter.post(address, {"to": str(person.id) if person else to}, follow=True)
    assert Mounting.objects.get(id=job.mounting.id).handed_to is None
    words = unescape(answer.content.decode())
    assert "Not handed over" in words or "to whom" in words


def test_the_label_bears_the_mark_and_leads_to_machine_and_mounting(fitter: Client, job: Job) -> None:
    label = page(fitter, f"/mountings/{job.mounting.id}/label/")
    mark = job.machine.mark
    assert f"{mark[:3]} {mark[3:]}" in label
    assert "Never etched" in label
    codes = [read(of_svg(svg)) for svg in re.findall(r"<svg.*?</svg>", label, re.S)]
    assert codes == [
        f"http://testserver/search/?q={mark}",
        f"http://testserver/mountings/{job.mounting.id}/",
    ]


def test_the_sheets_are_cut_so_that_nothing_is_left_out(fitter: Client, job: Job) -> None:
    judged = judged_now(job.mounting)
    assert judged.findings
    sheet = printed(fitter, job)
    of = re.findall(r"en · (\d+)/(\d+)", sheet)
    assert [int(n) for n, _ in of] == list(range(1, len(of) + 1))
    assert {total for _, total in of} == {str(len(of))}
    assert len(of) <= 5


def test_where_the_planes_lie_is_typed_by_who_measured_and_drawn_there(fitter: Client, job: Job) -> None:
    here = f"/mountings/{job.mounting.id}/measure/?part=gauge"
    assert "from the shoulder to plane A" in page(fitter, here)
    assert "from the shoulder to plane A" in printed(fitter, job), "and is asked on paper"
    fill(fitter, here, {"measurement.plane_at.A": "9,5", "measurement.plane_at.C": "31", "leave": "1"})
    case = case_of(job.mounting)
    assert case.value_of("measurement", "plane_at.A").base == 9_500_000  # type: ignore[union-attr]
    from qrecords.web.fitter.readings import journal_surface, planes

    places = [plane.distance_mm for plane in planes(case, journal_surface(case))]
    assert (places[0], places[2]) == (9.5, 31.0)
    assert "from the shoulder to plane C" in page(fitter, f"/mountings/{job.mounting.id}/sheet/")


@pytest.mark.parametrize(
    "fault",
    [{"range_nm": [100_000_000, 125_000_000]}, {"due": "2020-01-31"}, {"status": "lost"}],
    ids=["another size", "out of date", "lost"],
)
def test_of_the_gear_named_at_the_shifts_start_only_what_proves_this_size_is_printed(
    fitter: Client, job: Job, fault: dict[str, Any]
) -> None:
    shop = job.shop
    add_gear(shop, "doubtful", "outside micrometer", {**U_HALF_UM, **fault}, "DOUBT-7")
    shop.clock = datetime.now(UTC) - timedelta(minutes=5)
    named = [shop.gear["micrometer"].id, shop.gear["doubtful"].id]
    start_shift(acting=shop.acting("fitter"), site=shop.site, shift_id=new_id(), gear=named, climate={})
    sheet = printed(fitter, job)
    assert shop.gear["micrometer"].mark in sheet
    assert "DOUBT-7" not in sheet
