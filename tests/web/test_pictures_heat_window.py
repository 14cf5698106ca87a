"""The heat window: two limits at the same height always, the ring between them to scale."""

import pytest

from qrecords.web.pictures.heat_window import LOW, TALL, HeatWindow, heat_window
from qrecords.wording.figures import Figures
from tests.web.drawings import ends


def draw(ceiling: int = 80_000, must_be: int = 60_000, at_least: int | None = 70_000) -> HeatWindow:
    return heat_window(
        ceiling_mdegc=ceiling,
        must_be_mdegc=must_be,
        at_least_mdegc=at_least,
        figures=Figures(","),
        prefix="w",
    )


def test_half_way_between_the_limits_is_drawn_half_way() -> None:
    assert ends(draw().bar)[0][1] == pytest.approx((TALL.ceiling + TALL.floor) / 2)


def test_the_limits_lie_at_the_same_height_for_every_bearing() -> None:
    assert draw().limits == draw(120_000, 65_000).limits


def test_a_ring_colder_than_the_picture_reaches_stays_at_its_edge() -> None:
    assert ends(draw(at_least=10_000).bar)[0][1] == TALL.height - 6


def test_a_temperature_worked_out_stands_in_brackets() -> None:
    label = draw(at_least=68_200).pointer_label
    assert label is not None
    assert label.text == "(68)"


def test_without_a_forecast_there_is_no_pointer() -> None:
    window = draw(at_least=None)
    assert (window.bar, window.pointer, window.pointer_label) == ("", "", None)


def test_a_ceiling_under_what_must_still_be_is_no_window() -> None:
    with pytest.raises(ValueError, match="empty"):
        draw(ceiling=60_000)


def test_the_low_picture_keeps_both_limits_on_its_paper() -> None:
    assert 0 < LOW.ceiling < LOW.floor < LOW.height


def test_the_words_say_both_limits_and_what_the_ring_has() -> None:
    desc = draw().desc
    assert "never above 80\u202f°C" in desc
    assert "must still be 60\u202f°C on the seat" in desc
    assert "(70)" in desc
