"""Decisions and releases: by whom, about what, for how long; and each sent twice is one."""

from collections.abc import Callable

import pytest

from qrecords.ledger.append import receipt
from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.queries import case_of
from qrecords.people import actions as people
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.people.permissions import Role
from qrecords.signoff import actions as signoff
from qrecords.signoff.errors import NotAmongDecisionsError, ReasonNeededError, UnknownFindingError
from qrecords.signoff.models import Decision, Release
from qrecords.steps.telephone import readings_code, readings_of
from qrecords.steps.transitions import State, standing_release, state_of, undecided
from tests.cast import JOURNAL_UM, Job, make_workshop, start

pytestmark = pytest.mark.django_db
OVER = {**JOURNAL_UM, "B": ("34", "33", "33")}
"""A journal 60 m6 (+11…+30) that is 4 µm over in one plane: before heat it is ground, conceded never."""
TOO_CLOSE = dict.fromkeys("ABC", ("31", "31", "31"))
"""One that no micrometer here tells from its upper limit: the engineer may concede it."""
UM = "um from 60 mm"


@pytest.fixture
def job() -> Job:
    """Too close to its upper limit to call, waiting at the hold; C4, so clearance is left."""
    job = start(make_workshop(), designation="6212 C4", clearance_group="4")
    job.receive()
    job.measure(readings=TOO_CLOSE)
    job.bore()
    return job


def also(job: Job, who: str, role: Role) -> None:
    """Give a person of the cast one more role."""
    people.grant_role(
        acting=job.shop.proved("administrator"), site=job.shop.site, grant_id=new_id(),
        person=job.shop.people[who], role=role,
    )  # fmt: skip


def refused(act: Callable[[], object]) -> str:
    with pytest.raises(RefusedError) as caught:
        act()
    return caught.value.code


def test_a_hold_is_not_released_while_its_findings_are_open(job: Job) -> None:
    assert job.flags() == {"journal size": "not proven"}
    assert refused(job.release) == "open-findings"
    assert not Release.objects.exists()


def test_a_concession_settles_its_finding_and_leaves_it_readable(job: Job) -> None:
    job.decide("concession", "journal size")
    job.release()
    assert job.finding("journal size").verdict == "not proven"
    assert job.finding("journal size") not in undecided(case_of(job.mounting), job.findings().values())


@pytest.mark.parametrize("kind", ["rework", "measure again"])
def test_what_is_to_be_done_again_settles_nothing(kind: str) -> None:
    job = start(make_workshop(), designation="6212 C4", clearance_group="4")
    job.measure(readings=dict.fromkeys("ABC", ("33", "33", "33")))
    job.decide(kind, "journal size")
    assert refused(job.release) == "open-findings"


def test_a_later_reading_reopens_what_was_decided_and_voids_the_release(job: Job) -> None:
    job.decide("concession", "journal size")
    job.release()
    job.say("measurement", reason="read again", journal__A__0=("34", UM))
    case = case_of(job.mounting)
    assert standing_release(case, "fit") is None
    assert job.finding("journal size") in undecided(case, job.findings().values())
    assert refused(job.release) == "open-findings"


def test_who_authored_a_reading_grants_no_concession_that_rests_on_it(job: Job) -> None:
    job.say("measurement", who="engineer", check=True, reason="measured myself", journal__A__0=("31", UM))
    assert refused(lambda: job.decide("concession", "journal size")) == "own-reading"
    also(job, "second_fitter", Role.ENGINEER)
    job.decide("concession", "journal size", who="second_fitter")


def test_a_check_does_not_bar_its_author_from_releasing(job: Job) -> None:
    sound = {f"journal__{plane}__{at}": ("18", UM) for plane in "ABC" for at in ("0", "60", "120")}
    job.say("measurement", who="inspector", check=True, reason="re-measured after regrinding", **sound)
    job.release()
    assert standing_release(case_of(job.mounting), "fit") is not None


@pytest.mark.parametrize("role", [Role.INSPECTOR, Role.ENGINEER])
def test_who_worked_neither_releases_nor_decides_whatever_his_other_roles(job: Job, role: Role) -> None:
    also(job, "fitter", role)
    if role == Role.INSPECTOR:
        assert refused(lambda: job.release(who="fitter")) == "not-independent"
    assert refused(lambda: job.decide("measure again", "journal size", who="fitter")) == "not-independent"


def test_a_concession_needs_the_engineer_and_his_identity_proved_again(job: Job) -> None:
    with pytest.raises(NotAllowedError):
        job.decide("concession", "journal size", who="inspector")
    with pytest.raises(ProveAgainError):
        signoff.decide(
            acting=job.shop.acting("engineer"), mounting=job.mounting, entry_id=new_id(), kind="concession",
            digests=[job.finding("journal size").digest], reason="stress checked",
        )  # fmt: skip


def test_only_what_the_rule_allows_is_decided_about_a_finding(job: Job) -> None:
    with pytest.raises(NotAmongDecisionsError) as caught:
        job.decide("accept", "journal size", who="inspector")
    assert caught.value.may == ("measure again", "concession")


def test_a_decision_about_numbers_that_no_longer_stand_is_refused(job: Job) -> None:
    old = job.finding("journal size").digest
    job.say("measurement", reason="read again", journal__A__0=("34", UM))
    with pytest.raises(UnknownFindingError):
        signoff.decide(
            acting=job.shop.proved("engineer"), mounting=job.mounting, entry_id=new_id(), kind="concession",
            digests=[old], reason="stress checked",
        )  # fmt: skip


def test_nothing_is_decided_without_a_reason(job: Job) -> None:
    with pytest.raises(ReasonNeededError):
        job.decide("concession", "journal size", reason="  ")
    assert not Decision.objects.exists()


def test_one_decision_may_answer_findings_with_one_cause() -> None:
    job = start(make_workshop())
    job.measure(readings=OVER)
    job.decide("rework", "journal size", "journal taper")
    job.say("preparation", wiped="no", gear_ready="no")
    job.decide("concession", "wiped-clean", "gear-ready")
    assert undecided(case_of(job.mounting), [job.finding("wiped-clean"), job.finding("gear-ready")]) == []


def test_a_query_is_closed_by_who_looked_and_blocks_no_release() -> None:
    job = start(make_workshop())
    job.receive()
    job.say("identification", reason="looked closer", package="opened")
    job.measure()
    job.bore()
    assert job.flags() == {"package-intact": "query"}
    job.release()
    digest = job.finding("package-intact").digest
    signoff.close_query(
        acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(), digest=digest,
        explanation="opened by the store to count",
    )  # fmt: skip
    assert case_of(job.mounting).looked == {digest: "opened by the store to count"}


def test_a_closed_mounting_takes_no_further_decision_or_release(job: Job) -> None:
    digest = job.finding("journal size").digest
    job.tap("dropped")
    job.decide("scrap", "not dropped")
    assert state_of(case_of(job.mounting)) == State.SCRAPPED
    assert refused(job.release) == "closed"
    again = {"kind": "rework", "digests": [digest], "reason": "after all"}
    assert refused(
        lambda: signoff.decide(
            acting=job.shop.proved("engineer"), mounting=job.mounting, entry_id=new_id(), **again  # type: ignore[arg-type]
        )
    ) == "closed"  # fmt: skip


def _release(job: Job) -> Callable[..., Entry]:
    job.decide("concession", "journal size")
    job.own_reading()
    acting, shown = job.shop.acting("inspector"), job.shown()
    return lambda entry_id, hold="fit": signoff.release(
        acting=acting, mounting=job.mounting, entry_id=entry_id, hold=hold, shown=shown
    )


def _telephone(job: Job) -> Callable[..., Entry]:
    job.decide("concession", "journal size")
    acting, readings = job.shop.acting("inspector"), readings_of(case_of(job.mounting))
    code = readings_code(str(job.mounting.id), readings)
    low, high = min(readings.values()), max(readings.values())
    return lambda entry_id, lowest_nm=low: signoff.release_by_telephone(
        acting=acting, mounting=job.mounting, entry_id=entry_id, code=code, lowest_nm=lowest_nm,
        highest_nm=high,
    )  # fmt: skip


def _decide(job: Job) -> Callable[..., Entry]:
    acting, digest = job.shop.proved("engineer"), job.finding("journal size").digest
    return lambda entry_id, reason="stress checked": signoff.decide(
        acting=acting, mounting=job.mounting, entry_id=entry_id, kind="concession", digests=[digest],
        reason=reason,
    )  # fmt: skip


def _look(job: Job) -> Callable[..., Entry]:
    job.say("identification", reason="looked closer", package="opened")
    acting, digest = job.shop.acting("fitter"), job.finding("package-intact").digest
    return lambda entry_id, explanation="the store": signoff.close_query(
        acting=acting, mounting=job.mounting, entry_id=entry_id, digest=digest, explanation=explanation
    )


def _return(job: Job) -> Callable[..., Entry]:
    job.ready()
    acting = job.shop.acting("inspector")
    return lambda entry_id, items=(("photo blade", "blurred"),): signoff.give_back(
        acting=acting, mounting=job.mounting, entry_id=entry_id, items=items
    )


ACTS = {
    "release": (_release, {"hold": "cold"}),
    "telephone": (_telephone, {"lowest_nm": 1}),
    "decision": (_decide, {"reason": "hardness measured"}),
    "looked": (_look, {"explanation": "the carrier"}),
    "return": (_return, {"items": (("photo blade", "dark"),)}),
}


@pytest.mark.parametrize("act", ACTS)
def test_an_act_sent_twice_gives_the_first_receipt_though_its_precondition_has_changed(
    job: Job, act: str
) -> None:
    send = ACTS[act][0](job)
    entry_id = new_id()
    send(entry_id)
    first, before = receipt(entry_id), Entry.objects.count()
    send(entry_id)
    assert receipt(entry_id) == first
    assert Entry.objects.count() == before


@pytest.mark.parametrize("act", ACTS)
def test_another_act_under_the_same_id_is_refused(job: Job, act: str) -> None:
    make, otherwise = ACTS[act]
    send = make(job)
    entry_id = new_id()
    send(entry_id)
    with pytest.raises(DifferentContentError):
        send(entry_id, **otherwise)


def test_the_findings_of_the_moment_are_kept_beside_a_decision(job: Job) -> None:
    finding = job.finding("journal size")
    job.decide("concession", "journal size")
    kept = [e for e in Entry.objects.filter(subject=job.mounting.id) if e.kind == "judgement"]
    assert len(kept) == 1
    assert finding.digest.encode() in bytes(kept[0].payload)
    assert judged_now(job.mounting).case.decisions[0].digests == {finding.digest}
