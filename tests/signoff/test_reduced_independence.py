"""A shift without an inspector: a second fitter who is competent for it releases and signs, marked as reduced
independence, and an inspector who had no part in it looks again the next day."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from pytest_django.fixtures import DjangoAssertNumQueries

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import ChangedMeanwhileError, RefusedError
from qrecords.mountings.models import Mounting, TaskDone
from qrecords.mountings.queries import case_of, for_person
from qrecords.people import actions as people
from qrecords.people.competence import Range
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.people.models import Competence, RoleGrant
from qrecords.people.permissions import NEVER_BY_TOKEN, Action, Role, roles_with
from qrecords.proof.canonical import parse_canonical
from qrecords.signoff import actions as signoff
from qrecords.signoff import reviewing
from qrecords.signoff.amending import amend
from qrecords.signoff.errors import NotCompetentError, ReasonNeededError
from qrecords.signoff.queries import to_look_at_again
from qrecords.steps.reduced import review_due, review_of
from qrecords.steps.tasks import CONCEDE, SIGN, STAND_IN
from qrecords.steps.transitions import State, state_of
from qrecords.tracing.agreement import differences
from qrecords.tracing.rebuilding import rebuild
from tests.cast import Job, Workshop
from tests.kept import once
from tests.rights.night import WHY, night, release, stand_in_for, stood_in, to_sign

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """Said to be ready at night; who stands in has released both holds."""
    return once(to_sign)


@pytest.fixture
def signed() -> Job:
    """The same, signed by who stood in."""
    return once(stood_in)


def sign(job: Job, who: str = "second_fitter", alone: str = WHY, **changes: Any) -> Entry:
    said = {"acting": job.shop.proved(who), "entry_id": new_id(), "shown": job.shown()}
    return signoff.sign(mounting=job.mounting, alone=alone, **{**said, **changes})


def look(job: Job, who: str = "inspector", agreed: bool = True, words: str = "", **changes: Any) -> Entry:
    said = {"acting": job.shop.proved(who), "entry_id": new_id(), "shown": job.shown()}
    return reviewing.review(mounting=job.mounting, agreed=agreed, words=words, **{**said, **changes})


def seen(entry: Entry) -> dict[str, Any]:
    found: dict[str, Any] = parse_canonical(bytes(entry.payload))["body"]["seen"]
    return found


def test_the_signed_entry_says_why_and_by_when_it_is_looked_at_again(job: Job) -> None:
    entry = sign(job)
    assert seen(entry)["reduced"] == WHY and seen(entry)["competence"] == "held"
    tomorrow = (job.shop.clock + timedelta(days=1)).date()
    assert seen(entry)["review_by"] == tomorrow.isoformat()
    case = case_of(job.mounting)
    assert (state_of(case), review_due(case)) == (State.SIGNED_OFF, tomorrow)
    assert Mounting.objects.get(id=job.mounting.id).review_due == tomorrow
    assert TaskDone.objects.filter(person=job.shop.people["second_fitter"].id, task=STAND_IN).exists()
    assert list(differences()) == [] and rebuild().same


def test_who_stands_in_says_why_no_inspector_is_there(job: Job) -> None:
    with pytest.raises(ReasonNeededError):
        sign(job, alone="  ")
    assert state_of(case_of(job.mounting)) == State.READY


def test_who_stands_in_proves_himself_when_he_signs(job: Job) -> None:
    with pytest.raises(ProveAgainError):
        sign(job, acting=job.shop.acting("second_fitter"))


def test_the_role_alone_is_no_authority_without_the_competence(job: Job) -> None:
    Competence.objects.filter(task=STAND_IN).delete()
    with pytest.raises(NotCompetentError) as refused:
        sign(job)
    assert (refused.value.task, refused.value.state) == (STAND_IN, "none")


@pytest.mark.parametrize(
    ("changes", "state"),
    [
        ({"positions": ["NDE"]}, "none"),
        ({"kinds": ["tapered roller"]}, "none"),
        ({"to_mm": Decimal(50)}, "none"),
        ({"valid_to": date(2026, 3, 1)}, "lapsed"),
    ],
)
def test_the_competence_covers_position_kind_size_and_day(
    job: Job, changes: dict[str, Any], state: str
) -> None:
    Competence.objects.filter(task=STAND_IN).update(**changes)
    with pytest.raises(NotCompetentError) as refused:
        sign(job)
    assert refused.value.state == state


def test_the_competence_without_the_role_is_no_right(job: Job) -> None:
    RoleGrant.objects.filter(role=Role.STAND_IN.value).delete()
    with pytest.raises(NotAllowedError):
        sign(job)


def test_who_worked_on_it_does_not_stand_in(job: Job) -> None:
    stand_in_for(job.shop, "fitter")
    with pytest.raises(RefusedError) as refused:
        sign(job, "fitter")
    assert refused.value.code == "not-independent"


def test_an_inspector_is_never_marked_as_reduced(job: Job) -> None:
    entry = sign(job, "inspector", alone="")
    assert "reduced" not in seen(entry)
    assert review_due(case_of(job.mounting)) is None


def test_an_inspector_who_is_a_stand_in_elsewhere_signs_as_an_inspector(job: Job) -> None:
    stand_in_for(job.shop, "inspector")
    assert "reduced" not in seen(sign(job, "inspector", alone=""))


def test_the_releases_of_the_night_are_marked_too(job: Job) -> None:
    assert {(r.hold, r.reduced) for r in case_of(job.mounting).releases} == {("fit", WHY), ("cold", WHY)}


def test_an_inspector_looks_again_and_agrees(signed: Job) -> None:
    look(signed)
    case = case_of(signed.mounting)
    found = review_of(case)
    assert found and found.agreed and review_due(case) is None
    assert state_of(case) == State.SIGNED_OFF and case.unread == ()
    assert Mounting.objects.get(id=signed.mounting.id).review_due is None
    assert list(differences()) == [] and rebuild().same


def test_who_does_not_agree_says_why(signed: Job) -> None:
    with pytest.raises(ReasonNeededError):
        look(signed, agreed=False)
    look(signed, agreed=False, words="gap photo at 180° is missing")
    found = review_of(case_of(signed.mounting))
    assert found and not found.agreed and found.words == "gap photo at 180° is missing"


@pytest.mark.parametrize("who", ["second_fitter", "fitter"])
def test_nobody_looks_again_at_his_own(signed: Job, who: str) -> None:
    RoleGrant.objects.create(
        id=new_id(), person=signed.shop.people[who], role=Role.INSPECTOR.value, site=signed.shop.site,
        valid_from=signed.shop.clock,
    )  # fmt: skip
    with pytest.raises(RefusedError) as refused:
        look(signed, who)
    assert refused.value.code == "not-independent"


def test_it_is_looked_at_once_and_only_where_it_is_due(signed: Job) -> None:
    entry = look(signed)
    again = look(signed, entry_id=entry.id, shown=read_shown(entry))
    assert again.id == entry.id
    with pytest.raises(RefusedError) as refused:
        look(signed)
    assert refused.value.code == "nothing-to-review"


def test_what_is_signed_so_again_after_an_amendment_is_looked_at_again(signed: Job) -> None:
    look(signed)
    amend(
        acting=signed.shop.proved("inspector"), mounting=signed.mounting, entry_id=new_id(),
        reason="field was read on the yoke",
    )  # fmt: skip
    signed.say("demagnetisation", reason="read again on the ring edge", field=("1.4", "A/cm"))
    release(signed, "cold")
    signed.ready()
    assert review_due(case_of(signed.mounting)) is None
    sign(signed)
    case = case_of(signed.mounting)
    assert review_due(case) is not None and review_of(case) is None
    assert Mounting.objects.get(id=signed.mounting.id).review_due == review_due(case)
    look(signed)
    case = case_of(signed.mounting)
    assert review_due(case) is None and review_of(case) == case.reviews[1]
    assert list(differences()) == [] and rebuild().same


def read_shown(entry: Entry) -> Any:
    from qrecords.steps.shown import Extent

    said = parse_canonical(bytes(entry.payload))["body"]["said"]["shown"]
    return Extent(said["entries"], said["root"])


def test_what_came_since_the_page_was_shown_is_seen_first(job: Job) -> None:
    shown = job.shown()
    sign(job)
    with pytest.raises(ChangedMeanwhileError):
        look(job, shown=shown)


def test_only_an_inspector_looks_again_and_never_a_token() -> None:
    assert roles_with(Action.REVIEW) == (Role.INSPECTOR,) and Action.REVIEW in NEVER_BY_TOKEN


def test_waiting_lists_it_for_who_had_no_part_in_it(
    signed: Job, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    inspector = signed.shop.people["inspector"]
    rows = for_person(inspector, Action.REVIEW, signed.shop.clock)
    with django_assert_num_queries(1):
        assert [m.id for m in to_look_at_again(rows, inspector)] == [signed.mounting.id]
    assert to_look_at_again(rows, signed.shop.people["second_fitter"]) == []
    look(signed)
    assert to_look_at_again(rows, inspector) == []


def test_an_inspector_whose_recorded_competence_ran_out_does_not_sign(job: Job) -> None:
    competent(job.shop, "inspector", valid_to=date(2026, 3, 1))
    with pytest.raises(NotCompetentError) as refused:
        sign(job, "inspector", alone="")
    assert (refused.value.task, refused.value.state) == (SIGN, "lapsed")
    competent(job.shop, "inspector")
    assert seen(sign(job, "inspector", alone=""))["competence"] == "held"


def test_an_inspector_whose_eyesight_test_ran_out_neither_releases_nor_signs(job: Job) -> None:
    people.record_eyesight(
        acting=job.shop.acting("quality"), site=job.shop.site, eyesight_id=new_id(),
        person=job.shop.people["inspector"], tested_on=date(2024, 1, 1), valid_to=date(2026, 1, 1),
    )  # fmt: skip
    with pytest.raises(NotCompetentError) as refused:
        sign(job, "inspector", alone="")
    assert (refused.value.task, refused.value.until) == ("eyesight", date(2026, 1, 1))
    with pytest.raises(NotCompetentError):
        job.release("cold")


def competent(shop: Workshop, who: str, who_assesses: str = "engineer", **changes: Any) -> None:
    said: dict[str, Any] = {
        "task": SIGN, "basis": "training", "from_mm": Decimal(10), "to_mm": Decimal(400),
        "valid_from": date(2025, 9, 1), "valid_to": date(2030, 1, 1), "range": Range(),
    }  # fmt: skip
    people.assess(
        acting=shop.acting("quality"), site=shop.site, competence_id=new_id(), person=shop.people[who],
        assessor=shop.people[who_assesses], **{**said, **changes},
    )  # fmt: skip


def test_a_night_begins_with_a_sound_job() -> None:
    assert once(night).flags() == {}


def test_an_engineer_whose_recorded_competence_ran_out_concedes_nothing() -> None:
    from tests.rights.scenes import doubtful

    job = once(doubtful)
    competent(job.shop, "engineer", task=CONCEDE, valid_to=date(2026, 3, 1), who_assesses="quality")
    with pytest.raises(NotCompetentError) as refused:
        job.decide("concession", "journal size", who="engineer", reason="gap proven")
    assert (refused.value.task, refused.value.state) == (CONCEDE, "lapsed")
