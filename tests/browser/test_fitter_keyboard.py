"""The fitter's pages by keyboard alone: a foot switch or a key taps while both hands hold the ring."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect
from pytest_django.live_server_helper import LiveServer

from qrecords.mountings.judging import judged_now
from tests.browser.hand import come_in
from tests.cast import Job, make_workshop, start

pytestmark = [pytest.mark.browser, pytest.mark.layout]


@pytest.fixture
def job(server: LiveServer) -> Job:
    made = start(make_workshop(datetime.now(UTC) - timedelta(hours=1)))
    made.receive()
    made.measure()
    made.bore()
    made.release("fit")
    return made


@pytest.fixture
def page(chromium: Browser, server: LiveServer, job: Job) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    yield come_in(context, server.url, job.shop.people["fitter"])
    context.close()


def tab_to(page: Page, selector: str) -> None:
    """Tab until the hand stands on it."""
    for _stop in range(60):
        if page.evaluate("wanted => document.activeElement.matches(wanted)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"Tab never reaches {selector}")


def at(server: LiveServer, job: Job, rest: str) -> str:
    return f"{server.url}/mountings/{job.mounting.id}/{rest}"


def test_answers_are_chosen_and_sent(page: Page, server: LiveServer, job: Job) -> None:
    page.goto(at(server, job, "cold/?part=seat"))
    for name in ("film", "went_home", "dropped", "hammered", "held_by"):
        tab_to(page, f'[name="seating.{name}"]')
        page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    tab_to(page, ".tap-next")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    case = judged_now(job.mounting).case
    film, held_by = case.said("seating", "film"), case.said("seating", "held_by")
    assert film and held_by and (film.word, held_by.word) == ("thin oil", "nut")


def test_the_four_taps_and_an_undo_are_made(page: Page, server: LiveServer, job: Job) -> None:
    page.goto(at(server, job, "hot/"))
    for word, key in (("heater on", "Space"), ("lifted off", "Enter")):
        expect(page.locator(".hot-button .word")).to_have_text(word)
        tab_to(page, ".hot-button")
        with page.expect_navigation():
            page.keyboard.press(key)
    tab_to(page, ".undo")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert [tap.what for tap in judged_now(job.mounting).case.taps] == ["heater on"]


def test_a_blade_is_tapped_at_each_angle(page: Page, server: LiveServer, job: Job) -> None:
    for what in ("heater on", "lifted off", "home", "let go"):
        job.tap(what)
    job.say(
        "shoulder_gap",
        feeler=str(job.shop.gear["feeler"].id),
        ring_temp=("21", "°C"),
        shaft_temp=("20", "°C"),
    )
    page.goto(at(server, job, "cold/?part=gap"))
    for _angle in range(4):
        tab_to(page, ".blades .none")
        with page.expect_navigation():
            page.keyboard.press("Enter")
    case = judged_now(job.mounting).case
    felt = [case.value_of("shoulder_gap", f"gap.{angle}") for angle in ("0", "90", "180", "270")]
    assert [gap and gap.base for gap in felt] == [0, 0, 0, 0]
