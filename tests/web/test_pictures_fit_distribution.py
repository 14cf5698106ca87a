"""How probable a fit is: a density to scale between its limits, and the same in words."""

import itertools
import math

import pytest

from qrecords.web.pictures.fit_distribution import (
    AXIS,
    RIGHT,
    WIDTH,
    Bell,
    FitDistribution,
    Shares,
    fit_distribution,
)
from qrecords.wording.figures import Figures
from tests.web.drawings import ends

CLASSES, PAIR = Bell(25_000, 3_300.0), Bell(28_000, 1_400.0)
LIMITS = (11_000, 39_000)


def draw(
    bell: Bell = CLASSES, limits: tuple[int, int] | None = LIMITS, behind: Bell | None = None
) -> FitDistribution:
    return fit_distribution(
        bell,
        figures=Figures(","),
        prefix="p",
        limits_nm=limits,
        shares=Shares("0,2 %", "0,1 %"),
        behind=behind,
    )


def area(curve: str) -> float:
    points = ends(curve)
    return sum((b[0] - a[0]) * (2 * AXIS - a[1] - b[1]) / 2 for a, b in itertools.pairwise(points))


def px_per_nm(picture: FitDistribution) -> float:
    (left, _), _, (right, _), _ = ends(picture.limits)
    return (right - left) / (LIMITS[1] - LIMITS[0])


def test_the_mean_stands_where_it_lies_between_the_limits() -> None:
    picture = draw()
    (left, _), _, (right, _), _ = ends(picture.limits)
    assert ends(picture.mean)[0][0] == pytest.approx((left + right) / 2, abs=0.1)  # 25 of 11…39
    assert picture.mean_label.text == "(25)"


def test_the_curve_is_the_density_of_a_normal_distribution() -> None:
    picture = draw()
    points = ends(picture.bell)
    peak = max(AXIS - y for _, y in points)
    centre, scale = ends(picture.mean)[0][0], px_per_nm(picture)
    for x, y in points:
        sigmas = (x - centre) / (3_300 * scale)
        assert (AXIS - y) / peak == pytest.approx(math.exp(-(sigmas**2) / 2), abs=0.01)


def test_the_band_of_six_sigma_is_dimensioned_to_the_scale_of_the_limits() -> None:
    picture = draw()
    assert picture.probable is not None
    assert picture.probable.label.text == "(15)…(35)"
    left, right = (ends(picture.extensions)[n][0] for n in (0, 2))
    assert right - left == pytest.approx(6 * 3_300 * px_per_nm(picture), abs=0.3)


def test_both_curves_have_one_area_because_both_are_one_whole() -> None:
    picture = draw(PAIR, behind=CLASSES)
    assert area(picture.bell) == pytest.approx(area(picture.behind), rel=0.01)


def test_a_curve_too_flat_to_read_beside_the_other_is_left_out_of_picture_and_words() -> None:
    picture = draw(Bell(28_000, 300.0), behind=CLASSES)
    assert picture.behind == ""
    assert "classes alone" not in picture.desc + picture.key


def test_a_fit_of_which_nobody_knows_the_spread_is_a_line_and_says_so() -> None:
    picture = draw(Bell(28_000, 0.0), behind=CLASSES)
    assert len(ends(picture.bell)) == 2
    assert (picture.probable, picture.behind) == (None, "")
    assert "how far it spreads is not known" in picture.desc
    assert "normal" not in picture.desc + picture.key


def test_what_lies_outside_is_hatched_up_to_the_limits() -> None:
    picture = draw()
    edges = [x for x, _ in ends(picture.limits)[::2]]
    assert f"H{edges[0]:g}" in picture.outside and f"M{edges[1]:g} " in picture.outside


def test_without_limits_nothing_is_hatched_and_nothing_lies_outside() -> None:
    picture = draw(limits=None)
    assert (picture.outside, picture.limits, picture.shares) == ("", "", ())


@pytest.mark.parametrize("bell", [CLASSES, PAIR, Bell(-30_000, 3_000.0), Bell(90_000, 500.0), Bell(0, 1.0)])
def test_nothing_leaves_the_paper(bell: Bell) -> None:
    picture = draw(bell)
    drawn = [x for part in (picture.bell, picture.mean, picture.limits) for x, _ in ends(part)]
    assert min(drawn) >= 0 and max(drawn) <= RIGHT < WIDTH
    assert picture.probable is not None
    assert min(x for x, _ in ends(picture.probable.lines)) >= 0


def test_no_figure_of_the_axis_stands_on_a_limits_figure() -> None:
    picture = draw()
    limits = [float(label.x) for label in picture.limit_figures]
    assert all(abs(float(label.x) - at) > 20 for label in picture.axis_labels for at in limits)


def test_the_words_tell_what_the_picture_shows() -> None:
    assert draw(PAIR, behind=CLASSES).desc == (
        "Interference (28) µm on the mean, 99.73 % from (24) to (32). Allowed 11…39 µm. "
        "(0,2 %) lies below, (0,1 %) above. By the classes alone (25) µm, 99.73 % from (15) to (35); dashed. "
        "Taken as normally distributed."
    )
