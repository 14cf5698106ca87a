"""A standard mounting done on a phone: how many touches and photos it takes, and that nothing is lost."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect
from pytest_django.live_server_helper import LiveServer

from qrecords.mountings.judging import judged_now
from tests.browser.hand import Hand, sign_in
from tests.cast import PASSWORD, Job, Workshop, make_workshop, start

pytestmark = pytest.mark.browser
FITTER = {"name": "fitter", "password": PASSWORD}
SHORT_PASSWORD = "blue lathe"
PHONE = {"width": 390, "height": 844}
MOST_TAPS, MOST_PHOTOS = 125, 8
READINGS = ("18", "17", "18", "17", "17", "18", "17", "16", "17")


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


def used_today(shop: Workshop) -> None:
    """An earlier mounting of the same day: its gear is prefilled now, and the air of half an hour ago."""
    earlier = start(shop, position="NDE")
    earlier.receive()
    earlier.measure()
    earlier.heat()
    earlier.check_cold()


def receive(hand: Hand) -> None:
    hand.write("identification.marking", "6212 C3")
    hand.choose(
        identification__package="intact",
        preparation__edge_burrs="removed",
        preparation__shoulder_burrs="none",
        preparation__fillet="clears the ring",
        preparation__wiped="yes",
        preparation__gear_ready="yes",
        preparation__zone="yes",
    )
    for shot in ("marking", "package", "seat"):
        hand.photograph(shot)
    hand.next()


def measure(hand: Hand) -> None:
    hand.press(["0", "next", *"20", *"20", *"20"])
    hand.send()
    for reading in READINGS:
        hand.press(reading)
    expect(hand.page.locator("#said-place .verdict")).to_have_text("in")
    hand.send()
    hand.photograph("micrometer")
    hand.next()


def heat(hand: Hand) -> None:
    hand.choose(heating__setup="on the core leg", heating__probe="inner ring")
    hand.photograph("probe")
    hand.next()
    for act in ("heater-on", "lifted-off", "home", "let-go"):
        with hand.page.expect_navigation():
            hand.tap(f'[data-hot-tap][value="{act}"]')
        hand.page.wait_for_timeout(50)
    hand.press("95")
    hand.choose(demagnetisation__cycle="done")
    hand.send()


def check_cold(hand: Hand) -> None:
    hand.choose(
        seating__film="thin oil",
        seating__went_home="in one move",
        seating__dropped="no",
        seating__hammered="no",
        seating__held_by="nut",
    )
    hand.photograph("held")
    hand.next()
    hand.press("2120")
    hand.send()
    for _angle in range(4):
        with hand.page.expect_navigation():
            hand.tap(".blades .none")
    hand.photograph("blade")
    hand.next()
    hand.press(["0", "mark", "9"])
    hand.send()


def close(hand: Hand) -> None:
    hand.choose(running__turns="smooth", protection__covered="yes")
    hand.photograph("covered")
    hand.next()
    hand.write("password", SHORT_PASSWORD)
    hand.next()


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
    close(hand)
    counts["close"] = hand.taps
    with capsys.disabled():
        print(f"\nstandard mounting: {hand.taps} taps, {hand.photos} photos; after each screen {counts}")  # noqa: T201 - the count is what this test is for
    job.mounting.refresh_from_db()
    assert job.mounting.state == "ready for inspection"
    judged = judged_now(job.mounting)
    flagged = {f.characteristic: f.verdict.value for f in judged.findings if f.verdict != "conforming"}
    assert flagged == {"inspector's reading": "missing"}
    assert hand.taps <= MOST_TAPS
    assert hand.photos == MOST_PHOTOS == len({photo.shot for photo in judged.case.photos if photo.received})
