"""Acts at the points of the contract, and holds of a procedure's own, on a real mounting."""

from datetime import timedelta

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.actions.pointing import AtPoint, say_at_point
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError
from qrecords.people.permissions import NEVER_BY_TOKEN, Action, Role
from qrecords.proof.canonical import parse_canonical
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from tests.cast import Job
from tests.rights.scenes import given
from tests.workshop.drafts import pointed

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return pointed()


def say(job: Job, what: str, by: str = "fitter", point: str = "visit", **said: object) -> Entry:
    told = {"who": "E. Marlow", "how": "telephone", **said}
    return say_at_point(
        acting=job.shop.acting(by), mounting=job.mounting, entry_id=new_id(), point=point,
        said=AtPoint(what=what, **told),  # type: ignore[arg-type]
    )  # fmt: skip


def waits(job: Job) -> str:
    return Mounting.objects.get(id=job.mounting.id).waits


def test_who_was_told_when_and_how_stands_in_the_record(job: Job) -> None:
    entry = say(job, "notified", at=job.shop.clock - timedelta(minutes=5))
    payload = parse_canonical(bytes(entry.payload))
    assert payload["body"]["said"] == {
        "point": "visit", "what": "notified", "who": "E. Marlow", "how": "telephone",
        "at": (job.shop.clock - timedelta(minutes=5, seconds=10)).isoformat(),
    }  # fmt: skip
    (act,) = case_of(job.mounting).points
    assert (act.what, act.who, act.author) == ("notified", "E. Marlow", str(job.shop.people["fitter"].id))


@pytest.mark.parametrize(
    ("what", "said", "field"),
    [
        ("notified", {"who": " "}, "who"),
        ("notified", {"how": ""}, "how"),
        ("looked at", {}, "what"),
        ("flew by", {}, "what"),
        ("taken back", {"instead_of": new_id()}, "reason"),
    ],
)
def test_what_is_missing_is_asked_back_by_its_field(
    job: Job, what: str, said: dict[str, object], field: str
) -> None:
    before = Entry.objects.count()
    with pytest.raises(RegisterFieldError) as refused:
        say(job, what, **said)
    assert (refused.value.field, Entry.objects.count()) == (field, before)


def test_what_is_to_come_is_asked_back(job: Job) -> None:
    with pytest.raises(RegisterFieldError, match="a moment that has been"):
        say(job, "notified", at=job.shop.clock + timedelta(hours=1))


def test_a_point_that_the_procedure_has_not_is_unknown(job: Job) -> None:
    with pytest.raises(UnknownObjectError):
        say(job, "notified", point="nobodys")


def test_a_waiver_is_an_act_of_the_inspector_or_engineer_with_its_reason(job: Job) -> None:
    assert Action.WAIVE in NEVER_BY_TOKEN
    with pytest.raises(NotAllowedError):
        say(job, "waived", reason="seen on the last shaft")
    with pytest.raises(RegisterFieldError, match="reason"):
        say(job, "waived", "inspector")
    entry = say(job, "waived", "inspector", reason="seen on the last shaft")
    assert parse_canonical(bytes(entry.payload))["at_device"] is None
    assert job.finding("Fit seen").message == "witness-told.waived"


def test_who_worked_on_it_waives_nothing(job: Job) -> None:
    given(job, "fitter", Role.INSPECTOR)
    say(job, "waived", reason="nothing was done yet")
    job.receive()
    before = Entry.objects.count()
    with pytest.raises(RefusedError) as refused:
        say(job, "waived", reason="seen on the last shaft")
    assert (refused.value.refusal.code, Entry.objects.count()) == ("not-independent", before)
    assert job.finding("Fit seen").message == "witness-told.not-entered"


def test_what_was_said_by_mistake_is_taken_back_with_why_and_stays(job: Job) -> None:
    entry = say(job, "waived", "inspector", reason="seen on the last shaft")
    with pytest.raises(NotAllowedError):
        say(job, "taken back", instead_of=entry.id, reason="another shaft")
    say(job, "taken back", "engineer", instead_of=entry.id, reason="another shaft")
    (act,) = case_of(job.mounting).points
    assert (act.what, act.taken_back) == ("waived", "another shaft")
    assert job.finding("Fit seen").message == "witness-told.not-entered"
    with pytest.raises(UnknownObjectError):
        say(job, "taken back", "engineer", instead_of=entry.id, reason="again")


def test_the_same_said_again_is_a_replay(job: Job) -> None:
    id, said = new_id(), AtPoint(what="came", who="E. Marlow")
    entries = {
        say_at_point(
            acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=id, point="visit", said=said
        ).id
        for _ in range(2)
    }
    assert (entries, len(case_of(job.mounting).points)) == ({id}, 1)


def test_a_hold_of_the_procedures_own_waits_is_released_and_voided(job: Job) -> None:
    assert waits(job) == ""
    job.receive()
    assert waits(job) == "identity"
    with pytest.raises(RefusedError) as refused:
        job.release("identity")
    assert refused.value.refusal.code == "own-reading-missing"
    job.own_reading()
    job.say("identification", reason="looked closer", package="opened")
    with pytest.raises(RefusedError) as refused:
        job.release("identity")
    assert refused.value.refusal.code == "open-findings"
    job.say("identification", reason="it was the label", package="intact")
    entry = job.release("identity")
    assert waits(job) == ""
    assert Mounting.objects.get(id=job.mounting.id).released == "identity"
    named = set(parse_canonical(bytes(entry.payload))["body"]["seen"]["captures"])
    assert named == set(case_of(job.mounting).standing_captures("identity"))
    assert job.finding("Identity").verdict == "conforming"
    job.say("identification", lot="L-78")
    assert job.finding("Identity").message == "hold-released.voided"
    assert waits(job) == "identity"


def test_work_that_passed_the_hold_is_recorded_and_told(job: Job) -> None:
    job.receive()
    job.measure()
    assert job.finding("Identity").message == "hold-released.passed"


def test_a_hold_that_the_procedure_has_not_is_not_released(job: Job) -> None:
    job.own_reading()
    with pytest.raises(UnknownObjectError):
        job.release("lift-plan")


def test_a_record_is_signed_once_its_points_are_settled(job: Job) -> None:
    job.receive()
    job.own_reading()
    job.release("identity")
    say(job, "notified")
    job.shop.clock += timedelta(minutes=61)
    job.measure()
    say(job, "did not come")
    job.bore()
    say(job, "looked at", "inspector", point="papers", how="readings and certificate")
    flags = {name for name in ("Identity", "Fit seen", "Papers") if name in job.flags()}
    assert flags == set()
    say(job, "came")
    messages = {name: job.finding(name).message for name in ("Identity", "Fit seen", "Papers")}
    assert messages == {
        "Identity": "hold-released.conforming",
        "Fit seen": "witness-told.came",
        "Papers": "documents-reviewed.conforming",
    }
