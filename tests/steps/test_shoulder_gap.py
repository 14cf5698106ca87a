"""The shoulder gap: an attribute without guard; tilt, not seated and burr are told apart."""

from datetime import timedelta
from typing import Any

import pytest

from tests.steps.casebook import Book


def felt(
    *gaps: str,
    warm_c: str = "21",
    nominal: str = "60",
    feeler: str | None = "feeler",
    gear: dict[str, dict[str, Any]] | None = None,
) -> Book:
    book = Book(gear=gear or {})
    book.requirement |= {"nominal_mm": nominal, "outside_mm": "270" if nominal == "160" else "110"}
    step = 360 // len(gaps)
    given = {f"gap__{place * step}": (gap, "mm") for place, gap in enumerate(gaps)}
    named = {"feeler": feeler} if feeler else {}
    book.say("shoulder_gap", **named, ring_temp=(warm_c, "°C"), shaft_temp=("20", "°C"), **given)
    return book


def said(book: Book) -> tuple[str, str]:
    finding = book.rule("shoulder-gap")[0]
    return finding.verdict.value, finding.message.split(".")[1]


def test_the_blade_of_the_limit_going_in_nowhere_conforms() -> None:
    assert said(felt("0", "0", "0", "0"))[0] == "conforming"


def test_the_blade_of_the_limit_itself_going_in_does_not_conform() -> None:
    assert said(felt("0", "0.03", "0", "0"))[0] == "nonconforming"


def test_gaps_on_a_plane_are_a_tilted_ring() -> None:
    assert said(felt("0", "0.05", "0.08", "0.03")) == ("nonconforming", "tilted")


def test_the_same_gap_all_round_is_a_ring_not_seated() -> None:
    assert said(felt("0.05", "0.05", "0.05", "0.05")) == ("nonconforming", "not-seated")


def test_one_gap_off_the_plane_is_a_burr_or_a_bad_reading_and_asked_about() -> None:
    book = felt("0.10", "0", "0.10", "0")
    assert said(book) == ("nonconforming", "burr-or-bad-reading")
    assert book.rule("gap-plane")[0].verdict == "query"


def test_the_drawings_own_blade_takes_the_place_of_the_procedures() -> None:
    wide, fine = felt("0.04", "0", "0", "0"), felt("0", "0", "0", "0")
    wide.requirement["gap_um"], fine.requirement["gap_um"] = "50", "20"
    found = wide.rule("shoulder-gap")[0]
    assert (found.verdict, found.upper) == ("conforming", 50_000)
    assert said(fine) == ("not proven", "no-blade")  # the set has no blade of 0.02 mm


def test_felt_warm_nothing_is_proven() -> None:
    book = felt("0", "0", "0", "0", warm_c="25.1")
    assert said(book) == ("not proven", "warm")
    assert book.rule("cold-when-checked")[0].verdict == "not proven"


@pytest.mark.parametrize(("nominal", "verdict"), [("60", "conforming"), ("160", "missing")])
def test_four_angles_are_enough_up_to_150_mm_and_six_beyond(nominal: str, verdict: str) -> None:
    assert said(felt("0", "0", "0", "0", nominal=nominal))[0] == verdict


def test_six_angles_on_a_large_bore_conform() -> None:
    assert said(felt(*["0"] * 6, nominal="160"))[0] == "conforming"


def test_what_goes_in_before_every_angle_is_felt_says_neither_tilted_nor_all_round() -> None:
    book = Book()
    three = {"gap__0": ("0.05", "mm"), "gap__90": ("0.08", "mm"), "gap__180": ("0.03", "mm")}
    book.say("shoulder_gap", feeler="feeler", ring_temp=("21", "°C"), shaft_temp=("20", "°C"), **three)
    assert said(book) == ("nonconforming", "some")
    assert (book.rule("shoulder-gap")[0].facts["count"], book.rule("shoulder-gap")[0].facts["wanted"]) == (
        3,
        4,
    )


def test_one_angle_of_four_is_not_all_round() -> None:
    assert said(felt("0.03", "0", "0", "0")) == ("nonconforming", "some")


def test_angles_to_come_are_named_in_degrees() -> None:
    book = Book()
    book.say(
        "shoulder_gap", feeler="feeler", ring_temp=("21", "°C"), shaft_temp=("20", "°C"), gap__0=("0", "mm")
    )
    assert book.rule("shoulder-gap")[0].facts["places"] == "90°, 180°, 270°"


def test_a_gap_felt_with_nobody_knows_which_blades_is_missing() -> None:
    book = felt("0", "0", "0", "0", feeler=None)
    assert said(book) == ("missing", "not-entered")
    assert book.rule("shoulder-gap")[0].facts["field"] == "shoulder_gap.feeler"


def test_a_blade_that_went_in_does_not_conform_whoever_named_the_set() -> None:
    assert said(felt("0", "0.05", "0", "0", feeler=None))[0] == "nonconforming"


def test_a_set_without_the_blade_of_the_limit_proves_nothing() -> None:
    thick = {"id": "feeler", "kind": "feeler set", "mark": "F-2", "blades_nm": [50_000, 80_000]}
    assert said(felt("0", "0", "0", "0", gear={"feeler": thick})) == ("not proven", "no-blade")


def cooled(book: Book, after_s: float, ring_c: str = "21") -> Book:
    """Another ring temperature, told later with a reason."""
    book.now += timedelta(seconds=after_s)
    book.say("shoulder_gap", prev=book.lines[-1].id, ring_temp=(ring_c, "°C"))
    return book


def cold(book: Book) -> tuple[str, str]:
    finding = book.rule("cold-when-checked")[0]
    return finding.verdict.value, finding.message.split(".")[1]


def test_gaps_felt_warm_stay_felt_warm_whatever_temperature_is_told_later() -> None:
    book = cooled(felt("0", "0", "0", "0", warm_c="45"), 900)
    assert said(book) == ("not proven", "felt-warm")
    assert cold(book) == ("not proven", "felt-warm")
    first = book.lines[1].id
    assert first in book.rule("shoulder-gap")[0].inputs and first in book.rule("cold-when-checked")[0].inputs


def test_a_raised_shaft_temperature_makes_no_warm_gap_cold() -> None:
    book = felt("0", "0", "0", "0", warm_c="45")
    book.now += timedelta(minutes=15)
    book.say("shoulder_gap", prev=book.lines[-1].id, shaft_temp=("44", "°C"))
    assert said(book) == ("not proven", "felt-warm")


def test_felt_again_after_the_cold_temperature_they_count() -> None:
    book = cooled(felt("0", "0", "0", "0", warm_c="45"), 900)
    again = {f"gap__{at}": ("0", "mm") for at in (0, 90, 180)}
    book.say("shoulder_gap", prev="e1", **again)
    assert said(book) == ("not proven", "felt-warm")
    book.say("shoulder_gap", prev="e1", gap__270=("0", "mm"))
    assert (said(book)[0], cold(book)[0]) == ("conforming", "conforming")


@pytest.mark.parametrize(("after_s", "verdict"), [(60, "conforming"), (300, "not proven")])
def test_a_slip_put_right_in_the_same_moment_stands(after_s: float, verdict: str) -> None:
    assert said(cooled(felt("0", "0", "0", "0", warm_c="45"), after_s))[0] == verdict


def test_slips_put_right_one_after_the_other_are_counted_from_the_first() -> None:
    book = felt("0", "0", "0", "0", warm_c="45")
    for ring_c in ("38", "31", "24", "21"):
        cooled(book, 50, ring_c)
    assert said(book) == ("not proven", "felt-warm")


def test_another_persons_thermometer_puts_no_slip_right() -> None:
    book = felt("0", "0", "0", "0", warm_c="45")
    book.say("shoulder_gap", author="inspector", check=True, prev="e1", ring_temp=("21", "°C"))
    assert said(book) == ("not proven", "felt-warm")


def test_gaps_felt_long_before_anybody_took_a_temperature_are_not_proven() -> None:
    book = Book()
    book.say("shoulder_gap", feeler="feeler", **{f"gap__{at}": ("0", "mm") for at in (0, 90, 180, 270)})
    book.now += timedelta(minutes=20)
    book.say("shoulder_gap", ring_temp=("21", "°C"), shaft_temp=("20", "°C"))
    assert said(book) == ("not proven", "felt-warm")
