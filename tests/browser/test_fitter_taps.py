"""A standard mounting done on a phone: how many touches and photos it takes, and that nothing is lost."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page
from pytest_django.live_server_helper import LiveServer

from qrecords.mountings.judging import judged_now
from tests.browser.hand import Hand, sign_in
from tests.browser.standard_job import check_cold, close, heat, measure, receive, used_today
from tests.cast import PASSWORD, Job, Workshop, make_workshop, start

pytestmark = pytest.mark.browser
FITTER = {"name": "fitter", "password": PASSWORD}
SHORT_PASSWORD = "blue lathe"
PHONE = {"width": 390, "height": 844}
MOST_TAPS, MOST_PHOTOS = 125, 8


@pytest.fixture
def shop(server: LiveServer) -> Workshop:
    """The workshop since an hour ago; its fitter has a password of ten characters, as short as is allowed."""
    made = make_workshop(datetime.now(UTC) - timedelta(hours=1))
    person = made.people["fitter"]
    person.set_password(SHORT_PASSWORD)
    person.save()
    return made


@pytest.fixture
def phone(chromium: Browser, server: LiveServer) -> Iterator[Page]:
    context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True, locale="en-GB")  # type: ignore[arg-type]  # a viewport
    page = context.new_page()
    yield page
    context.close()


@pytest.mark.layout
def test_a_standard_mounting_takes_at_most_125_taps_and_8_photos(
    shop: Workshop, phone: Page, server: LiveServer, capsys: pytest.CaptureFixture[str]
) -> None:
    used_today(shop)
    job: Job = start(shop)
    sign_in(phone, server.url, {"name": "fitter", "password": SHORT_PASSWORD})
    hand = Hand(phone, str(job.mounting.id))
    counts = {}
    phone.goto(f"{server.url}/mountings/{job.mounting.id}/")
    for name, screen in (("receive", receive), ("measure", measure)):
        screen(hand)
        counts[name] = hand.taps
    shop.clock = datetime.now(UTC)
    job.release("fit")
    hand.shown("Released by Inspector Person")
    hand.next()
    for name, screen in (("heat", heat), ("cold", check_cold)):
        screen(hand)
        counts[name] = hand.taps
    shop.clock = datetime.now(UTC)
    job.release("cold")
    hand.shown("Released by Inspector Person")
    hand.next()
    close(hand, SHORT_PASSWORD)
    counts["close"] = hand.taps
    with capsys.disabled():
        print(f"\nstandard mounting: {hand.taps} taps, {hand.photos} photos; after each screen {counts}")  # noqa: T201 - the count is what this test is for
    job.mounting.refresh_from_db()
    assert job.mounting.state == "ready for inspection"
    judged = judged_now(job.mounting)
    flagged = {f.characteristic: f.verdict.value for f in judged.findings if f.verdict != "conforming"}
    assert flagged == {}, "the inspector read the ring before heat"
    assert hand.taps <= MOST_TAPS
    assert hand.photos == MOST_PHOTOS == len({photo.shot for photo in judged.case.photos if photo.received})
