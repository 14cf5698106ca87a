"""The planner in a real browser, at a desk, on a tablet and on a phone: nothing runs over, one thing is
filled, words stand clear of words and of their ground by day and by night, the address holds the question."""

from typing import Any
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect
from pytest_django.live_server_helper import LiveServer

from qrecords.web.planner.page import EXAMPLE
from tests.browser.looking import DRAWN_ANEW, EYE
from tests.browser.test_auditor import WIDER, sit
from tests.cast import make_workshop

pytestmark = [pytest.mark.browser, pytest.mark.layout]
SIZES = {"desk": (1280, 800), "tablet": (820, 1180), "phone": (390, 844)}
LEAST_TEXT, LEAST_EDGE, LEAST_TARGET_PX = 6.6, 3.0, 48
QUESTIONS = {
    "example": EXAMPLE,
    "empty": {},
    "asked back": {**EXAMPLE, "shaft_temp": "warm", "journal_low": "65.018"},
    "no heat will do": {"bearing": "6204", "shaft_class": "m6", "shaft_temp": "20"},
}


@pytest.fixture
def page(chromium: Browser, server: LiveServer) -> Page:
    make_workshop()
    page: Page = sit(chromium, server, "engineer")
    page.add_init_script(f"window.eye = {EYE}")
    return page


def seen(page: Page, scheme: Any) -> dict[str, Any]:
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
    page.evaluate(DRAWN_ANEW)
    found: dict[str, Any] = page.evaluate("eye.seen()")
    return found


def test_it_stands_well_at_three_sizes_by_day_and_by_night(page: Page, server: LiveServer) -> None:
    wrong: list[tuple[str, ...]] = []
    for size, (width, height) in SIZES.items():
        page.set_viewport_size(ViewportSize(width=width, height=height))
        for name, question in QUESTIONS.items():
            page.goto(f"{server.url}/planner/?{urlencode(question)}")
            page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
            wrong += [(size, name, "wider", part) for part in page.evaluate(WIDER)]
            for scheme in ("light", "dark"):
                found = seen(page, scheme)
                wrong += [(size, name, scheme, *pair) for pair in found["ratios"] if pair[1] < LEAST_TEXT]
                wrong += [(size, name, scheme, *pair) for pair in found["edges"] if pair[1] < LEAST_EDGE]
                wrong += [(size, name, scheme, over) for over in found["overlaid"]]
                assert len(found["filled"]) == 1, (size, name, found["filled"])
    assert wrong == []


def test_on_a_phone_everything_is_large_enough_for_a_thumb(page: Page, server: LiveServer) -> None:
    page.set_viewport_size(ViewportSize(width=390, height=844))
    page.goto(f"{server.url}/planner/?{urlencode(EXAMPLE)}")
    small = page.evaluate(
        """(least) => [...document.querySelectorAll("main .tap, main input, main select, main summary")]
            .filter((each) => each.checkVisibility() && each.type !== "hidden")
            .filter((each) => each.getBoundingClientRect().height < least - 2)
            .map((each) => each.name || each.innerText)""",
        LEAST_TARGET_PX,
    )
    assert small == []


def test_the_form_leads_to_an_address_that_holds_only_what_was_typed(page: Page, server: LiveServer) -> None:
    page.goto(f"{server.url}/planner/")
    page.fill("#f-bearing", "6213")
    page.fill("#f-shaft_class", "m5")
    page.fill("#f-shaft_temp", "11")
    page.keyboard.press("Enter")
    page.wait_for_url("**bearing=6213**")
    typed = parse_qs(urlsplit(page.url).query, keep_blank_values=True)
    assert typed == {
        "bearing": ["6213"], "shaft_class": ["m5"], "shaft_temp": ["11"], "kind": ["open"],
        "seat": ["ground"], "lengths": ["mm"], "temperatures": ["C"],
    }  # fmt: skip
    expect(page.locator("#plan")).to_contain_text("class allows 11…39")
    expect(page.locator("[data-print]")).to_be_visible()
    page.click("a.tap >> text=start a mounting")  # by class and group it is out: not the filled tap
    expect(page.locator("#f-designation")).to_have_value("6213")
