"""Taps: never refused for their order, undone for ten seconds by who made them."""

import uuid
from datetime import timedelta

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.tapping import undo
from qrecords.mountings.errors import RefusedError, TooLateToUndoError, UnknownTapError
from qrecords.mountings.queries import case_of
from tests.cast import Job, make_workshop, start

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


@pytest.mark.parametrize("what", ["home", "let go", "lifted off", "heater on", "stuck", "dropped"])
def test_a_tap_is_recorded_whatever_came_before(job: Job, what: str) -> None:
    job.tap(what)
    assert [tap.what for tap in case_of(job.mounting).taps] == [what]


def test_a_tap_that_is_none_is_refused_with_those_that_are(job: Job) -> None:
    with pytest.raises(UnknownTapError) as caught:
        job.tap("hammered")
    assert "heater on" in caught.value.known


def test_a_tap_is_struck_out_and_stays_in_the_ledger(job: Job) -> None:
    tap = job.tap("heater on")
    undo(acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(), tap_id=tap.id)
    case = case_of(job.mounting)
    assert case.taps == ()
    assert str(tap.id) in case.order


def test_after_ten_seconds_a_tap_is_a_fact(job: Job) -> None:
    tap = job.tap("heater on")
    job.shop.clock += timedelta(seconds=10)
    with pytest.raises(TooLateToUndoError):
        undo(acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(), tap_id=tap.id)


def test_nobody_undoes_somebody_elses_tap(job: Job) -> None:
    tap = job.tap("heater on")
    with pytest.raises(TooLateToUndoError):
        undo(acting=job.shop.acting("second_fitter"), mounting=job.mounting, entry_id=new_id(), tap_id=tap.id)


def test_a_second_fitter_may_tap_for_the_first(job: Job) -> None:
    job.tap("heater on")
    job.tap("lifted off", who="second_fitter")
    assert len(case_of(job.mounting).worked_by) == 2


def test_a_clock_set_back_does_not_make_an_old_tap_undoable(job: Job) -> None:
    tap = job.tap("dropped")
    made = job.shop.clock
    job.shop.clock += timedelta(days=9)
    acting = job.shop.acting("fitter", at_device=made + timedelta(seconds=5))
    with pytest.raises(TooLateToUndoError):
        undo(acting=acting, mounting=job.mounting, entry_id=new_id(), tap_id=tap.id)


def test_an_undo_sent_twice_is_one(job: Job) -> None:
    tap = job.tap("heater on")
    acting, entry_id = job.shop.acting("fitter"), new_id()
    for _ in range(2):
        entry = undo(acting=acting, mounting=job.mounting, entry_id=entry_id, tap_id=tap.id)
    assert entry.id == entry_id


def test_a_tap_of_a_signed_record_is_not_struck_out(job: Job) -> None:
    job.whole()
    tap = case_of(job.mounting).taps[-1]
    with pytest.raises(RefusedError):
        undo(
            acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(),
            tap_id=uuid.UUID(tap.entry),
        )  # fmt: skip
