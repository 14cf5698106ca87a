"""Every screen of the fitter's job, walked once and looked at: one filled tap, the safety wording where the
work can hurt, the keyboard, inks by day and by night. Contrast is reckoned by WCAG 2.2."""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, expect
from pytest_django.live_server_helper import LiveServer
from pytest_django.plugin import DjangoDbBlocker

from tests.browser.hand import sign_in
from tests.browser.looking import LookingHand, Scene
from tests.browser.standard_job import check_cold, close, heat, measure, receive, used_today
from tests.cast import PASSWORD, Job, Workshop, make_workshop, start
from tests.conftest import copy_of_the_database, served

pytestmark = [pytest.mark.browser, pytest.mark.layout]
Scenes = Mapping[str, Scene]
FITTER = {"name": "fitter", "password": PASSWORD}
LEAST_TEXT, LEAST_EDGE = 6.6, 3.0
"""LOOK section 2: text is never below 6.6 : 1; what can be tapped is told from its ground by 3 : 1."""
NOTHING_FILLED = {
    "heat waits": "the inspector acts, not the fitter",
    "cover waits": "the inspector acts, not the fitter",
    "let go": "quiet until the seconds are up",
    "Check cold: gap 0°": "a blade is tapped",
    "Check cold: gap 90°": "a blade is tapped",
    "Check cold: gap 180°": "a blade is tapped",
    "Check cold: gap 270°": "a blade is tapped",
    "heater waits": "the inspector acts, not the fitter",
    "Whole sheet": "it is read",
}
"""Screens on which nothing is filled, and why."""
WORDING = (
    "Guidance only. The law and codes where you work, your employer's risk assessment and permit, the "
    "makers' instructions and the drawing come first. Electrical isolation, lifting, welding and spraying, "
    "pressure equipment and grinding are for people qualified or licensed for them there. If in doubt, stop."
)
"""TRADE section 6a."""
ZONE = (
    "Anyone with a pacemaker or other implanted or worn medical device, or who is pregnant, stays outside "
    "the marked zone unless individually assessed by the employer. No one is asked here."
)
"""TRADE section 2, row 18; with it the notices of hands and bath."""
HANDS = "Bare metal from about 65 °C burns in a second. Gloves on; rings and watches off; no loose sleeves."
BATH = "Oil bath: mind the flash point, keep a fire watch, no water. Never an open flame on a ring."
STAYS_OUT = "pacemaker or other implant, or who is pregnant, stays outside the marked zone."


@pytest.fixture(scope="module")
def scenes(chromium: Browser, django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Scenes]:
    """One whole job and what can go wrong on the way, on a phone."""
    with copy_of_the_database(django_db_blocker), served() as server:
        context = chromium.new_context(viewport={"width": 390, "height": 844}, locale="en-GB")
        hand = LookingHand(context.new_page(), "")
        _walk(hand, server)
        context.close()
    yield hand.scenes


def _walk(hand: LookingHand, server: LiveServer) -> None:
    page, shop = hand.page, make_workshop(datetime.now(UTC) - timedelta(hours=1))
    used_today(shop)
    page.goto(f"{server.url}/sign-in/")
    hand.look("sign in")
    sign_in(page, server.url, FITTER)
    for address in ("", "new/"):
        page.goto(f"{server.url}/mountings/{address}")
        hand.look()
    _sound(hand, server, start(shop))
    _troubled(hand, server, shop)


def _sound(hand: LookingHand, server: LiveServer, job: Job) -> None:
    page, shop = hand.page, job.shop
    hand.site = str(job.mounting.id)
    page.goto(f"{server.url}/mountings/{job.mounting.id}/")
    receive(hand)
    measure(hand)
    page.locator("summary", has_text="the inspector is here").click()
    hand.look("heat waits")
    shop.clock = datetime.now(UTC)
    job.release("fit")
    page.reload()
    hand.next()
    heat(hand)
    check_cold(hand)
    hand.look("cover waits")
    shop.clock = datetime.now(UTC)
    job.release("cold")
    page.reload()
    hand.next()
    close(hand, PASSWORD)
    page.goto(f"{server.url}/mountings/{job.mounting.id}/sheet/")
    hand.look()


def _troubled(hand: LookingHand, server: LiveServer, shop: Workshop) -> None:
    """Asked back, too close to call, stuck, and a gap that is out."""
    job = start(shop, position="pump end")
    page, at = hand.page, f"{server.url}/mountings/{job.mounting.id}/"
    page.goto(f"{at}measure/?part=gauge")
    hand.press(["0", "next", *"68", "next", *"20", "next", "next"])
    page.locator('[data-key="next"]').click()
    expect(page.locator("#questions")).to_contain_text("Did you mean")
    hand.look("a slip asked back")
    job.receive()
    job.measure()
    job.bore()
    page.goto(f"{at}hot/")
    hand.look("heater waits")
    page.locator("button.quiet-tap").click()
    page.locator('.incidents [value="stuck"]').click()
    hand.look("stuck")
    job.shop.clock = datetime.now(UTC)
    job.check_cold(at_180="0.08")
    page.goto(f"{at}cold/?part=gap")
    hand.look("a gap that is out")


def test_the_whole_job_was_seen(scenes: Scenes) -> None:
    for name in ("Receive: ring and seat", "Measure: readings", "Close: close", "a gap that is out"):
        assert name in scenes
    assert set(NOTHING_FILLED) < set(scenes)


def test_exactly_one_tap_is_filled_on_each_screen(scenes: Scenes) -> None:
    filled = {name: len(scene.filled) for name, scene in scenes.items()}
    assert filled == {name: int(name not in NOTHING_FILLED) for name in scenes}


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_word_stands_out_from_its_ground(scenes: Scenes, scheme: str) -> None:
    read = [(name, *word) for name, scene in scenes.items() for word in scene.ratios[scheme]]
    assert len(read) > 500
    assert [word for word in read if word[2] < LEAST_TEXT] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_tap_stands_out_from_its_ground(scenes: Scenes, scheme: str) -> None:
    taps = [(name, *tap) for name, scene in scenes.items() for tap in scene.edges[scheme]]
    assert len(taps) > 100
    assert [tap for tap in taps if tap[2] < LEAST_EDGE] == []


def test_no_words_lie_over_other_words(scenes: Scenes) -> None:
    assert {name: scene.overlaid for name, scene in scenes.items() if scene.overlaid} == {}


TABBED = {
    "missed": "reaches everything that can be tapped, chosen or typed in",
    "unseen": "shows where it is by an outline",
    "covered": "never stops where the foot hides it",
    "back": "goes down the page in the order in which it is read",
}


@pytest.mark.parametrize("fault", TABBED, ids=list(TABBED.values()))
def test_tab(scenes: Scenes, fault: str) -> None:
    assert sum(scene.tab["count"] for scene in scenes.values()) > 400
    assert {name: scene.tab[fault] for name, scene in scenes.items() if scene.tab[fault]} == {}


ENTRANCE = ("sign in", "My mountings", "New mounting")


def test_every_page_of_a_mounting_carries_the_safety_wording_and_shows_its_two_ends(scenes: Scenes) -> None:
    of_mounting = {name: scene for name, scene in scenes.items() if name not in ENTRANCE}
    assert [name for name, scene in of_mounting.items() if WORDING not in scene.whole] == []
    for end in ("Guidance only.", "If in doubt, stop."):
        assert [name for name, scene in of_mounting.items() if end not in scene.text] == []


@pytest.mark.parametrize("name", ["heater on", "heater waits"])
@pytest.mark.parametrize("words", [ZONE, HANDS, BATH, WORDING], ids=["zone", "hands", "bath", "wording"])
def test_before_heat_it_is_warned_of_in_plain_view(scenes: Scenes, name: str, words: str) -> None:
    assert words in scenes[name].text


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("Heat: set-up", STAYS_OUT),
        ("Heat: after the heat", STAYS_OUT),
        ("Check cold: on the seat", "Never tap a ring on cold."),
        ("Check cold: gap 0°", "Never tap a ring on cold."),
        ("stuck", "Never hammer or flame. Stand clear. Call the engineer."),
    ],
)
def test_where_the_work_can_hurt_its_own_warning_is_in_view(scenes: Scenes, name: str, words: str) -> None:
    assert words in scenes[name].text
