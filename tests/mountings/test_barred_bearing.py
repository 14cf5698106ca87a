"""One bearing is mounted in one place at a time, and never again once it was scrapped."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connections

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions import opening
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.errors import BarredBearingError, BearingElsewhereError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.signoff import actions as signoff
from qrecords.steps.transitions import State, state_of
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import Bearing, Journal
from tests.cast import REQUIREMENT, Job, make_workshop, start
from tests.cast import again as another_end


def place(job: Job, position: str) -> Journal:
    """Another journal of the same shaft, ready to be mounted on."""
    acting = job.shop.acting("fitter")
    journal = workshop.register_journal(
        acting=acting, journal_id=new_id(), machine=job.machine, shaft="1", position=position
    )
    workshop.require_of_journal(acting=acting, requirement_id=new_id(), journal=journal, document=REQUIREMENT)
    return journal


def onto(job: Job, journal: Journal, bearing: Bearing) -> Job:
    mounting = open_mounting(
        acting=job.shop.acting("fitter"), mounting_id=new_id(), journal=journal, bearing=bearing,
        rebuild=job.rebuild,
    )  # fmt: skip
    return Job(job.shop, mounting, job.machine, journal, job.rebuild, bearing)


def measured(job: Job) -> Job:
    job.receive()
    job.measure()
    job.bore()
    return job


@pytest.fixture
def job(db: None) -> Job:
    return measured(start(make_workshop()))


@pytest.fixture
def twice(job: Job, monkeypatch: pytest.MonkeyPatch) -> Job:
    """The same bearing on the other end, as it could be opened before this was refused."""
    with monkeypatch.context() as before:
        before.setattr(opening, "refuse_opening", lambda *_: None)
        return measured(onto(job, place(job, "NDE"), job.bearing))


def test_a_bearing_that_is_being_mounted_is_not_taken_for_another_place(job: Job) -> None:
    with pytest.raises(BearingElsewhereError, match="close or withdraw that one first") as caught:
        onto(job, place(job, "NDE"), job.bearing)
    assert caught.value.number == job.mounting.number
    assert Mounting.objects.count() == 1


def test_after_a_signed_rebuild_a_bearing_may_be_used_again(job: Job) -> None:
    Mounting.objects.filter(id=job.mounting.id).update(state=State.SIGNED_OFF.value)
    assert onto(job, place(job, "NDE"), job.bearing).mounting.state == State.OPEN


def test_a_second_attempt_with_the_same_ring_waits_for_the_first_to_be_closed(job: Job) -> None:
    job.heat(release=job.leaf(job.release()))
    job.check_cold(at_90="0.05")
    second = measured(onto(job, job.journal, job.bearing))
    with pytest.raises(BearingElsewhereError, match=job.mounting.number):
        second.release()
    job.decide("rework", "shoulder gap", who="inspector", reason="pulled")
    second.release()


ACTS: dict[str, Callable[[Job], object]] = {
    "release": lambda job: job.release(),
    "release by telephone": lambda job: signoff.release_by_telephone(
        acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(), code="ABCD-EFGH",
        lowest_nm=1, highest_nm=2,
    ),
    "ready": lambda job: job.ready(),
}  # fmt: skip


@pytest.mark.parametrize("act", ACTS.values(), ids=list(ACTS))
def test_a_ring_in_two_live_mountings_is_released_and_said_ready_in_neither(
    job: Job, twice: Job, act: Callable[[Job], object], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(signoff, "is_code", lambda _: True)
    for one, other in ((job, twice), (twice, job)):
        with pytest.raises(BearingElsewhereError) as caught:
            act(one)
        assert caught.value.number == other.mounting.number


def test_facts_of_both_are_taken_all_the_same(job: Job, twice: Job) -> None:
    for each in (job, twice):
        each.heat()
        each.check_cold()
        assert case_of(each.mounting).taps


def test_a_ring_scrapped_in_one_is_signed_in_no_other(job: Job, twice: Job) -> None:
    twice.tap("dropped")
    job.heat()
    job.check_cold()
    twice.decide("scrap", "not dropped", who="inspector", reason="fell on concrete")
    for act in (job.release, job.ready, job.sign):
        with pytest.raises(BarredBearingError) as caught:
            act()
        assert caught.value.number == twice.mounting.number
    assert state_of(case_of(job.mounting)) == State.OPEN


def test_two_who_open_at_once_get_one_mounting(own_database: str) -> None:
    shop = make_workshop()
    job = start(shop)
    other = another_end(shop, job.machine, job.rebuild, "NDE", REQUIREMENT)
    Mounting.objects.filter(id=job.mounting.id).update(state=State.WITHDRAWN.value)
    Mounting.objects.filter(id=other.mounting.id).update(state=State.WITHDRAWN.value)
    actings = [shop.acting("fitter"), shop.acting("second_fitter")]

    def opened(n: int) -> bool:
        try:
            open_mounting(
                acting=actings[n], mounting_id=new_id(), journal=(job, other)[n].journal,
                bearing=job.bearing, rebuild=job.rebuild,
            )  # fmt: skip
        except BearingElsewhereError:
            return False
        finally:
            connections.close_all()
        return True

    with ThreadPoolExecutor(2) as pool:
        assert sorted(pool.map(opened, range(2))) == [False, True]
