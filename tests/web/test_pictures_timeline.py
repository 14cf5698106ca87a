"""The timeline: time to scale, and no label over another or across a leader."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.web.pictures.coordinates import text_width
from qrecords.web.pictures.timeline import LEFT, LETTERS, RIGHT, Event, Timeline, day, life
from tests.web.drawings import ends

MORNING = datetime(2026, 3, 11, 8, 0, tzinfo=UTC)


def boxes(line: Timeline) -> list[tuple[float, float, float, float, float]]:
    """Of each label: from, to, its height, and the leader's place and top."""
    found = []
    for mark in line.marks:
        x, wide = float(mark.label.x), text_width(mark.label.text, LETTERS)
        low, high = (x - wide, x) if mark.label.anchor == "end" else (x, x + wide)
        leader = ends(mark.leader)
        found.append((low, high, float(mark.label.y), leader[0][0], leader[1][1]))
    return found


def test_years_are_drawn_to_scale() -> None:
    start, end = datetime(2026, 1, 1, tzinfo=UTC), datetime(2028, 1, 1, tzinfo=UTC)
    line = life((Event(start, "in"), Event(end, "out", "end")), until=date(2030, 1, 1), prefix="t")
    # 730 of the 1461 days from 2026 to 2030
    assert float(line.marks[1].x) == pytest.approx(LEFT + (RIGHT - LEFT) * 730 / 1461, abs=0.1)


def test_service_is_dimensioned_from_fitting_to_failure() -> None:
    start, end = datetime(2026, 3, 11, tzinfo=UTC), datetime(2031, 6, 14, tzinfo=UTC)
    events = (Event(start, "mounted"), Event(end, "crept", "end"))
    line = life(events, until=date(2032, 1, 1), prefix="t", served=(start, end, "5 years 3 months"))
    assert line.span is not None
    assert [x for x, _ in ends(line.served)] == [float(mark.x) for mark in line.marks]


def test_a_day_begins_and_ends_on_whole_hours_around_its_events() -> None:
    line = day(
        (Event(MORNING + timedelta(minutes=5), "a"), Event(MORNING + timedelta(hours=7), "b")), prefix="t"
    )
    assert (line.tick_labels[0].text, line.tick_labels[-1].text) == ("07:00", "16:00")


@given(st.lists(st.tuples(st.integers(0, 600), st.integers(1, 40)), min_size=1, max_size=12))
def test_no_label_lies_over_another_and_no_leader_crosses_one(raw: list[tuple[int, int]]) -> None:
    events = tuple(Event(MORNING + timedelta(minutes=minute), "x" * length) for minute, length in sorted(raw))
    found = boxes(day(events, prefix="t"))
    for i, (low, high, y, _, _) in enumerate(found):
        for j, (other_low, other_high, other_y, leader, top) in enumerate(found):
            if i == j:
                continue
            assert y != other_y or high <= other_low or other_high <= low
            assert not (low < leader < high and top < y)


def test_the_words_tell_the_life_in_order() -> None:
    line = day((Event(MORNING, "unwrapped"),), prefix="t")
    assert "11 Mar 2026 08:00 unwrapped" in line.desc
    assert line.told == (("08:00", "unwrapped", "mark"),)
