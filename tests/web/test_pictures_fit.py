"""Fit, lost value, clearance: zones over one line, always to scale."""

import pytest

from qrecords.web.pictures.bound import bound_picture
from qrecords.web.pictures.clearance import Bearing, clearance_picture
from qrecords.web.pictures.fit import FitPicture, Part, fit_picture
from qrecords.wording.figures import Figures
from tests.web.drawings import ends, numbers

COMMA = Figures(",")
SHAFT = Part("shaft m5", 11_000, 24_000, (18_000, 20_000))
BORE = Part("bore, Normal", -15_000, 0, (-9_000,))


def draw(shaft: Part = SHAFT, bore: Part = BORE) -> FitPicture:
    return fit_picture(shaft, bore, figures=COMMA, prefix="f")


def test_the_interference_is_dimensioned_between_the_means_and_is_worked_out() -> None:
    dimension = draw().interference
    assert dimension is not None
    assert dimension.label.text == "(28)"  # (18 + 20) / 2 − (−9)


def test_the_dimension_is_as_long_as_the_interference_on_the_zones_scale() -> None:
    picture = draw()
    assert picture.interference is not None
    (_, top), (_, foot) = ends(picture.interference.lines)
    shaft_top, shaft_foot = numbers(picture.zones)[1], numbers(picture.zones)[3]
    assert (foot - top) / abs(shaft_foot - shaft_top) == pytest.approx(28 / 13, rel=0.01)


def test_without_a_bore_reading_no_interference_is_claimed() -> None:
    picture = draw(bore=Part("bore, Normal", -15_000, 0))
    assert picture.interference is None
    assert "Interference" not in picture.desc


def test_every_reading_is_a_dot() -> None:
    assert len(draw().dots) == 3


def test_the_names_of_the_zones_stand_clear_of_readings_outside_their_limits() -> None:
    picture = draw(
        Part("shaft m5", 11_000, 24_000, (18_000, 27_000)), Part("bore, Normal", -15_000, 0, (-18_000,))
    )
    shaft_name, bore_name = (float(label.y) for label in picture.zone_labels)
    heights = [float(y) for _, y in picture.dots]
    assert shaft_name < min(heights) - 8 and bore_name - 16 > max(heights)


def test_a_lost_value_is_drawn_inside_its_window_on_one_scale() -> None:
    picture = bound_picture(
        window_nm=(13_000, 48_000), range_nm=(20_000, 41_000), what="fit", figures=COMMA, prefix="b"
    )
    (left, _), _, (right, _), _ = ends(picture.limits)
    (start, _), _, (end, _), _ = ends(picture.ends)
    assert (end - start) / (right - left) == pytest.approx(21 / 35, rel=0.01)
    assert start - left == pytest.approx(right - end, abs=0.2)  # 7 µm to spare at both ends
    assert picture.span.label.text == "(20…41)"


def test_a_lost_value_that_can_lie_outside_its_window_is_drawn_outside_it() -> None:
    picture = bound_picture(
        window_nm=(13_000, 30_000), range_nm=(20_000, 41_000), what="fit", figures=COMMA, prefix="b"
    )
    assert ends(picture.ends)[2][0] > ends(picture.limits)[2][0]


def test_what_is_left_below_nought_lies_in_the_hatching() -> None:
    tight = Bearing("6213", "G0 14", (8_000, 28_000), -10_000, 14_000, "out")
    loose = Bearing("6213 C3", "G0 35", (23_000, 43_000), 11_000, 35_000)
    picture = clearance_picture((tight, loose), figures=COMMA, prefix="c")
    edge = ends(picture.wall)[0][0]
    assert float(picture.rows[0].x) < edge < float(picture.rows[1].x)
    assert [row.figure.text for row in picture.rows] == ["(−10)", "(+11)"]


def test_clearance_is_drawn_to_scale_from_g0_to_what_is_left() -> None:
    picture = clearance_picture(
        (Bearing("6213", "", (8_000, 28_000), -10_000, 14_000),), figures=COMMA, prefix="c"
    )
    row = picture.rows[0]
    assert row.dot is not None
    group = [numbers(row.group)[0], numbers(row.group)[2]]
    loss = float(row.dot[0]) - float(row.x)
    assert loss / (group[1] - group[0]) == pytest.approx(24 / 20, rel=0.01)


def test_without_a_measured_clearance_no_dot_claims_one() -> None:
    picture = clearance_picture((Bearing("6213", "", (8_000, 28_000), -6_000),), figures=COMMA, prefix="c")
    assert picture.rows[0].dot is None
