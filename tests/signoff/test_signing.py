"""Signing: over exactly what was shown, by who did not work, once; returns and telephone releases."""

from dataclasses import replace

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions.finishing import ready
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.signoff import actions as signoff
from qrecords.signoff.errors import (
    ChangedMeanwhileError,
    ReasonNeededError,
    UnknownFindingError,
    WrongCodeError,
)
from qrecords.signoff.models import Signature
from qrecords.steps.telephone import answer_code, readings_code, readings_of
from qrecords.steps.transitions import State, state_of
from tests.cast import Job, make_workshop, start
from tests.kept import once

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


@pytest.fixture
def performed() -> Job:
    """Everything up to the fitter's signature and the inspector's own reading."""
    return once(_performed)


def _performed() -> Job:
    job = start(make_workshop())
    job.until_signature()
    return job


def sign(job: Job, shown: list[str], who: str = "inspector") -> Entry:
    return signoff.sign(acting=job.shop.proved(who), mounting=job.mounting, entry_id=new_id(), shown=shown)


def shown_now(job: Job) -> list[str]:
    return signoff.shown_leaves(judged_now(job.mounting))


def test_what_came_between_seeing_and_signing_refuses_the_signature(performed: Job) -> None:
    shown = shown_now(performed)
    late = performed.say("running", reason="turned again", turns="heavy with grease")
    with pytest.raises(ChangedMeanwhileError) as caught:
        sign(performed, shown)
    assert caught.value.new_entries == (performed.leaf(late),)
    assert not Signature.objects.exists()


def test_a_signature_names_every_leaf_that_was_shown(performed: Job) -> None:
    shown = shown_now(performed)
    entry = sign(performed, shown)
    said = next(e for e in entries_of(performed.mounting.id) if e.id == entry.id).payload["body"]["said"]
    assert set(shown) <= set(said["leaves"])


def test_the_judgement_that_was_signed_is_kept_beside_the_signature(performed: Job) -> None:
    sign(performed, shown_now(performed))
    kept = [e for e in entries_of(performed.mounting.id) if e.kind == "judgement"][-1].payload
    assert kept["body"]["said"]["occasion"] == "sign-off"
    assert len(kept["versions"]["tables"]) == 64
    assert {f["verdict"] for f in kept["body"]["said"]["findings"]} == {"conforming"}


def test_signing_needs_identity_proved_again(performed: Job) -> None:
    with pytest.raises(ProveAgainError):
        signoff.sign(
            acting=performed.shop.acting("inspector"),
            mounting=performed.mounting,
            entry_id=new_id(),
            shown=shown_now(performed),
        )


@pytest.mark.parametrize("who", ["fitter", "engineer", "quality", "auditor", "administrator"])
def test_nobody_but_an_inspector_signs(performed: Job, who: str) -> None:
    with pytest.raises(NotAllowedError):
        sign(performed, shown_now(performed), who)


def test_a_signature_sent_twice_is_one(performed: Job) -> None:
    acting, entry_id, shown = performed.shop.proved("inspector"), new_id(), shown_now(performed)
    for _ in range(2):
        entry = signoff.sign(acting=acting, mounting=performed.mounting, entry_id=entry_id, shown=shown)
    assert entry.id == entry_id
    assert Signature.objects.count() == 1


def test_a_second_sign_off_is_refused(performed: Job) -> None:
    sign(performed, shown_now(performed))
    with pytest.raises(RefusedError):
        sign(performed, shown_now(performed))


def test_an_open_finding_refuses_the_signature(performed: Job) -> None:
    performed.say("running", reason="turned again", turns="rough")
    with pytest.raises(RefusedError) as caught:
        sign(performed, shown_now(performed))
    assert caught.value.code == "open-findings"


def test_a_returned_record_goes_back_item_by_item_and_comes_again(performed: Job) -> None:
    signoff.give_back(
        acting=performed.shop.acting("inspector"), mounting=performed.mounting, entry_id=new_id(),
        items=[("photo blade", "blurred: take it again")],
    )  # fmt: skip
    case = case_of(performed.mounting)
    assert state_of(case) == State.RETURNED
    assert case.returns[-1].items == (("photo blade", "blurred: take it again"),)
    performed.ready()
    sign(performed, shown_now(performed))
    assert state_of(case_of(performed.mounting)) == State.SIGNED_OFF


def test_a_return_without_a_reason_is_refused(performed: Job) -> None:
    with pytest.raises(ReasonNeededError):
        signoff.give_back(
            acting=performed.shop.acting("inspector"), mounting=performed.mounting, entry_id=new_id(),
            items=[("photo blade", " ")],
        )  # fmt: skip


def test_ready_sent_twice_is_one_signature(job: Job) -> None:
    job.receive()
    acting, entry_id = job.shop.proved("fitter"), new_id()
    first = ready(acting=acting, mounting=job.mounting, entry_id=entry_id)
    again = ready(acting=replace(acting), mounting=job.mounting, entry_id=entry_id)
    assert again.id == first.id
    assert len(case_of(job.mounting).signatures) == 1


def test_an_inspector_may_sign_in_on_the_fitters_tablet(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    acting = job.shop.acting("inspector", sender=job.shop.people["fitter"], identity="proved")
    entry = signoff.release(acting=acting, mounting=job.mounting, entry_id=new_id(), hold="fit")
    payload = next(e for e in entries_of(job.mounting.id) if e.id == entry.id).payload
    assert payload["author"]["person"] == str(job.shop.people["inspector"].id)
    assert payload["sender"]["person"] == str(job.shop.people["fitter"].id)


def test_a_release_by_telephone_is_named_by_the_code_read_back(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    case = case_of(job.mounting)
    readings = readings_of(case)
    released = signoff.release_by_telephone(
        acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(),
        code=readings_code(case.mounting, readings).lower(), lowest_nm=min(readings.values()),
        highest_nm=max(readings.values()),
    )  # fmt: skip
    job.tap("heater on", code=answer_code(job.leaf(released)))
    assert job.finding("fit released before heat").verdict == "conforming"


def test_a_code_heard_wrong_is_asked_again(job: Job) -> None:
    with pytest.raises(WrongCodeError):
        signoff.release_by_telephone(
            acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(), code="ABCDEFG",
            lowest_nm=1, highest_nm=2,
        )  # fmt: skip


def test_the_signature_names_the_judgement_that_was_signed(performed: Job) -> None:
    entry = sign(performed, shown_now(performed))
    every = entries_of(performed.mounting.id)
    judgement = next(e for e in every if e.payload["body"]["said"].get("occasion") == "sign-off")
    said = next(e for e in every if e.id == entry.id).payload["body"]["said"]
    assert judgement.leaf in said["leaves"]


def test_a_release_by_telephone_is_refused_while_the_readings_that_came_are_out(job: Job) -> None:
    job.receive()
    job.measure(readings={"A": ("48", "48", "48")})
    readings = readings_of(case_of(job.mounting))
    with pytest.raises(RefusedError):
        signoff.release_by_telephone(
            acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(),
            code=readings_code(str(job.mounting.id), readings), lowest_nm=min(readings.values()),
            highest_nm=max(readings.values()),
        )  # fmt: skip


def test_only_a_query_is_looked_at(job: Job) -> None:
    job.receive()
    with pytest.raises(UnknownFindingError):
        signoff.close_query(
            acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(),
            digest=job.finding("wiped-clean").digest, explanation="fine",
        )  # fmt: skip


def test_a_release_rests_on_nothing_that_the_page_did_not_show(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    shown = shown_now(job)
    job.say("measurement", reason="read again", journal__A__0=("20", "um from 60 mm"))
    with pytest.raises(ChangedMeanwhileError):
        signoff.release(
            acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(), hold="fit",
            shown=shown,
        )  # fmt: skip
