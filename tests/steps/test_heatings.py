"""Several heatings in one mounting: what a ring went through stands, and each heating answers for itself."""

from typing import Any

import pytest

from qrecords.steps.runs import mounted_run, runs
from qrecords.steps.standard import RULES
from tests.steps.casebook import Book, measure, sound


def heated_again(book: Book) -> Book:
    """The ring comes off, is heated a second time and everything of this heating is said of it."""
    book.tap("heater on", release=book.case().releases[0].leaf)
    book.tap("lifted off", after_s=240)
    book.tap("home", after_s=6)
    book.tap("let go", after_s=50)
    return book


def all_said_again(book: Book) -> Book:
    book.say("heating", probe="inner ring", peak=("95", "°C"), peak_outer=("85", "°C"))
    book.say("seating", film="thin oil", went_home="in one move", dropped="no", hammered="no", held_by="hand")
    return book


@pytest.mark.parametrize(
    ("change", "characteristic"),
    [
        ({"heating___peak": ("148", "°C")}, "peak temperature"),
        ({"heating___cross_check": ("148", "°C")}, "peak temperature"),
        ({"heating___probe": "outer ring"}, "peak temperature"),
        ({"seating___hammered": "yes"}, "not-hammered"),
        ({"seating___dropped": "yes"}, "not dropped"),
        ({"seating___went_home": "stuck"}, "went home"),
    ],
)
def test_what_a_ring_went_through_stands_whatever_a_later_heating_says(
    change: dict[str, Any], characteristic: str
) -> None:
    book = sound(**change)
    verdict = book.flags()[characteristic]
    heated_again(book)
    all_said_again(book)
    assert book.flags()[f"{characteristic}, heating 1"] == verdict
    assert characteristic not in book.flags()


@pytest.mark.parametrize("event", ["stuck", "dropped"])
def test_a_tapped_event_of_an_earlier_heating_stands(event: str) -> None:
    book = sound()
    book.tap(event)
    all_said_again(heated_again(book))
    told = {"stuck": "went home", "dropped": "not dropped"}[event]
    assert book.flags()[f"{told}, heating 1"] == "nonconforming"


def test_the_last_heating_is_asked_for_its_own_answers() -> None:
    book = heated_again(sound())
    asked = {"peak temperature", "probe-on-inner-ring", "went home", "not dropped", "not-hammered", "held"}
    assert {name for name in asked if book.flags().get(name) == "missing"} == asked
    all_said_again(book)
    assert not asked & set(book.flags())


def test_an_earlier_heating_whose_peak_nobody_told_stays_without_it() -> None:
    book = sound(heating___peak=None)
    all_said_again(heated_again(book))
    assert book.flags()["peak temperature, heating 1"] == "missing"


def test_a_nut_of_the_first_heating_holds_nothing_in_the_second() -> None:
    book = sound(seating___held_by="nut")
    book.tap("heater on")
    book.tap("home")
    book.tap("let go", after_s=1)
    all_said_again(book)
    assert book.rule("pressed-home")[0].verdict == "not proven"


def test_an_overheat_of_an_earlier_heating_is_decided_like_any_other() -> None:
    book = sound(heating___peak=("134", "°C"))
    all_said_again(heated_again(book))
    finding = book.findings()["peak temperature, heating 1"]
    assert RULES["peak-temperature"].decisions(finding, book.case()) == ("concession", "scrap")


def fitted() -> Book:
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    return book


@pytest.mark.parametrize("first", [("lifted off", "stuck"), ("lifted off", "home", "let go")])
@pytest.mark.parametrize("second", [("lifted off",), ("let go",), ("lifted off", "home")])
def test_the_ring_went_on_with_the_last_heating_in_which_it_left_the_heater(
    first: tuple[str, ...], second: tuple[str, ...]
) -> None:
    """40 °C is too cold to go on, whatever the first heating was: *home* may be untapped (ruling 14)."""
    book = fitted()
    for taps, peak in ((first, "95"), (second, "40")):
        for tap in ("heater on", *taps):
            book.tap(tap)
        book.say("heating", probe="inner ring", peak=(peak, "°C"))
    (finding,) = [f for f in book.rule("slid-on") if "heating" not in f.characteristic]
    assert finding.verdict == "query"


def test_a_heating_stopped_before_the_ring_was_lifted_off_mounted_nothing() -> None:
    book = fitted()
    for tap in ("heater on", "lifted off", "home", "let go"):
        book.tap(tap)
    book.say("heating", probe="inner ring", peak=("95", "°C"))
    assert book.rule("slid-on")[0].verdict == "conforming"
    book.tap("heater on")
    book.tap("stopped")
    assert mounted_run(book.case()) == runs(book.case())[0]
