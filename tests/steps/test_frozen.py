"""The day of an act is its day where it was done."""

from datetime import UTC, date, datetime

from qrecords.steps.frozen import day_of

LATE_EVENING = datetime(2026, 12, 4, 23, 30, tzinfo=UTC)


def test_a_use_is_dated_by_the_day_that_was_frozen_in_the_zone_of_the_act() -> None:
    assert day_of({"days": ["2026-12-05", "2026-12-05"]}, LATE_EVENING) == date(2026, 12, 5)


def test_an_act_from_before_days_were_frozen_has_the_day_of_its_device() -> None:
    assert day_of({}, LATE_EVENING) == date(2026, 12, 4)
