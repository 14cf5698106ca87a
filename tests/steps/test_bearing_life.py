"""Where a bearing is: one answer from its mountings and from what became of it besides."""

from datetime import UTC, datetime, timedelta

import pytest

from qrecords.steps.bearing_life import Became, Event, Stood, Where, where_is
from qrecords.steps.transitions import State

START = datetime(2026, 3, 2, 8, tzinfo=UTC)


def day(number: int) -> datetime:
    return START + timedelta(days=number)


def stood(state: State, on: int = 0, heated: bool = True, mounting: str = "one") -> Stood:
    return Stood(mounting, state, day(on), heated)


def became(what: Event, on: int, mounting: str = "") -> Became:
    return Became(what, day(on), mounting)


OFF = Event.REMOVED


@pytest.mark.parametrize(
    ("places", "events", "where"),
    [
        ([], [], Where.IN_STOCK),
        ([], [became(OFF, 1)], Where.REMOVED),
        ([stood(State.OPEN)], [], Where.IN_A_MOUNTING),
        ([stood(State.RETURNED)], [], Where.IN_A_MOUNTING),
        ([stood(State.READY)], [], Where.IN_A_MOUNTING),
        ([stood(State.SIGNED_OFF)], [], Where.MOUNTED),
        ([stood(State.SIGNED_OFF)], [became(OFF, 5, "one")], Where.REMOVED),
        ([stood(State.SIGNED_OFF)], [became(OFF, 5)], Where.REMOVED),
        ([stood(State.SIGNED_OFF, on=3)], [became(OFF, 1)], Where.MOUNTED),
        ([stood(State.SIGNED_OFF)], [became(Event.FAILED, 5, "one")], Where.MOUNTED),
        ([stood(State.WITHDRAWN)], [], Where.IN_STOCK),
        ([stood(State.REWORKED)], [], Where.REMOVED),
        ([stood(State.REWORKED, heated=False)], [], Where.IN_STOCK),
        ([stood(State.SCRAPPED)], [], Where.SCRAPPED),
        ([stood(State.SCRAPPED), stood(State.OPEN, 4, mounting="two")], [], Where.SCRAPPED),
        ([stood(State.SIGNED_OFF), stood(State.OPEN, 9, mounting="two")], [], Where.IN_A_MOUNTING),
        (
            [stood(State.SIGNED_OFF), stood(State.SIGNED_OFF, 9, mounting="two")],
            [became(OFF, 5, "one")],
            Where.MOUNTED,
        ),
        (
            [stood(State.SIGNED_OFF), stood(State.SIGNED_OFF, 9, mounting="two")],
            [became(OFF, 10, "two")],
            Where.REMOVED,
        ),
        ([stood(State.SIGNED_OFF), stood(State.WITHDRAWN, 9, mounting="two")], [], Where.MOUNTED),
        ([], [became(Event.QUARANTINED, 1)], Where.QUARANTINED),
        ([stood(State.OPEN)], [became(Event.QUARANTINED, 1)], Where.QUARANTINED),
        ([], [became(Event.QUARANTINED, 1), became(Event.CLEARED, 2)], Where.IN_STOCK),
        (
            [],
            [became(Event.CLEARED, 2), became(Event.QUARANTINED, 1), became(Event.QUARANTINED, 3)],
            Where.QUARANTINED,
        ),
        ([], [became(Event.QUARANTINED, 1), became(Event.SCRAPPED, 2)], Where.SCRAPPED),
        ([], [became(Event.SCRAPPED, 2), became(OFF, 3)], Where.SCRAPPED),
        ([], [became(Event.DELIVERED, 1)], Where.IN_STOCK),
    ],
)
def test_a_bearing_is_one_thing_at_a_time(places: list[Stood], events: list[Became], where: Where) -> None:
    assert where_is(places, events) == where
    assert where_is(reversed(places), reversed(events)) == where
