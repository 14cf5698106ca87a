"""Every screen of the fitter's job, walked once and looked at: the touches it takes, one filled tap, the
safety wording where the work can hurt, the keyboard, inks day and night. Contrast is reckoned by WCAG 2.2."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, ViewportSize, expect
from pytest_django.live_server_helper import LiveServer
from pytest_django.plugin import DjangoDbBlocker

from qrecords.mountings.judging import Judged, judged_now
from qrecords.steps.transitions import State, state_of
from tests.browser.hand import sign_in
from tests.browser.looking import LookingHand, Scene
from tests.browser.standard_job import check_cold, close, heat, measure, receive, used_today
from tests.cast import Job, Workshop, make_workshop, start
from tests.conftest import copy_of_the_database, served

pytestmark = [pytest.mark.browser, pytest.mark.layout]
Scenes = Mapping[str, Scene]
PHONE = ViewportSize(width=390, height=844)
SHORT_PASSWORD = "blue lathe"
"""Ten characters, as short as is allowed: each is a touch."""
FITTER = {"name": "fitter", "password": SHORT_PASSWORD}
MOST_TAPS, MOST_PHOTOS = 125, 8
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


@dataclass
class Walk:
    """What was seen on the way, and how the standard mounting ended."""

    hand: LookingHand
    taps: dict[str, int] = field(default_factory=dict)
    """How often the glass was touched until each screen of the standard mounting was left."""
    photos: int = 0
    sound: Judged | None = None


@pytest.fixture(scope="module")
def walk(chromium: Browser, django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Walk]:
    """One whole job and what can go wrong on the way, on a phone."""
    with copy_of_the_database(django_db_blocker), served() as server:
        context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True, locale="en-GB")
        walk = Walk(LookingHand(context.new_page(), ""))
        _walk(walk, server)
        context.close()
    yield walk


@pytest.fixture(scope="module")
def scenes(walk: Walk) -> Scenes:
    return walk.hand.scenes


def _walk(walk: Walk, server: LiveServer) -> None:
    hand, shop = walk.hand, make_workshop(datetime.now(UTC) - timedelta(hours=1))
    shop.people["fitter"].set_password(SHORT_PASSWORD)
    shop.people["fitter"].save()
    used_today(shop)
    hand.page.goto(f"{server.url}/sign-in/")
    hand.look("sign in")
    sign_in(hand.page, server.url, FITTER)
    for address in ("", "new/"):
        hand.page.goto(f"{server.url}/mountings/{address}")
        hand.look()
    _sound(walk, server, start(shop))
    _troubled(hand, server, shop)


def _sound(walk: Walk, server: LiveServer, job: Job) -> None:
    hand, page = walk.hand, walk.hand.page
    hand.site = str(job.mounting.id)
    page.goto(f"{server.url}/mountings/{job.mounting.id}/")
    for name, screen in (("receive", receive), ("measure", measure)):
        screen(hand)
        walk.taps[name] = hand.taps
    page.locator("summary", has_text="the inspector is here").click()
    hand.look("heat waits")
    _released(hand, job, "fit")
    for name, screen in (("heat", heat), ("cold", check_cold)):
        screen(hand)
        walk.taps[name] = hand.taps
    hand.look("cover waits")
    _released(hand, job, "cold")
    close(hand, SHORT_PASSWORD)
    walk.taps["close"], walk.photos, walk.sound = hand.taps, hand.photos, judged_now(job.mounting)
    page.goto(f"{server.url}/mountings/{job.mounting.id}/sheet/")
    hand.look()


def _released(hand: LookingHand, job: Job, hold: str) -> None:
    """Far away, while the fitter's page stands open: it tells him by itself."""
    job.shop.clock = datetime.now(UTC)
    job.release(hold)
    hand.shown("Released by Inspector Person")
    hand.next()


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


def test_a_standard_mounting_takes_at_most_125_taps_and_8_photos(
    walk: Walk, capsys: pytest.CaptureFixture[str]
) -> None:
    taps = walk.taps["close"]
    with capsys.disabled():
        print(f"\nstandard mounting: {taps} taps, {walk.photos} photos; after each screen {walk.taps}")  # noqa: T201 - the count is what this test is for
    assert walk.sound is not None
    assert state_of(walk.sound.case) == State.READY
    flagged = {f.characteristic: f.verdict.value for f in walk.sound.findings if f.verdict != "conforming"}
    assert flagged == {}, "the inspector read the ring before heat"
    received = {photo.shot for photo in walk.sound.case.photos if photo.received}
    assert taps <= MOST_TAPS
    assert walk.photos == MOST_PHOTOS == len(received)


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
