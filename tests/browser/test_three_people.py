"""The whole job by three people in their browsers: fitter on a phone, inspector at a desk, auditor later.

Runs on SQLite and, in the second run, on PostgreSQL.
"""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from django.core.management import call_command
from playwright.sync_api import Browser, ConsoleMessage, Page
from pytest_django.live_server_helper import LiveServer

from qrecords.ledger.opening import open_log
from qrecords.mountings.queries import case_of
from qrecords.outbox.jobs import drain
from qrecords.steps.transitions import State, state_of
from tests.browser.hand import Hand, sign_in
from tests.browser.standard_job import check_cold, close, heat, measure, receive, used_today
from tests.cast import PASSWORD, Job, Workshop, make_workshop, start

pytestmark = pytest.mark.browser
PHONE, DESK = {"width": 390, "height": 844}, {"width": 1280, "height": 800}
TABLET = {"width": 820, "height": 1180}


@pytest.fixture
def shop(server: LiveServer) -> Workshop:
    open_log()
    made = make_workshop(datetime.now(UTC) - timedelta(hours=1))
    used_today(made)
    return made


@pytest.fixture
def people(chromium: Browser, server: LiveServer, shop: Workshop) -> Iterator[dict[str, Page]]:
    """Three people at three devices, each signed in; what their consoles complain of fails the test."""
    pages, complaints = {}, []
    for who, viewport in (("fitter", PHONE), ("inspector", DESK), ("auditor", TABLET)):
        context = chromium.new_context(viewport=viewport, locale="en-GB")  # type: ignore[arg-type]  # a viewport
        page = pages[who] = context.new_page()
        page.on("console", lambda said: complaints.extend(complaint(said)))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        sign_in(page, server.url, {"name": who, "password": PASSWORD})
    yield pages
    for page in pages.values():
        page.context.close()
    assert complaints == []


def complaint(said: ConsoleMessage) -> list[str]:
    """What a console complains of, but for a small picture that is still being made."""
    address = said.location["url"]
    return [f"{said.text} {address}"] if said.type == "error" and "/photos/" not in address else []


def test_recorded_released_flagged_decided_signed_and_found_again(
    people: dict[str, Page], server: LiveServer, shop: Workshop
) -> None:
    job = start(shop)
    fitter, inspector = people["fitter"], people["inspector"]
    hand = Hand(fitter, str(job.mounting.id))
    fitter.goto(f"{server.url}/mountings/{job.mounting.id}/")
    receive(hand)
    measure(hand)
    release(inspector, server, job, "before heat")
    hand.shown("Released by Inspector Person")
    hand.next()
    heat(hand)
    check_cold(hand)
    release(inspector, server, job, "cold check")
    hand.shown("Released by Inspector Person")
    hand.next()
    close(hand, PASSWORD)
    drain()
    decide_and_sign(inspector, server, job)
    assert state_of(case_of(job.mounting)) == State.SIGNED_OFF
    find_again(people["auditor"], server, job)
    with pytest.raises(SystemExit) as left:
        call_command("verify_ledger")
    assert left.value.code == 0


def release(page: Page, server: LiveServer, job: Job, hold: str) -> None:
    """From *waiting for you* to the release, on the inspector's own device."""
    page.goto(f"{server.url}/waiting/")
    page.click(f"text={job.mounting.number}")
    if page.is_visible("#display-said"):
        page.fill("#display-said", "60.018")
        page.click("text=compare")
    page.click(f"button:has-text('release'):has-text('{hold}'), button:has-text('release')")


def decide_and_sign(page: Page, server: LiveServer, job: Job) -> None:
    page.goto(f"{server.url}/mountings/{job.mounting.id}/inspect/")
    page.fill("#marking", "6212 C3")
    page.click("text=record my reading")
    page.fill("#sign-password", PASSWORD)
    page.click("text=sign: inspected")
    assert page.is_visible("text=Signed off. The record is frozen.")


def find_again(page: Page, server: LiveServer, job: Job) -> None:
    """From half-remembered words to the mounting, its entries, the gauge's uses and the certificate."""
    page.goto(f"{server.url}/search/")
    page.fill("input[type=search], input[name=q]", f"6212 Greyhallow {job.rebuild.work_order}")
    page.keyboard.press("Enter")
    page.click(f"a:has-text('{job.mounting.number}') >> nth=0")
    page.goto(f"{server.url}/mountings/{job.mounting.id}/trace/")
    assert page.is_visible("text=MICROMETER-1")
    page.goto(f"{server.url}/equipment/{job.shop.gear['micrometer'].id}/")
    assert page.is_visible(f"text={job.mounting.number}")
    page.goto(f"{server.url}/mountings/{job.mounting.id}/certificate/")
    assert page.is_visible("text=Certificate of mounting")
    assert page.is_visible("text=Signed off")
