"""Signing: over exactly what was shown, by who did not work, once; returns and telephone releases."""

from dataclasses import replace
from datetime import timedelta

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions.finishing import ready
from qrecords.mountings.errors import ChangedMeanwhileError, RefusedError
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.proof import merkle
from qrecords.signoff import actions as signoff
from qrecords.signoff.errors import (
    ReasonNeededError,
    UnknownFindingError,
    WrongCodeError,
)
from qrecords.signoff.models import Signature
from qrecords.steps.shown import Extent
from qrecords.steps.telephone import readings_code, readings_of
from qrecords.steps.transitions import State, state_of
from tests.cast import REQUIREMENT, Job, again, make_workshop, start
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


def sign(job: Job, shown: Extent, who: str = "inspector") -> Entry:
    return signoff.sign(acting=job.shop.proved(who), mounting=job.mounting, entry_id=new_id(), shown=shown)


def test_what_came_between_seeing_and_signing_refuses_the_signature(performed: Job) -> None:
    shown = performed.shown()
    late = performed.say("running", reason="turned again", turns="heavy with grease")
    with pytest.raises(ChangedMeanwhileError) as caught:
        sign(performed, shown)
    assert caught.value.new_entries == (str(late.id),)
    assert not Signature.objects.exists()


def test_a_signature_covers_the_entries_that_were_shown_by_their_number_and_root(performed: Job) -> None:
    leaves = [e.leaf for e in entries_of(performed.mounting.id)]
    entry = sign(performed, performed.shown())
    said = next(e for e in entries_of(performed.mounting.id) if e.id == entry.id).payload["body"]["said"]
    root = merkle.root(bytes.fromhex(leaf) for leaf in leaves).hex()
    assert said["shown"] == {"entries": len(leaves), "root": root}


def test_the_judgement_that_was_signed_is_kept_beside_the_signature(performed: Job) -> None:
    sign(performed, performed.shown())
    kept = [e for e in entries_of(performed.mounting.id) if e.kind == "judgement"][-1].payload
    assert kept["body"]["said"]["occasion"] == "sign-off"
    assert len(kept["versions"]["tables"]) == 64
    assert {f["verdict"] for f in kept["body"]["seen"]["findings"]} == {"conforming"}


def test_signing_needs_identity_proved_again(performed: Job) -> None:
    with pytest.raises(ProveAgainError):
        signoff.sign(
            acting=performed.shop.acting("inspector"),
            mounting=performed.mounting,
            entry_id=new_id(),
            shown=performed.shown(),
        )


@pytest.mark.parametrize("who", ["fitter", "engineer", "quality", "auditor", "administrator"])
def test_nobody_but_an_inspector_signs(performed: Job, who: str) -> None:
    with pytest.raises(NotAllowedError):
        sign(performed, performed.shown(), who)


def test_a_signature_sent_twice_is_one(performed: Job) -> None:
    acting, entry_id, shown = performed.shop.proved("inspector"), new_id(), performed.shown()
    for _ in range(2):
        entry = signoff.sign(acting=acting, mounting=performed.mounting, entry_id=entry_id, shown=shown)
    assert entry.id == entry_id
    assert Signature.objects.count() == 1


def test_a_second_sign_off_is_refused(performed: Job) -> None:
    sign(performed, performed.shown())
    with pytest.raises(RefusedError):
        sign(performed, performed.shown())


def test_an_open_finding_refuses_the_signature(performed: Job) -> None:
    performed.say("running", reason="turned again", turns="rough")
    with pytest.raises(RefusedError) as caught:
        sign(performed, performed.shown())
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
    sign(performed, performed.shown())
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
    shown = job.shown()
    first = ready(acting=acting, mounting=job.mounting, entry_id=entry_id, shown=shown)
    second = ready(acting=replace(acting), mounting=job.mounting, entry_id=entry_id, shown=shown)
    assert second.id == first.id
    assert len(case_of(job.mounting).signatures) == 1


def test_an_inspector_may_sign_in_on_the_fitters_tablet(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.own_reading()
    acting = job.shop.acting("inspector", sender=job.shop.people["fitter"], identity="proved")
    entry = signoff.release(
        acting=acting, mounting=job.mounting, entry_id=new_id(), hold="fit", shown=job.shown()
    )
    payload = next(e for e in entries_of(job.mounting.id) if e.id == entry.id).payload
    assert payload["author"]["person"] == str(job.shop.people["inspector"].id)
    assert payload["sender"]["person"] == str(job.shop.people["fitter"].id)


def test_a_release_by_telephone_is_named_by_the_code_read_back(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.tap("heater on", code=job.release_by_telephone())
    assert job.finding("fit released before heat").verdict == "conforming"


def test_a_code_heard_wrong_is_asked_again(job: Job) -> None:
    with pytest.raises(WrongCodeError):
        signoff.release_by_telephone(
            acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(), code="ABCDEFG",
            lowest_nm=1, highest_nm=2,
        )  # fmt: skip


def test_the_judgement_of_the_signature_names_it_as_its_cause_and_stands_before_it(performed: Job) -> None:
    entry = sign(performed, performed.shown())
    every = entries_of(performed.mounting.id)
    judgement = next(e for e in every if e.payload["body"]["said"].get("occasion") == "sign-off")
    assert judgement.payload["body"]["said"]["cause"] == str(entry.id)
    assert every[-1].id == entry.id


def test_what_another_record_says_since_ready_is_seen_before_it_is_signed(performed: Job) -> None:
    """The other end is measured while the inspector reads: what it says may be a query nobody has seen."""
    shown = performed.shown()
    again(performed.shop, performed.machine, performed.rebuild, "NDE", REQUIREMENT).measure()
    with pytest.raises(ChangedMeanwhileError):
        sign(performed, shown)
    assert case_of(performed.mounting).elsewhere.other_end is not None
    sign(performed, performed.shown())
    assert state_of(case_of(performed.mounting)) == State.SIGNED_OFF


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
    shown = job.shown()
    job.say("measurement", reason="read again", journal__A__0=("20", "um from 60 mm"))
    with pytest.raises(ChangedMeanwhileError):
        signoff.release(
            acting=job.shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(), hold="fit",
            shown=shown,
        )  # fmt: skip


def test_the_time_of_a_signature_is_the_receipts_whatever_a_device_says(performed: Job) -> None:
    acting = performed.shop.proved("inspector")
    ahead = replace(acting, at_device=acting.now + timedelta(days=400))
    entry = signoff.sign(
        acting=ahead, mounting=performed.mounting, entry_id=new_id(), shown=performed.shown()
    )
    signed = next(e for e in entries_of(performed.mounting.id) if e.id == entry.id).payload
    assert signed["at_device"] is None
    assert case_of(performed.mounting).signatures[-1].at == acting.now
