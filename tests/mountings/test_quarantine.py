"""A bearing set aside is neither opened nor mounted; one that fell is cleared on a laboratory's report."""

from datetime import date

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.bearing_life import clear, set_aside
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.bearings import whereabouts
from qrecords.mountings.errors import BearingStateError, LaboratoryError
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError
from qrecords.steps.bearing_life import Where
from qrecords.steps.transitions import State, state_of
from tests.cast import Job, make_workshop, start
from tests.papers import paper

pytestmark = pytest.mark.django_db
ON = date(2026, 3, 2)


def open_again(job: Job) -> None:
    open_mounting(
        acting=job.shop.acting("fitter"), mounting_id=new_id(), journal=job.journal, bearing=job.bearing,
        rebuild=job.rebuild,
    )  # fmt: skip


def cleared(job: Job, who: str) -> None:
    clear(acting=job.shop.proved(who), entry_id=new_id(), bearing=job.bearing, on=ON, why="looked into")


def test_a_decision_sets_the_bearing_aside_and_it_is_opened_no_more_until_it_is_cleared() -> None:
    job = start(make_workshop())
    job.say("identification", marking="6212")
    job.decide("quarantine", "ring marking", who="inspector", reason="not the drawing's")
    assert state_of(case_of(job.mounting)) == State.REWORKED
    assert whereabouts(job.bearing.id).where == Where.QUARANTINED
    with pytest.raises(BearingStateError):
        open_again(job)
    cleared(job, "inspector")
    open_again(job)


def test_work_goes_on_with_a_bearing_set_aside_and_no_authority_does() -> None:
    job = start(make_workshop())
    job.receive()
    job.measure()
    job.bore()
    set_aside(acting=job.shop.acting("fitter"), entry_id=new_id(), bearing=job.bearing, on=ON, why="origin")
    job.say("measurement", reason="read again", journal__A__0=("18", "um from 60 mm"))
    with pytest.raises(BearingStateError):
        job.release()


def test_one_that_fell_is_cleared_by_the_engineer_with_the_laboratorys_report() -> None:
    job = start(make_workshop())
    job.measure()
    job.tap("dropped")
    job.decide("quarantine", "not dropped", who="inspector", reason="fell on concrete")
    with pytest.raises(NotAllowedError):
        cleared(job, "inspector")
    with pytest.raises(LaboratoryError):
        cleared(job, "engineer")
    paper(job, "laboratory-report")
    cleared(job, "engineer")
    assert whereabouts(job.bearing.id).where != Where.QUARANTINED
