"""The fitter's pages with script, on every size of glass: verdict at once, slips, hot taps."""

import math
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect
from pytest_django.live_server_helper import LiveServer

from qrecords.engineering.cooling import carry_drop
from qrecords.mountings.judging import judged_now
from qrecords.steps.fit import ring_of
from qrecords.steps.measurement import celsius
from qrecords.web.fitter.fitting import plan_of
from tests.browser.hand import Hand, come_in
from tests.cast import Job, make_workshop, start

pytestmark = pytest.mark.browser


@pytest.fixture
def job(server: LiveServer) -> Job:
    shop = make_workshop(datetime.now(UTC) - timedelta(hours=1))
    made = start(shop)
    made.receive()
    return made


@pytest.fixture
def page(chromium: Browser, server: LiveServer, job: Job) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    yield come_in(context, server.url, job.shop.people["fitter"])
    context.close()


def at(server: LiveServer, job: Job, rest: str) -> str:
    return f"{server.url}/mountings/{job.mounting.id}/{rest}"


def test_the_verdict_comes_at_once_and_nothing_is_recorded_yet(
    page: Page, server: LiveServer, job: Job
) -> None:
    room = dict.fromkeys(("shaft", "bearing", "gauge_temp"), ("20", "°C"))
    job.say("measurement", gauge=str(job.shop.gear["micrometer"].id), **room)
    page.goto(at(server, job, "measure/?part=readings"))
    hand = Hand(page, "")
    hand.press(["sign", "5", "next"])
    expect(page.locator("#said-place")).to_contain_text("A at 0° is −5:")
    expect(page.locator("#said-place .verdict")).to_have_text("out")
    assert page.locator('#picture .tall-picture path[stroke="#9C1A12"]').count() == 1
    assert judged_now(job.mounting).case.many("measurement", "journal") == []


def test_a_whole_size_is_typed_after_the_unit_key(page: Page, server: LiveServer, job: Job) -> None:
    page.goto(at(server, job, "measure/?part=readings"))
    hand = Hand(page, "")
    hand.press(["unit", *"60", "mark", *"018", "next", *"60", "mark", *"017", "next"])
    expect(page.locator('[data-key="unit"]')).to_have_text("mm")
    page.locator('[data-key="not-measured"]').click()
    page.get_by_label("the same for every place still empty").check()
    with page.expect_navigation():
        page.get_by_role("button", name="no time").click()
    case = judged_now(job.mounting).case
    first, second = (case.value_of("measurement", f"journal.A.{angle}") for angle in ("0", "60"))
    assert first is not None and (first.base, first.answer.document()["unit"]) == (60_018_000, "mm")
    assert second is not None and second.base == 60_017_000
    assert len(case.many("measurement", "journal")) == 9


def test_a_slip_is_shown_with_what_was_meant_and_one_tap_takes_it(
    page: Page, server: LiveServer, job: Job
) -> None:
    page.goto(at(server, job, "measure/?part=gauge"))
    hand = Hand(page, "")
    hand.press(["0", "next", *"68", "next", *"20", "next", "next"])
    page.locator('[data-key="next"]').click()
    expect(page.locator("#questions")).to_contain_text("Did you mean 68\u202f°F?")
    page.get_by_role("button", name="68\u202f°F").click()
    page.wait_for_url("**part=gauge&left=1")
    expect(page.locator(".notices")).to_contain_text("Still to come")
    shaft = judged_now(job.mounting).case.value_of("measurement", "shaft")
    assert shaft is not None and shaft.base == 20_000


def test_while_hot_the_seconds_run_and_a_double_tap_is_one(page: Page, server: LiveServer, job: Job) -> None:
    job.measure()
    job.bore()
    job.shop.clock = datetime.now(UTC)
    job.release("fit")
    page.goto(at(server, job, "hot/"))
    page.locator("[data-hot-tap]").click()
    expect(page.locator("[data-hot-tap] .word")).to_have_text("lifted off")
    page.locator("[data-hot-tap]").dblclick()
    expect(page.locator("[data-hot-tap] .word")).to_have_text("home")
    left = int(page.locator("[data-countdown]").inner_text())
    page.wait_for_timeout(1300)
    assert int(page.locator("[data-countdown]").inner_text()) < left
    assert [tap.what for tap in judged_now(job.mounting).case.taps] == ["heater on", "lifted off"]
    page.locator(".undo").click()
    expect(page.locator("[data-hot-tap] .word")).to_have_text("lifted off")


def test_what_is_decided_while_the_fitter_waits_comes_by_itself_and_takes_no_name_from_the_hand(
    page: Page, server: LiveServer, job: Job
) -> None:
    job.measure(readings={"A": ("9", "9", "9"), "B": ("9", "9", "9"), "C": ("9", "9", "9")})
    job.bore()
    page.clock.install()
    page.goto(at(server, job, "measure/?part=fit"))
    page.locator("summary", has_text="the inspector is here").click()
    page.locator("#f-sign-in").fill("delac")
    job.decide("measure again", "journal size", who="inspector", reason="on another micrometer")
    with page.expect_response(lambda answer: "part=fit" in answer.url):
        page.clock.run_for(5000)
    assert page.locator("#f-sign-in").input_value() == "delac"
    page.locator("#f-sign-in").blur()
    with page.expect_navigation():
        page.clock.run_for(5000)
    expect(page.locator(".returned")).to_contain_text("measure again.")
    expect(page.locator(".returned")).to_contain_text("on another micrometer")


def test_the_undo_counts_down_after_the_heat_and_ends(page: Page, server: LiveServer, job: Job) -> None:
    page.goto(at(server, job, "hot/"))
    page.evaluate("document.querySelector('.quiet-tap').click()")  # heater on without release
    for word in ("lifted off", "home", "let go"):
        expect(page.locator("[data-hot-tap] .word")).to_have_text(word)
        page.wait_for_timeout(1600)
        page.locator("[data-hot-tap]").click()
    page.wait_for_url("**part=after")
    seconds = page.locator(".undo [data-seconds]")
    expect(seconds).to_have_text(re.compile(r"^\d+ s$"))
    first = int(seconds.inner_text().split()[0])
    page.wait_for_timeout(1300)
    assert int(seconds.inner_text().split()[0]) < first


def lift_off(page: Page, server: LiveServer, job: Job) -> None:
    """The ring is off the heater and on its way; the page's clock can be put forward."""
    job.measure()
    job.bore()
    job.shop.clock = datetime.now(UTC)
    job.release("fit")
    page.clock.install(time=datetime.now(UTC))
    page.goto(at(server, job, "hot/"))
    page.locator("[data-hot-tap]").click()
    expect(page.locator("[data-hot-tap] .word")).to_have_text("lifted off")
    page.locator("[data-hot-tap]").click()
    expect(page.locator("[data-hot-tap] .word")).to_have_text("home")


POINTER = ".heat-window .tall-picture g:has(.worked-out)"


def test_on_its_way_the_temperature_falls_with_the_seconds(page: Page, server: LiveServer, job: Job) -> None:
    lift_off(page, server, job)
    case = judged_now(job.mounting).case
    plan, air_c = plan_of(case), celsius(case, "air") or celsius(case, "shaft")
    assert plan is not None and air_c is not None
    pointer = page.locator(POINTER)
    high, drawn = (
        int(pointer.locator(".worked-out").evaluate("each => each.textContent").strip("()")),
        pointer.bounding_box(),
    )
    page.clock.fast_forward(120_000)
    after = [plan.set_c - carry_drop(ring_of(case), plan.set_c, air_c, s).value for s in (120, 130)]
    expect(pointer.locator(".worked-out")).not_to_have_text(f"({high})")
    low, fallen = (
        int(pointer.locator(".worked-out").evaluate("each => each.textContent").strip("()")),
        pointer.bounding_box(),
    )
    assert math.floor(after[1]) <= low <= math.floor(after[0]) < high
    assert drawn is not None and fallen is not None and fallen["y"] > drawn["y"]
    expect(page.locator(".heat-window .tall-picture desc")).to_contain_text(f"Now at least ({low})")


def test_an_undo_that_is_over_is_shown_no_more(page: Page, server: LiveServer, job: Job) -> None:
    lift_off(page, server, job)
    expect(page.locator(".undo")).to_be_visible()
    page.clock.fast_forward(11_000)
    expect(page.locator(".undo")).to_be_hidden()


def test_when_the_pressing_is_over_button_and_number_both_say_let_go(
    page: Page, server: LiveServer, job: Job
) -> None:
    lift_off(page, server, job)
    page.locator("[data-hot-tap]").click()
    expect(page.locator("[data-hot-tap] .line")).to_contain_text("keep pressing")
    page.clock.fast_forward(600_000)
    expect(page.locator(".hot-count .words")).to_have_text("seconds left: let go")
    expect(page.locator("[data-hot-tap] .line")).to_have_text("tap when you let go")
