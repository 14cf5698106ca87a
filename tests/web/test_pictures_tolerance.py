"""The tolerance picture: to scale, with every reading under its plane."""

from dataclasses import replace

import pytest

from qrecords.web.pictures.tolerance import (
    PHONE,
    PHONE_LOW,
    Plane,
    Reading,
    Seat,
    TolerancePicture,
    tolerance_picture,
)
from qrecords.wording.figures import Figures
from tests.web.drawings import ends

PLANES = (Plane("A", 6), Plane("B", 19), Plane("C", 32))
SEAT = Seat(2_000, 15_000, 38.4, PLANES, guard_nm=1_000)


def draw(*readings: Reading, seat: Seat = SEAT, low: bool = False) -> TolerancePicture:
    paper = PHONE_LOW if low else PHONE
    return tolerance_picture(seat, readings, figures=Figures(","), prefix="x", paper=paper)


def heights(picture: TolerancePicture) -> tuple[float, float]:
    """The heights of the upper and the lower limit."""
    (_, upper), _, (_, lower), _ = ends(picture.limits)
    return upper, lower


def test_a_reading_in_the_middle_of_the_zone_is_drawn_half_way_between_the_limits() -> None:
    picture = draw(Reading(0, 0, 8_500))
    assert float(picture.marks[0].y) == pytest.approx(sum(heights(picture)) / 2, abs=0.1)


def test_the_zone_is_drawn_to_the_scale_of_the_readings() -> None:
    picture = draw(Reading(0, 0, -11_000))  # one zone's width under the lower limit
    upper, lower = heights(picture)
    assert float(picture.marks[0].y) - lower == pytest.approx(lower - upper, abs=0.2)


def test_planes_stand_at_their_true_distance_from_the_shoulder() -> None:
    xs = [x for x, _ in ends(draw().planes)[::2]]
    assert (xs[1] - xs[0]) / (xs[0] - PHONE.left) == pytest.approx(13 / 6, rel=0.01)


def test_three_even_planes_line_up_with_the_grid_below_by_themselves() -> None:
    assert draw().leaders == ""


def test_planes_out_of_line_with_the_grid_are_led_to_their_columns() -> None:
    crowded = replace(SEAT, planes=(Plane("A", 4), Plane("B", 10), Plane("C", 16)))
    led = ends(draw(seat=crowded).leaders)
    assert [x for x, _ in led[1::2]] == [92, 184, 276]  # the middles of the grid's three columns


def test_the_guard_band_lies_inside_both_limits() -> None:
    picture = draw()
    upper, lower = heights(picture)
    guards = sorted({y for _, y in ends(picture.guards)})
    per_um = (lower - upper) / 13
    assert guards == [pytest.approx(upper + per_um, abs=0.2), pytest.approx(lower - per_um, abs=0.2)]


def test_a_guard_wider_than_half_the_zone_leaves_no_band_to_draw() -> None:
    assert draw(seat=replace(SEAT, guard_nm=6_500)).guards == ""


def test_nominal_size_is_drawn_only_where_it_is_in_the_picture() -> None:
    assert draw(Reading(0, 0, -6_000)).zero != ""
    assert draw(seat=replace(SEAT, lower_nm=43_000, upper_nm=68_000)).zero == ""


def test_a_reading_far_outside_stays_in_the_picture_and_says_its_number() -> None:
    mark = draw(Reading(0, 0, 900_000, "out")).marks[0]
    assert mark.label is not None
    assert mark.label.text == "+900"
    assert 0 < float(mark.y) < PHONE.height


def test_a_reading_near_the_zone_needs_no_number_beside_it() -> None:
    assert draw(Reading(0, 0, -6_000, "out")).marks[0].label is None


def test_the_line_goes_through_the_middle_of_each_planes_points() -> None:
    picture = draw(*(Reading(plane, place, 5_000) for plane in (0, 1) for place in (0, 1, 2)))
    planes = [x for x, _ in ends(picture.planes)[::2]]
    assert [x for x, _ in ends(picture.trend)] == pytest.approx(planes[:2], abs=0.1)


def test_the_picture_says_its_factor_only_where_a_micrometre_is_small_on_paper() -> None:
    assert draw().factor is None
    low = draw(Reading(0, 0, -6_000, "out"), low=True)
    # 90 px over 21 µm, a px being 25.4/96 mm: 4.286 px per µm enlarge 1134 times.
    assert low.factor is not None
    assert low.factor.text == "1130 : 1"


def test_the_words_say_limits_readings_and_how_many_are_out() -> None:
    picture = draw(Reading(2, 0, -5_000, "out"), Reading(2, 1, -6_000, "out"), Reading(0, 0, 14_600, "close"))
    assert "+2…+15 µm" in picture.desc
    assert "C, 32 mm from the shoulder: −5, −6." in picture.desc
    assert "2 are out." in picture.desc
    assert "1 is too close to call." in picture.desc
