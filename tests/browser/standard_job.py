"""A standard mounting, screen by screen, with the fitter's hand on the glass."""

from playwright.sync_api import expect

from tests.browser.hand import Hand
from tests.cast import Workshop, start

READINGS = ("18", "17", "18", "17", "17", "18", "17", "16", "17")


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
    hand.press(["0", "next", *"20", "next", *"20", "next", *"20"])
    hand.send()
    for reading in READINGS:
        hand.press(reading)
    expect(hand.page.locator("#said-place .verdict")).to_have_text("in")
    hand.send()
    hand.photograph("micrometer")
    hand.next()


def heat(hand: Hand, peak_c: str = "95") -> None:
    hand.choose(heating__setup="on the core leg", heating__probe="inner ring")
    hand.photograph("probe")
    hand.next()
    for act in ("heater-on", "lifted-off", "home", "let-go"):
        with hand.page.expect_navigation():
            hand.tap(f'[data-hot-tap][value="{act}"]')
        hand.page.wait_for_timeout(50)
    hand.press(peak_c)
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
    hand.press([*"21", "next", *"20"])
    hand.send()
    for _angle in range(4):
        with hand.page.expect_navigation():
            hand.tap(".blades .none")
    hand.photograph("blade")
    hand.next()
    hand.press(["0", "mark", "9"])
    hand.send()


def close(hand: Hand, password: str) -> None:
    hand.choose(running__turns="smooth", protection__covered="yes")
    hand.photograph("covered")
    hand.next()
    hand.write("own_password", password)
    hand.next()
