"""Numbers typed by pad and keyboard: what is typed stands in the one field it was typed for, and stays."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect
from pytest_django.live_server_helper import LiveServer

from qrecords.mountings.judging import judged_now
from tests.browser.hand import Hand, come_in, sign_in
from tests.cast import PASSWORD, Job, make_workshop, start

pytestmark = pytest.mark.browser
FITTER = {"name": "fitter", "password": PASSWORD}
PHONE, DESK = {"width": 390, "height": 844}, {"width": 1280, "height": 800}


@pytest.fixture
def job(server: LiveServer) -> Job:
    made = start(make_workshop(datetime.now(UTC) - timedelta(hours=1)))
    made.receive()
    return made


@pytest.fixture
def page(chromium: Browser, server: LiveServer, job: Job) -> Iterator[Page]:
    context = chromium.new_context(viewport=PHONE, has_touch=True)  # type: ignore[arg-type]  # a viewport
    yield come_in(context, server.url, job.shop.people["fitter"])
    context.close()


def at(server: LiveServer, job: Job, rest: str) -> str:
    return f"{server.url}/mountings/{job.mounting.id}/{rest}"


def typed(page: Page) -> dict[str, str]:
    """What stands in the inputs of the grid or the list, empty ones left out."""
    found = page.eval_on_selector_all(
        "[data-reading-grid] input:not([type=hidden])", "all => all.map(each => [each.name, each.value])"
    )
    return {name: value for name, value in found if value}


def test_a_temperature_with_tenths_stays_in_one_field(page: Page, server: LiveServer, job: Job) -> None:
    page.goto(at(server, job, "measure/?part=gauge"))
    Hand(page, "").press(["0", "next", *"22", "mark", "4", "next", *"22", "mark", "5"])
    assert typed(page) == {
        "measurement.master_before": "0", "measurement.shaft": "22.4", "measurement.bearing": "22.5",
    }  # fmt: skip


def test_a_decimal_mark_after_two_figures_belongs_to_the_reading_just_typed(
    page: Page, server: LiveServer, job: Job
) -> None:
    page.goto(at(server, job, "measure/?part=readings"))
    Hand(page, "").press([*"18", *"17", "mark", "5", "next", *"18"])
    assert list(typed(page).values()) == ["18", "17.5", "18"]


@pytest.mark.parametrize(
    ("keys", "stand"),
    [
        ([*"18", "1", "mark", "5", "next"], ["18", "1.5"]),
        ([*"18", "next", *"17"], ["18", "17"]),
        ([*"12", "back", *"20", "next", *"18"], ["120", "18"]),
        ([*"18"] * 8 + [*"29", "mark", "5"], ["18"] * 8 + ["29.5"]),
    ],
    ids=["a mark in the next cell", "next after it went on", "back and on", "the last cell"],
)
def test_the_pad_keeps_every_figure_in_the_cell_it_is_typed_for(
    page: Page, server: LiveServer, job: Job, keys: list[str], stand: list[str]
) -> None:
    page.goto(at(server, job, "measure/?part=readings"))
    Hand(page, "").press(keys)
    assert list(typed(page).values()) == stand


def test_a_cell_chosen_by_hand_takes_a_number_of_any_length(page: Page, server: LiveServer, job: Job) -> None:
    page.goto(at(server, job, "measure/?part=readings"))
    page.locator('[name="measurement.journal.B.60"]').click()
    Hand(page, "").press(["sign", *"120"])
    assert typed(page) == {"measurement.journal.B.60": "−120"}


def test_what_is_asked_about_a_changed_reading_stands_in_sight_above_the_pad(
    page: Page, server: LiveServer, job: Job
) -> None:
    job.measure()
    page.goto(at(server, job, "measure/?part=readings"))
    page.locator('[name="measurement.journal.C.120"]').click()
    hand = Hand(page, "")
    hand.press([*"18"])
    hand.send()
    question = page.locator("#questions .question").first
    expect(question).to_contain_text("Why does it change?")
    place, foot = question.bounding_box(), page.locator(".at-foot").bounding_box()
    assert place and foot and place["y"] >= 0 and place["y"] + place["height"] <= foot["y"]


def test_at_a_desk_enter_and_tab_go_to_the_next_empty_cell_and_a_fault_takes_the_hand(
    page: Page, server: LiveServer, job: Job
) -> None:
    page.set_viewport_size(DESK)  # type: ignore[arg-type]  # a viewport
    page.goto(at(server, job, "measure/?part=readings"))
    for text, key in (("18", "Enter"), ("17", "Tab"), ("16", "Enter")):
        page.keyboard.type(text)
        page.keyboard.press(key)
    assert list(typed(page)) == [f"measurement.journal.A.{angle}" for angle in ("0", "60", "120")]
    assert page.evaluate("document.activeElement.name") == "measurement.journal.B.0"

    page.goto(at(server, job, "measure/?part=gauge"))
    for text in ("0", "20", "200", "20", "20"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    bearing = page.locator('[name="measurement.bearing"]')
    expect(bearing).to_have_attribute("aria-invalid", "true")
    expect(bearing).to_be_focused()


def test_what_is_typed_outlives_a_reload_says_it_is_not_sent_and_goes_when_it_is_recorded(
    page: Page, server: LiveServer, job: Job
) -> None:
    gauge = at(server, job, "measure/?part=gauge")
    page.goto(gauge)
    hand = Hand(page, "")
    hand.press(["0", "next", *"22", "mark", "4"])
    page.locator('[data-key="unit"]').click()  # the row in hand was typed in °F after all
    expect(page.locator("[data-offline-mark]")).to_contain_text("2 not yet sent")
    page.goto(at(server, job, "sheet/"))
    page.go_back()
    page.reload()
    expect(page.locator("[data-draft-note]")).to_contain_text("Typed here before, not yet sent.")
    expect(page.locator("[data-offline-mark]")).to_contain_text("2 not yet sent")
    assert typed(page) == {"measurement.master_before": "0", "measurement.shaft": "22.4"}
    assert page.locator('[name="unit:measurement.shaft"]').input_value() == "°F"
    page.locator('[name="unit:measurement.shaft"]').select_option("°C")
    for name in ("bearing", "gauge_temp", "air"):
        page.fill(f'[name="measurement.{name}"]', "22")
    hand.send()
    page.wait_for_url("**part=readings**")
    page.goto(gauge)
    expect(page.locator("[data-draft-note]")).to_be_hidden()
    expect(page.locator("[data-offline-mark]")).to_contain_text("all sent")
    shaft = judged_now(job.mounting).case.value_of("measurement", "shaft")
    assert shaft is not None and (shaft.answer.typed, shaft.base) == ("22.4", 22_400)  # type: ignore[union-attr]


def test_what_is_not_sent_is_counted_on_every_page_of_its_mounting_and_of_no_other(
    page: Page, server: LiveServer, job: Job
) -> None:
    other = start(job.shop, position="NDE")
    page.goto(at(server, job, "receive/"))
    page.fill('[name="identification.marking"]', "6212 C4")
    page.goto(at(server, job, "close/"))
    expect(page.locator("[data-offline-mark]")).to_contain_text("1 not yet sent")
    page.goto(at(server, other, "close/"))
    expect(page.locator("[data-offline-mark]")).to_contain_text("all sent")


def test_a_draft_is_its_writers_alone_and_can_be_thrown_away(
    page: Page, server: LiveServer, job: Job
) -> None:
    here = at(server, job, "receive/")
    page.goto(here)
    page.fill('[name="identification.marking"]', "6212 C4")
    page.context.clear_cookies()
    sign_in(page, server.url, {"name": "second_fitter", "password": PASSWORD})
    page.goto(here)
    expect(page.locator('[name="identification.marking"]')).not_to_have_value("6212 C4")
    page.context.clear_cookies()
    sign_in(page, server.url, FITTER)
    page.goto(here)
    expect(page.locator('[name="identification.marking"]')).to_have_value("6212 C4")
    page.get_by_role("button", name="throw it away").click()
    expect(page.locator('[name="identification.marking"]')).not_to_have_value("6212 C4")


def test_a_refused_photo_says_why_in_its_own_row_and_the_others_stay(
    page: Page, server: LiveServer, job: Job
) -> None:
    second = start(job.shop, position="NDE")
    page.goto(f"{server.url}/mountings/{second.mounting.id}/receive/")
    hand = Hand(page, str(second.mounting.id))
    hand.photograph("marking")
    row, other = page.locator('[data-shot="seat"]'), page.locator('[data-shot="marking"]')
    text = {"name": "seat.jpg", "mimeType": "image/jpeg", "buffer": b"no picture at all"}
    with page.expect_response(lambda answer: answer.url.endswith("/photos/")):
        page.locator('input[name="shot.seat"]').set_input_files(text)  # type: ignore[arg-type]  # a payload
    expect(row.locator("[data-shot-message]")).to_contain_text("not kept: it is no picture that can be read")
    expect(row.locator("[data-shot-state]")).to_have_text("photo wanted")
    expect(row.locator(".camera-tap")).to_contain_text("take it again")
    expect(other.locator("[data-shot-state]")).to_have_text("photo received")
    expect(other.locator("[data-shot-message]")).to_be_hidden()
    hand.photograph("seat")
    expect(row.locator("[data-shot-message]")).to_be_hidden()
    expect(row.locator("[data-shot-state]")).to_have_text("photo received")


def test_enter_in_the_password_signs_what_is_tapped_and_not_saved(
    page: Page, server: LiveServer, job: Job
) -> None:
    page.goto(at(server, job, "close/"))
    Hand(page, "").choose(running__turns="smooth", protection__covered="yes")
    page.fill("#f-password", PASSWORD)
    page.press("#f-password", "Enter")
    expect(page).to_have_url(f"{server.url}/mountings/")
    case = judged_now(job.mounting).case
    turns = case.value_of("running", "turns")
    assert turns is not None and turns.word == "smooth" and len(case.signatures) == 1
