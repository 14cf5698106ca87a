"""A second attempt is a second mounting: linked to the first, which stays as it was."""

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.errors import BarredBearingError, RefusedError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.steps.granting import Saying
from qrecords.steps.transitions import State, state_of
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import Bearing
from tests.cast import REQUIREMENT, Job, make_workshop, start
from tests.cast import again as another
from tests.papers import paper

pytestmark = pytest.mark.django_db


def cocked(peak_c: str = "95") -> Job:
    """Pressed too short and gaping on one side: on the shaft, checked cold."""
    job = start(make_workshop())
    job.receive()
    job.measure()
    job.bore()
    job.heat(release=job.leaf(job.release("fit")), press_s=20, peak_c=peak_c)
    job.check_cold(at_90="0.05", at_180="0.08", at_270="0.03")
    return job


def reworked() -> Job:
    job = cocked()
    job.decide("rework", "shoulder gap", "pressed home", who="inspector", reason="pull, heat again, hold")
    return job


def once_more(job: Job, bearing: Bearing | None = None) -> Job:
    mounting = open_mounting(
        acting=job.shop.acting("fitter"), mounting_id=new_id(), journal=job.journal,
        bearing=bearing or job.bearing, rebuild=job.rebuild,
    )  # fmt: skip
    return Job(job.shop, mounting, job.machine, job.journal, job.rebuild, bearing or job.bearing)


def heated_again(job: Job, **cold: str) -> Job:
    again = once_more(job)
    again.receive()
    again.measure()
    again.bore()
    again.heat(release=again.leaf(again.release("fit")))
    again.check_cold(**cold)
    return again


def heatings(job: Job) -> tuple[int | str, str]:
    job.ready()
    finding = job.finding("heatings of this bearing")
    return finding.facts["number"], finding.verdict.value


def test_taking_the_ring_off_closes_the_first_and_the_second_is_linked_to_it() -> None:
    first = reworked()
    second = once_more(first)
    assert state_of(case_of(first.mounting)) == State.REWORKED
    assert second.mounting.attempt_of == first.mounting
    assert second.mounting.number > first.mounting.number
    assert case_of(second.mounting).opened["attempt_of"] == str(first.mounting.id)


def test_the_first_takes_no_more_facts_and_keeps_those_it_has() -> None:
    first = reworked()
    before = case_of(first.mounting)
    with pytest.raises(RefusedError):
        first.say("shoulder_gap", reason="after pressing on", gap__180=("0", "mm"))
    with pytest.raises(RefusedError):
        first.tap("heater on")
    heated_again(first)
    assert case_of(first.mounting).leaves == before.leaves
    assert first.flags() == {"pressed home": "not proven", "shoulder gap": "nonconforming"}


def test_nothing_of_the_first_is_taken_over_into_the_second() -> None:
    second = once_more(reworked())
    case = case_of(second.mounting)
    assert (case.answers, case.taps, case.releases, case.worked_by) == ({}, (), (), frozenset())


def test_the_second_heating_of_a_bearing_is_counted_and_sound_once_the_field_was_measured_again() -> None:
    first = cocked()
    assert heatings(first) == (1, "conforming")
    first.decide("rework", "shoulder gap", who="inspector", reason="pull")
    assert heatings(heated_again(first)) == (2, "conforming")


def test_the_third_heating_asks_the_engineer() -> None:
    first = reworked()
    second = heated_again(first, at_180="0.08")
    second.decide("rework", "shoulder gap", who="inspector", reason="pull once more")
    third = heated_again(second)
    assert heatings(third) == (3, "nonconforming")
    assert third.mounting.attempt_of == second.mounting


def test_another_bearing_begins_with_its_first_heating() -> None:
    first = reworked()
    new = workshop.register_bearing(
        acting=first.shop.acting("fitter"), site=first.shop.site, bearing_id=new_id(), designation="6212 C3"
    )
    second = once_more(first, new)
    second.measure()
    second.heat()
    assert heatings(second) == (1, "conforming")


def test_a_scrapped_bearing_does_not_come_back() -> None:
    first = cocked()
    first.decide("scrap", "shoulder gap", who="inspector", reason="cage bent in pulling")
    with pytest.raises(BarredBearingError) as caught:
        once_more(first)
    assert caught.value.number == first.mounting.number
    assert Mounting.objects.count() == 1


def test_a_revised_drawing_binds_the_second_and_not_the_first() -> None:
    first = reworked()
    document = {
        **first.mounting.journal.requirements.get().document,
        "revision": "D",
        "clearance_group": "4",
        "group_source": "note 2",
    }
    workshop.require_of_journal(
        acting=first.shop.acting("engineer"),
        requirement_id=new_id(),
        journal=first.journal,
        document=document,
    )
    second = once_more(first)
    asked = [case_of(job.mounting).requirement for job in (first, second)]
    assert [(r.revision, r.clearance_group) for r in asked] == [("C", "3"), ("D", "4")]


def test_opening_sent_twice_is_one_mounting() -> None:
    job = start(make_workshop())
    again = open_mounting(
        acting=job.shop.acting("fitter"), mounting_id=job.mounting.id, journal=job.journal,
        bearing=job.bearing, rebuild=job.rebuild,
    )  # fmt: skip
    assert again == job.mounting
    assert Mounting.objects.count() == 1


def pull(job: Job) -> None:
    job.decide("rework", "shoulder gap", who="inspector", reason="pull, heat again")


def test_an_overheated_ring_is_decided_before_a_rework_closes_its_mounting() -> None:
    job = cocked(peak_c="140")
    with pytest.raises(RefusedError, match="peak temperature") as caught:
        pull(job)
    assert caught.value.code == "ring-undecided"
    assert state_of(case_of(job.mounting)) == State.OPEN
    paper(job, "heating-curve")
    seen = Saying(states=frozenset({"no-temper-colour"}))
    job.decide("concession", "peak temperature", reason="hardness 61 HRC measured", saying=seen)
    pull(job)
    assert state_of(case_of(job.mounting)) == State.REWORKED


@pytest.mark.parametrize(
    ("step", "field", "answer", "about"),
    [
        ("seating", "dropped", "yes", "not dropped"),
        ("seating", "hammered", "yes", "not-hammered"),
        ("heating", "probe", "outer ring", "probe-on-inner-ring"),
    ],
)
def test_whatever_only_scrap_or_a_concession_answers_keeps_a_rework_from_closing(
    step: str, field: str, answer: str, about: str
) -> None:
    job = cocked()
    job.say(step, reason="now told", **{field: answer})
    with pytest.raises(RefusedError, match=about):
        pull(job)


def test_what_nobody_told_of_a_heated_ring_is_told_before_it_is_pulled_for_rework() -> None:
    job = start(make_workshop())
    job.measure()
    job.heat(press_s=20)
    job.say("shoulder_gap", gap__90=("0.05", "mm"))
    with pytest.raises(RefusedError, match="not dropped; not-hammered"):
        pull(job)


def test_before_heat_nothing_the_ring_went_through_is_missing_but_a_fall_counts() -> None:
    job = start(make_workshop(), **WITHOUT_CLEARANCE)
    too_tight(job)
    fallen = start_again(job)
    job.decide("rework", "clearance forecast", who="inspector", reason="take the C3 bearing")
    assert state_of(case_of(job.mounting)) == State.REWORKED
    fallen.tap("dropped")
    with pytest.raises(RefusedError, match="not dropped"):
        fallen.decide("rework", "clearance forecast", who="inspector", reason="take the C3 bearing")


def start_again(job: Job) -> Job:
    """The other end of the shaft, with as tight a ring at hand."""
    other = another(job.shop, job.machine, job.rebuild, "NDE", REQUIREMENT | WITHOUT_CLEARANCE)
    too_tight(other)
    return other


WITHOUT_CLEARANCE = {"designation": "6212", "clearance_group": "N"}


def too_tight(job: Job) -> None:
    """A fit inside its class that leaves a bearing of the normal group no clearance."""
    job.measure(readings=dict.fromkeys("ABC", ("28", "28", "28")))
    job.bore()
