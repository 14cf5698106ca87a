"""The heating curve: temperature against time on linear scales."""

import pytest

from qrecords.web.pictures.heat_curve import Curve, HeatCurve, Note, heat_curve
from qrecords.web.pictures.heat_taps import Tap, tap_words
from qrecords.wording.figures import Figures
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
    assert draw(RISE).desc == "Never above 120 °C. Hottest 120 °C, last 120 °C."


TAPS = (Tap(0, "heater on"), Tap(100, "lifted off +100 s"), Tap(104, "home +4 s"), Tap(160, "let go +56 s"))


def test_the_four_taps_stand_under_the_time_axis_to_the_scale_of_the_curve() -> None:
    picture = heat_curve((RISE,), ceiling_mdegc=120_000, figures=Figures(","), prefix="h", taps=TAPS)
    assert [label.text for label in picture.tap_labels] == [tap.text for tap in TAPS]
    assert picture.desc.endswith("heater on, lifted off +100 s, home +4 s, let go +56 s.")
    axis = ends(picture.axis)
    ticks = [x for x, _ in axis[2::2]]
    start, peak = (x for x, _ in ends(picture.solid))
    assert ticks[:2] == pytest.approx([start, peak], abs=0.1)
    scale = (peak - start) / 100
    assert [ticks[2] - peak, ticks[3] - peak] == pytest.approx([4 * scale, 60 * scale], abs=0.2)


@pytest.mark.parametrize(
    "places",
    [
        [(40.0, 70.0), (200.0, 125.0), (206.0, 70.0), (330.0, 100.0)],
        [(40.0, 70.0), (300.0, 125.0), (304.0, 70.0), (312.0, 100.0)],
        [(40.0, 70.0), (60.0, 125.0), (62.0, 70.0), (330.0, 100.0)],
        [(40.0, 70.0), (45.0, 125.0), (49.0, 70.0), (150.0, 100.0)],
        [(40.0, 70.0), (41.0, 125.0), (42.0, 70.0), (43.0, 100.0)],
    ],
    ids=["held long", "let go at once", "heated for seconds", "let go under words", "all at once"],
)
def test_no_words_of_a_tap_cover_others_and_no_line_down_crosses_any(
    places: list[tuple[float, float]],
) -> None:
    words = tap_words(places)
    lanes = [lane for _, lane in words]
    spans = [
        (x - wide, x) if leftward else (x, x + wide)
        for (x, wide), (leftward, _) in zip(places, words, strict=True)
    ]
    for n, (low, high) in enumerate(spans):
        for m, (other_low, other_high) in enumerate(spans):
            if n != m:
                apart = high <= other_low or other_high <= low
                assert lanes[n] != lanes[m] or apart, (n, m)
                crosses = low < places[m][0] < high
                assert lanes[m] <= lanes[n] or not crosses, (n, m)


def test_the_peak_and_the_seat_are_lettered_apart_and_clear_of_the_limit() -> None:
    notes = (Note((100.0, 118_000), "118", bold=True), Note((104.0, 117_000), "(117)"))
    curve = Curve(((0.0, 20_000), (100.0, 118_000), (104.0, 117_000)))
    picture = heat_curve((curve,), ceiling_mdegc=120_000, figures=Figures(","), prefix="h", notes=notes)
    limit = ends(picture.limits)[0][1]
    first, second = (float(note.y) for note in picture.notes)
    assert not first - 12 < limit < first + 3 and abs(second - first) >= 14


def test_a_dashed_course_is_told_apart_in_the_words_too() -> None:
    cooler = Curve(((0.0, 20_000), (60.0, 90_000)), dashed=True)
    desc = heat_curve((RISE, cooler), ceiling_mdegc=120_000, figures=Figures("."), prefix="c").desc
    assert desc == "Never above 120 °C. Hottest 120 °C, last 120 °C. Dashed: hottest 90 °C, last 90 °C."
