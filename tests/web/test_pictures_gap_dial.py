"""The gap dial: an end view, 0° up and clockwise, gaps to a scale of their own."""

import math

import pytest

from qrecords.web.pictures.coordinates import ring_point
from qrecords.web.pictures.gap_dial import CX, CY, HEIGHT, RING, WIDTH, Gap, GapDial, Tilt, gap_dial
from qrecords.wording.figures import Figures
from tests.web.drawings import ends, numbers

FOUR = (Gap(0, 0), Gap(90, 50_000, "out"), Gap(180, 80_000, "out"), Gap(270, 30_000, "out"))


def draw(*gaps: Gap, tilt: Tilt | None = None, chosen: int | None = None) -> GapDial:
    return gap_dial(gaps, figures=Figures(","), prefix="d", tilt=tilt, chosen_deg=chosen)


def radius(dial: GapDial, number: int) -> float:
    """How far the wedge of one position reaches from the middle of the ring."""
    x, y = numbers(dial.sectors[number].wedge)[:2]
    return math.hypot(x - CX, y - CY)


def test_where_nothing_goes_in_nothing_is_drawn_and_the_word_is_none() -> None:
    sector = draw(*FOUR).sectors[0]
    assert sector.wedge == ""
    assert sector.label.text == "none"


def test_a_gap_not_yet_tried_is_neither_drawn_nor_called_none() -> None:
    sector = draw(Gap(0), *FOUR[1:]).sectors[0]
    assert sector.wedge == ""
    assert sector.label.text == ""


def test_gaps_are_drawn_to_the_scale_of_the_bar() -> None:
    dial = draw(*FOUR)
    bar_px = numbers(dial.bar)[5]
    assert dial.bar_label.text == "gap 0,1\u202fmm"
    assert radius(dial, 2) - RING - 2 == pytest.approx(0.8 * bar_px, abs=0.2)


def test_the_position_at_ninety_degrees_lies_on_the_right() -> None:
    wedge = ends_of_arc(draw(*FOUR).sectors[1].wedge)
    assert all(x > CX for x, _ in wedge)


def ends_of_arc(wedge: str) -> list[tuple[float, float]]:
    """First corner and last corner of a wedge."""
    flat = numbers(wedge)
    return [(flat[0], flat[1]), (flat[-2], flat[-1])]


def test_a_wide_gap_makes_the_scale_smaller_and_stays_on_the_paper() -> None:
    dial = draw(Gap(0, 0), Gap(90, 500_000, "out"), Gap(180, 0), Gap(270, 0))
    assert radius(dial, 1) < WIDTH / 2
    assert dial.bar_label.text == "gap 0,5\u202fmm"


@pytest.mark.parametrize("count", [4, 6, 8])
def test_every_position_has_its_sector_its_line_and_its_words(count: int) -> None:
    dial = draw(*(Gap(number * 360 // count, 40_000) for number in range(count)))
    assert len(dial.sectors) == count
    assert len(ends(dial.spokes)) == 2 * count
    assert dial.sectors[1].spoken == f"{360 // count}°: 0,04"


def test_the_outline_of_the_tilt_goes_through_the_gaps_it_explains() -> None:
    tilt = Tilt(40_000, -40_000, 10_000)  # 0 at 0°, 0,05 at 90°, 0,08 at 180°, 0,03 at 270°
    dial = draw(*FOUR, tilt=tilt)
    outline = ends(dial.tilt)
    assert [round(tilt.at(angle)) for angle in (0, 90, 180, 270)] == [0, 50_000, 80_000, 30_000]
    assert max(y for _, y in outline) == pytest.approx(CY + radius(dial, 2), abs=1)


def test_only_the_position_asked_for_is_chosen() -> None:
    assert [s.chosen for s in draw(*FOUR, chosen=270).sectors] == [False, False, False, True]


def test_every_label_lies_on_the_paper() -> None:
    for sector in draw(*FOUR, tilt=Tilt(50_000, 50_000, 0)).sectors:
        assert 10 <= float(sector.angle_label.y) <= HEIGHT
        assert 0 <= float(sector.angle_label.x) <= WIDTH


def test_the_words_say_what_goes_in_where() -> None:
    desc = draw(*FOUR, tilt=Tilt(40_000, -40_000, 0)).desc
    assert "At 0° the blade of the limit does not go in." in desc
    assert "At 180° a blade of 0,08 mm goes in." in desc
    assert "Tilt worked out: (0,08) mm across the ring, widest at (180°)." in desc


@pytest.mark.parametrize(
    ("tilt", "widest"),
    [
        (Tilt(40_000, 1_000, 0), 0),
        (Tilt(40_000, 0, 1_000), 90),
        (Tilt(40_000, -1_000, 0), 180),
        (Tilt(40_000, 0, -1_000), 270),
        (Tilt(40_000, -1_000, 1_000), 135),
    ],
)
def test_where_the_ring_gapes_most_is_pointed_at_and_said(tilt: Tilt, widest: int) -> None:
    dial = draw(*FOUR, tilt=tilt)
    tip = ends(dial.widest.rstrip("Z"))[0]
    assert tip == pytest.approx(ring_point(CX, CY, RING - 3, widest), abs=0.1)
    assert dial.widest_label.text == f"widest at ({widest}°)"
