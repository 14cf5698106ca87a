"""A logger's curve in its picture: runs, events, and the same in words."""

import pytest
from django.template.loader import render_to_string

from qrecords.engineering.curve_cleaning import Sample, clean
from qrecords.web.pictures.heat_curve import HeatCurve, heat_curve
from qrecords.web.pictures.heat_events import EventMarks
from qrecords.web.pictures.heat_log import MOST_PLACES, heat_log
from qrecords.wording.figures import THIN_GAP, Figures
from tests.engineering.heating_logs import course, put, without
from tests.web.drawings import ends, numbers

COMMA = Figures(",")
SHORT = ((0, 20.0), (90, 110.0), (150, 104.0))
FALLEN = (109.0, 100.0, 80.0, 60.0, 45.0, 40.0, 38.0)


def draw(samples: list[Sample], zero_s: float | None = None) -> HeatCurve:
    log = heat_log(clean(samples), zero_s)
    return heat_curve(log.curves, ceiling_mdegc=120_000, figures=COMMA, prefix="h", events=log.events)


def marks(picture: HeatCurve) -> EventMarks:
    assert picture.marks is not None
    return picture.marks


def said(picture: HeatCurve) -> str:
    return picture.desc.replace(THIN_GAP, " ")


def test_a_sound_log_has_no_marks_and_says_what_any_curve_says() -> None:
    picture = draw(course(SHORT))
    assert picture.marks is None
    assert said(picture) == "Never above 120 °C. Hottest 110 °C, last 104 °C."


def test_nothing_is_drawn_across_a_gap_and_its_place_is_kept() -> None:
    picture = draw(without(course(SHORT), 30, 60))
    assert picture.solid.count("M") == 2
    left, _, right, _ = ends(marks(picture).empty)
    whole = ends(draw(course(SHORT)).solid)
    assert (left[0], right[0]) == (whole[30][0], whole[60][0])
    assert not any(left[0] < x < right[0] for x, _ in ends(picture.solid))
    assert "Nothing usable was read from 30 s to 60 s; nothing is drawn there." in said(picture)
    assert [note.text.replace(THIN_GAP, " ") for note in picture.notes] == ["gap 30 s"]


def test_a_sample_alone_between_gaps_is_seen() -> None:
    picture = draw([sample for sample in course(SHORT) if sample[0] <= 20 or sample[0] in (40, 60, 61, 62)])
    assert [part.count("L") for part in picture.solid.split("M")[1:]] == [20, 1, 2]


def test_a_spike_is_a_cross_at_its_place_and_no_part_of_the_curve() -> None:
    picture = draw(put(course(SHORT), 60, 95.0))
    (x1, y1), (x2, y2) = ends(marks(picture).crosses)[:2]
    whole = ends(draw(course(SHORT)).solid)
    assert (x1 + x2) / 2 == pytest.approx(whole[60][0], abs=0.1)
    assert (y1 + y2) / 2 == pytest.approx(whole[75][1], abs=0.1)  # where the curve itself is at 95 °C
    assert len(ends(picture.solid)) == 150
    assert "95 °C at 60 s is far from its neighbours at 81 °C and left out." in said(picture)


def test_a_spike_beyond_the_picture_is_a_cross_at_its_edge() -> None:
    picture = draw(put(course(SHORT), 60, 390.0))
    assert min(y for _, y in ends(marks(picture).crosses)) >= 4


def test_samples_without_a_temperature_are_dotted_along_the_foot() -> None:
    picture = draw(put(course(SHORT), 60, None, 1372.0, 9999.0))
    (x1, y1), (x2, y2) = ends(marks(picture).empty)
    assert y1 == y2 and x2 > x1
    assert "3 samples without a temperature from 60 s to 62 s." in said(picture)
    assert "1 sample without a temperature at 60 s." in said(draw(put(course(SHORT), 60, None)))


def test_after_a_lost_probe_the_curve_is_faint_and_not_told() -> None:
    picture = draw(put(course(SHORT), 95, *FALLEN))
    assert picture.faint and marks(picture).lost
    assert max(x for x, _ in ends(picture.solid)) == pytest.approx(numbers(marks(picture).lost)[0])
    assert min(x for x, _ in ends(picture.faint)) > numbers(marks(picture).lost)[0]
    assert "Hottest 110 °C, last 109 °C." in said(picture)
    assert "The probe came off at 95 s, at 109 °C: what follows is not the ring." in said(picture)
    assert [note.text for note in picture.notes] == ["probe off"]


def test_a_clock_set_back_is_an_arrow_head_to_the_left() -> None:
    log = course(SHORT)
    log[40], log[43] = log[43], log[40]
    picture = draw(log)
    assert marks(picture).clock.count("Z") == 2
    tip, *back = ends(marks(picture).clock)[:3]
    assert all(x > tip[0] for x, _ in back)
    assert "The clock went back 2 times, by up to 2 s; the samples are sorted." in said(picture)


def test_more_than_three_of_a_kind_are_told_together() -> None:
    log = course(((0, 20.0), (90, 110.0), (600, 60.0)))
    for at in range(100, 500, 50):
        log = put(log, at, 150.0)
    assert "8 samples far from their neighbours are left out, the highest 150 °C." in said(draw(log))
    for at in range(120, 520, 50):
        log = put(log, at, None)
    assert "8 samples without a temperature in 8 places, the first at 120 s." in said(draw(log))
    for at in range(130, 530, 50):
        log = without(log, at, at + 10)
    assert "Nothing usable was read in 8 gaps, the longest 10 s; nothing is drawn there." in said(draw(log))


def test_a_log_on_any_clock_is_drawn_from_its_first_sample_or_from_the_moment_that_is_given() -> None:
    log = [(1.7e9 + at, value) for at, value in without(course(SHORT), 30, 60)]
    assert draw(log) == draw(without(course(SHORT), 30, 60))
    assert "from 40 s to 70 s" in said(draw(log, zero_s=1.7e9 - 10))


def test_a_long_log_keeps_its_highest_and_its_last_sample_and_a_bounded_size() -> None:
    log = course(((0, 20.0), (4000, 110.0), (9999, 50.0)))
    log = put(log, 5003, 104.9)
    (curve,) = heat_log(clean(log)).curves
    assert len(curve.points) <= 4 * (MOST_PLACES + 1)
    assert (4000.0, 110_000) in curve.points
    assert (5003.0, 104_900) in curve.points
    assert curve.points[-1] == (9999.0, 50_000)
    assert list(curve.points) == sorted(curve.points)


def test_every_mark_reaches_the_page() -> None:
    log = put(without(put(put(course(SHORT), 20, None), 50, 120.0), 70, 80), 95, *FALLEN)
    log[2], log[3] = log[3], log[2]
    picture = draw(log)
    drawn = render_to_string("parts/heat_curve.html", {"p": picture})
    found = marks(picture)
    for part in (found.empty, found.crosses, found.lost, found.clock, picture.faint):
        assert part and f'd="{part}"' in drawn
    assert all(f">{note.text}<" in drawn for note in picture.notes)
