"""Amendments: a signed record changes only by a numbered one, with its reason, signed again by both roles."""

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.signoff.amending import amend
from qrecords.signoff.errors import ReasonNeededError
from qrecords.signoff.models import Signature
from qrecords.steps.amended import Changed
from qrecords.steps.transitions import State, state_of
from qrecords.tracing.agreement import differences
from qrecords.tracing.amendments import amendments_of
from qrecords.tracing.rebuilding import rebuild
from qrecords.tracing.record import record_of
from tests.cast import Job, again, make_workshop, start
from tests.kept import once

pytestmark = pytest.mark.django_db


def _signed() -> Job:
    job = start(make_workshop())
    job.whole()
    return job


@pytest.fixture
def signed() -> Job:
    return once(_signed)


def open_for(job: Job, who: str = "inspector", reason: str = "field was read on the yoke") -> Entry:
    return amend(acting=job.shop.proved(who), mounting=job.mounting, entry_id=new_id(), reason=reason)


def corrected(job: Job) -> None:
    """The residual field as it was read again, with its reason."""
    job.say("demagnetisation", reason="read again on the ring edge", field=("1.4", "A/cm"))


def signed_again(job: Job) -> None:
    """What was felt or measured cold anew is released anew."""
    job.release("cold")
    job.ready()
    job.sign()


def test_an_amendment_opens_a_signed_record_and_both_sign_it_again(signed: Job) -> None:
    open_for(signed)
    assert Mounting.objects.get().state == State.AMENDING
    corrected(signed)
    signed.release("cold")
    signed.ready()
    assert state_of(case_of(signed.mounting)) == State.READY
    signed.sign()
    case = case_of(signed.mounting)
    assert state_of(case) == State.SIGNED_OFF
    assert [(a.number, a.reason) for a in case.amendments] == [(1, "field was read on the yoke")]
    assert list(Signature.objects.order_by("amendment").values_list("amendment", flat=True)) == [0, 1]


def test_only_a_signed_record_is_amended() -> None:
    job = start(make_workshop())
    job.receive()
    with pytest.raises(RefusedError) as caught:
        open_for(job)
    assert caught.value.code == "not-signed-off"


def test_an_amendment_wants_its_reason_a_right_and_the_password(signed: Job) -> None:
    with pytest.raises(ReasonNeededError):
        open_for(signed, reason="  ")
    with pytest.raises(NotAllowedError):
        open_for(signed, who="fitter")
    with pytest.raises(ProveAgainError):
        amend(
            acting=signed.shop.acting("inspector"), mounting=signed.mounting, entry_id=new_id(), reason="why"
        )
    assert case_of(signed.mounting).amendments == ()


def test_one_that_is_being_made_is_not_opened_again(signed: Job) -> None:
    open_for(signed)
    with pytest.raises(RefusedError) as caught:
        open_for(signed, who="engineer")
    assert caught.value.code == "not-signed-off"


def test_without_an_amendment_a_signed_record_takes_no_fact_that_would_change_it(signed: Job) -> None:
    with pytest.raises(RefusedError) as caught:
        corrected(signed)
    assert caught.value.code == "closed"


def test_the_fitters_signature_from_before_does_not_count_for_the_amendment(signed: Job) -> None:
    open_for(signed)
    with pytest.raises(RefusedError) as caught:
        signed.sign()
    assert caught.value.code == "not-ready"


def test_who_worked_on_the_amendment_does_not_sign_it(signed: Job) -> None:
    """Independence holds for what comes with it as for all before."""
    from qrecords.people import actions as people
    from qrecords.people.permissions import Role

    shop = signed.shop
    people.grant_role(
        acting=shop.proved("administrator"), site=shop.site, grant_id=new_id(),
        person=shop.people["second_fitter"], role=Role.INSPECTOR,
    )  # fmt: skip
    open_for(signed)
    signed.say("running", "second_fitter", reason="turned again", turns="smooth")
    signed.ready("second_fitter")
    with pytest.raises(RefusedError) as caught:
        signed.sign("second_fitter")
    assert caught.value.code == "not-independent"


def test_it_may_be_returned_to_the_fitter_like_any_other(signed: Job) -> None:
    from qrecords.signoff.actions import give_back

    open_for(signed)
    signed.ready()
    give_back(
        acting=signed.shop.acting("inspector"), mounting=signed.mounting, entry_id=new_id(),
        items=[("residual field", "this one is the old value")],
    )  # fmt: skip
    assert state_of(case_of(signed.mounting)) == State.RETURNED


def test_both_versions_stay_readable(signed: Job) -> None:
    open_for(signed)
    corrected(signed)
    signed_again(signed)
    first, second = record_of(signed.mounting, 0), record_of(signed.mounting)
    typed = [
        record.signed and record.signed.value_of("demagnetisation", "field") for record in (first, second)
    ]
    assert [answered and answered.answer.typed for answered in typed] == ["0.9", "1.4"]  # type: ignore[union-attr]
    assert first.counting and second.counting
    fields = [
        next(f.value for f in each.counting.findings if f.rule == "residual-field")  # type: ignore[union-attr]
        for each in (first, second)
    ]
    assert fields == [113097, 175929]
    assert first.after_signature == () == second.after_signature
    with pytest.raises(IndexError):
        record_of(signed.mounting, 2)


def test_what_changed_is_told_against_the_version_before(signed: Job) -> None:
    open_for(signed)
    corrected(signed)
    (making,) = amendments_of(record_of(signed.mounting), judged_now(signed.mounting).findings)
    assert making.signed is None
    signed_again(signed)
    (made,) = amendments_of(record_of(signed.mounting), ())
    assert made.signed is not None
    change, released = made.changes
    assert (change.about, change.step, change.key) == (Changed.ANSWER, "demagnetisation", "field")
    assert (change.before, change.after) == ("0.9 A/cm", "1.4 A/cm")
    assert (released.about, released.key) == (Changed.RELEASE, "cold")
    assert making.changes[0] == change


def test_what_follows_for_the_findings_is_told_too(signed: Job) -> None:
    open_for(signed)
    signed.say("demagnetisation", reason="read again", field=("4", "A/cm"))
    (making,) = amendments_of(record_of(signed.mounting), judged_now(signed.mounting).findings)
    follows = [c for c in making.changes if c.about == Changed.FINDING]
    assert {(c.key, c.before, c.after) for c in follows} == {
        ("residual field", "conforming", "nonconforming"),
        ("cold check released", "conforming", "not proven"),
    }


def test_a_second_amendment_is_told_against_the_first(signed: Job) -> None:
    open_for(signed)
    corrected(signed)
    signed_again(signed)
    open_for(signed, reason="and the turning")
    signed.say("running", reason="grease spread", turns="heavy with grease")
    signed_again(signed)
    one, two = amendments_of(record_of(signed.mounting), ())
    assert (one.number, two.number) == (1, 2)
    assert [c.step for c in two.changes if c.about == Changed.ANSWER] == ["running"]


def test_what_is_filed_while_it_is_open_came_not_after_the_signature(signed: Job) -> None:
    signed.photograph("seat")
    open_for(signed)
    signed.photograph("probe")
    photos = {photo.shot: photo.after_signature for photo in case_of(signed.mounting).photos[-2:]}
    assert photos == {"seat": True, "probe": False}


def test_the_bearing_may_have_gone_on_since(signed: Job) -> None:
    """An amendment says what was; whatever became of the bearing, the record can be put right, and an open
    amendment keeps no other mounting from being worked on."""
    open_for(signed)
    later = again(
        signed.shop, signed.machine, signed.rebuild, "NDE", signed.journal.requirements.get().document
    )
    later.until_signature()
    signed_again(signed)
    assert state_of(case_of(signed.mounting)) == State.SIGNED_OFF


def test_indexes_and_rows_agree_with_the_entries(signed: Job) -> None:
    open_for(signed)
    corrected(signed)
    signed_again(signed)
    assert Mounting.objects.get().amendments == 1
    assert rebuild().same
    assert list(differences()) == []
