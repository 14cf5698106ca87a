"""The heating curve: temperature against time on linear scales."""

import pytest

from qrecords.web.figures import Figures
from qrecords.web.pictures.heat_curve import Curve, HeatCurve, Note, heat_curve
from tests.web.drawings import ends

RISE = Curve(((0.0, 20_000), (100.0, 120_000)))


def draw(
    *curves: Curve, span: tuple[float, float, str] | None = None, must_be: int | None = None
) -> HeatCurve:
    return heat_curve(
        curves,
        ceiling_mdegc=120_000,
        must_be_mdegc=must_be,
        figures=Figures(","),
        prefix="h",
        span=span,
        notes=(Note((100.0, 120_000), "120", dot=True),),
    )


def test_a_curve_that_reaches_the_ceiling_touches_its_line() -> None:
    picture = draw(RISE)
    assert ends(picture.solid)[-1][1] == pytest.approx(ends(picture.limits)[0][1], abs=0.1)


def test_the_outer_ring_is_drawn_apart_and_dashed() -> None:
    picture = draw(RISE, Curve(((0.0, 20_000), (100.0, 90_000)), dashed=True))
    assert len(ends(picture.solid)) == len(ends(picture.dashed)) == 2


def test_a_time_is_dimensioned_between_the_points_of_the_curve() -> None:
    picture = draw(RISE, span=(50.0, 100.0, "50 s"))
    start, end = ends(picture.solid)
    (x1, y1), _, (x2, y2), _ = ends(picture.extensions)
    assert x1 == pytest.approx((start[0] + end[0]) / 2, abs=0.1)
    assert y1 == pytest.approx((start[1] + end[1]) / 2, abs=0.1)
    assert (x2, y2) == end


def test_what_must_still_be_is_a_second_limit() -> None:
    assert len(ends(draw(RISE).limits)) == 2
    assert len(ends(draw(RISE, must_be=65_000).limits)) == 4


def test_the_words_say_the_limits_and_how_hot_it_became() -> None:
    assert draw(RISE).desc == "never above 120 °C. Hottest 120 °C, last 120 °C."
