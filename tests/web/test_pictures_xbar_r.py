"""The X̄-R picture: both charts to scale, subgroup under subgroup, every point out named."""

from dataclasses import replace

import pytest

from qrecords.engineering.charts import xbar_r
from qrecords.web.pictures.xbar_r import (
    HEIGHT,
    MEANS_PX,
    RANGES_PX,
    WIDTH,
    Course,
    Panel,
    Point,
    XbarRPicture,
    courses,
    xbar_r_picture,
)
from qrecords.wording.figures import Figures
from tests.web.drawings import ends

MEANS = Course(tuple(Point(value) for value in (2_000, 6_000, 4_000)), 4_000, 0, 8_000)
RANGES = Course(tuple(Point(value) for value in (3_000, 0, 4_000)), 2_500, None, 5_000)


def draw(means: Course = MEANS, ranges: Course = RANGES, *, provisional: bool = False) -> XbarRPicture:
    return xbar_r_picture(means, ranges, size=5, figures=Figures(","), prefix="x", provisional=provisional)


def heights(panel: Panel) -> list[float]:
    """Of the limits, upper first."""
    return [y for _, y in ends(panel.limits)[::2]]


def with_point(course: Course, number: int, point: Point) -> Course:
    return replace(course, points=(*course.points[:number], point, *course.points[number + 1 :]))


def test_a_mean_in_the_middle_is_drawn_half_way_between_the_limits_on_the_centre() -> None:
    panel = draw().panels[0]
    upper, lower = heights(panel)
    assert float(panel.marks[2].y) == pytest.approx((upper + lower) / 2, abs=0.1)
    assert ends(panel.centre)[0][1] == pytest.approx(float(panel.marks[2].y), abs=0.1)


def test_each_range_stands_under_the_mean_of_its_subgroup() -> None:
    means, ranges = draw().panels
    assert [mark.x for mark in means.marks] == [mark.x for mark in ranges.marks]


def test_a_range_of_nought_stands_at_the_foot_and_there_is_no_lower_limit() -> None:
    panel = draw().panels[1]
    assert float(panel.marks[1].y) == RANGES_PX[1]
    assert len(heights(panel)) == 1
    assert len(panel.figures) == 2  # upper limit and centre


def test_ranges_of_many_readings_have_a_lower_limit_too() -> None:
    panel = draw(ranges=replace(RANGES, lower_nm=400)).panels[1]
    assert len(heights(panel)) == 2
    assert heights(panel)[1] < RANGES_PX[1]


def test_what_is_worked_out_stands_in_brackets() -> None:
    means, ranges = draw().panels
    assert [label.text for label in means.figures] == ["(+8,0)", "(0,0)", "(+4,0)"]
    assert [label.text for label in ranges.figures] == ["(5,0)", "(2,5)"]


def test_a_point_far_out_stays_on_the_paper_and_says_its_number() -> None:
    panel = draw(with_point(MEANS, 2, Point(90_000, "out"))).panels[0]
    mark = panel.marks[2]
    assert mark.label is not None
    assert (mark.standing, mark.label.text) == ("out", "+90,0")
    assert MEANS_PX[0] <= float(mark.label.y) - 11 < float(mark.label.y) < float(mark.y) <= MEANS_PX[1]


def test_numbers_of_points_far_out_do_not_cover_each_other() -> None:
    far = Point(90_000, "out")
    crowd = replace(MEANS, points=(*MEANS.points[:1] * 20, far, far, *MEANS.points[:1] * 3, far))
    panel = draw(crowd, replace(RANGES, points=RANGES.points[:1] * 26)).panels[0]
    lettered = [number for number, mark in enumerate(panel.marks) if mark.label]
    assert lettered == [20, 25]


def test_a_point_just_out_needs_no_number_and_is_drawn_beyond_the_limit() -> None:
    panel = draw(with_point(MEANS, 0, Point(9_000, "out"))).panels[0]
    assert panel.marks[0].label is None
    assert float(panel.marks[0].y) < heights(panel)[0]


def test_limits_and_centre_are_lettered_apart_even_beside_a_point_far_out() -> None:
    panel = draw(with_point(with_point(MEANS, 0, Point(-90_000, "out")), 2, Point(90_000, "out"))).panels[0]
    upper, lower, centre = (float(label.y) for label in panel.figures)
    assert centre - upper >= 13 and lower - centre >= 13


@pytest.mark.parametrize(("count", "last"), [(3, "3"), (25, "25"), (60, "60")])
def test_numbers_of_subgroups_stand_on_the_axis_and_never_more_than_eleven(count: int, last: str) -> None:
    many = replace(MEANS, points=MEANS.points[:1] * count)
    picture = draw(many, replace(RANGES, points=RANGES.points[:1] * count))
    assert 1 <= len(picture.axis_labels) <= 11
    assert picture.axis_labels[-1].text == last
    assert float(picture.axis_labels[-1].x) == pytest.approx(float(picture.panels[0].marks[-1].x), abs=0.1)


def test_everything_lies_on_the_paper() -> None:
    picture = draw(with_point(MEANS, 1, Point(-90_000, "out")))
    for panel in picture.panels:
        for x, y in [*ends(panel.limits), *ends(panel.trend), *ends(panel.centre)]:
            assert 0 <= x <= WIDTH and 0 <= y <= HEIGHT
    assert all(float(label.y) <= HEIGHT for label in picture.axis_labels)


def test_the_words_say_centre_limits_and_which_subgroups_are_out() -> None:
    desc = draw(with_point(MEANS, 1, Point(9_000, "out"))).desc
    assert "3 subgroups of 5 readings." in desc
    assert "Means: centre (+4,0) µm, limits (0,0) and (+8,0) µm. Outside, by subgroup: 2: +9,0." in desc
    assert "Ranges: centre (2,5) µm, upper limit (5,0) µm. None is outside." in desc


def test_too_few_subgroups_are_said_to_be_provisional() -> None:
    assert "Provisional: too few subgroups." in draw(provisional=True).desc
    assert "Provisional" not in draw().desc


def test_a_chart_is_drawn_with_the_verdicts_it_gives() -> None:
    steady = [[10.0 + (3 * g + 2 * r) % 5 for r in range(5)] for g in range(24)]
    chart = xbar_r([*steady, [value + 9 for value in steady[0]]])
    means, ranges = courses(chart)
    assert [number for number, point in enumerate(means.points) if point.standing == "out"] == [24]
    assert means.points[24].value_nm == round(chart.means[24] * 1000)
    assert (ranges.lower_nm, ranges.upper_nm) == (None, round(chart.range_upper.value * 1000))
