"""The release of a rebuild: refused while anything of it is open, given once, over exactly what was shown."""

from datetime import timedelta

import pytest

from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions import bearing_life as life
from qrecords.mountings.errors import ChangedMeanwhileError, RefusedError
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.people.permissions import Action, Role
from qrecords.proof.canonical import parse_canonical
from qrecords.signoff.models import RebuildRelease
from qrecords.signoff.rebuild_actions import release_rebuild
from qrecords.signoff.rebuild_queries import (
    entries_beyond,
    ready_for_release,
    shown_of_rebuild,
    with_standing,
)
from qrecords.steps.shown import NOTHING, Extent
from qrecords.tracing.agreement import differences
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Rebuild
from tests.cast import MORNING, Job
from tests.rights.scenes import given
from tests.signoff.rebuilt import bare_place, other_end, release, signed_rebuild

pytestmark = pytest.mark.django_db


def refused(job: Job, **how: object) -> str:
    with pytest.raises(RefusedError) as caught:
        release(job, **how)  # type: ignore[arg-type]
    assert not RebuildRelease.objects.exists()
    return caught.value.code


def content(entry: Entry) -> dict[str, object]:
    found: dict[str, object] = parse_canonical(bytes(entry.payload))["body"]
    return found


def test_with_every_mounting_signed_off_it_is_released_and_says_what_it_rests_on() -> None:
    job = signed_rebuild()
    entry = release(job, remark="both covers on")
    body = content(entry)
    signature = next(
        said.leaf for said in entries_of(job.mounting.id)
        if said.kind == "signature" and said.payload["body"]["said"]["meaning"] == "inspected"
    )  # fmt: skip
    assert body["said"] == {
        "shown": shown_of_rebuild(job.rebuild).document(), "left_out": [], "remark": "both covers on"
    }  # fmt: skip
    (place,) = body["seen"]["places"]  # type: ignore[index]
    assert (place["number"], place["signature"]) == (job.mounting.number, signature)
    assert with_standing(Rebuild.objects.all()).get().standing == "released"
    assert list(differences()) == []


def test_a_mounting_that_is_open_or_not_signed_keeps_it_back() -> None:
    job = signed_rebuild()
    other = other_end(job)
    assert refused(job) == "mountings-open"
    other.until_signature()
    assert refused(job) == "mountings-open"
    other.sign()
    assert release(job)


def test_an_undecided_finding_keeps_it_back() -> None:
    job = signed_rebuild()
    other = other_end(job)
    other.receive()
    other.measure(readings=dict.fromkeys("ABC", ("48", "48", "48")))
    assert refused(job) == "mountings-open"


def test_a_place_without_a_mounting_is_mounted_or_left_out_with_its_reason() -> None:
    job = signed_rebuild()
    place = bare_place(job)
    assert refused(job) == "places-without-mounting"
    entry = release(job, left_out={place.id: "sleeve bearing, not of this order"})
    assert content(entry)["said"]["left_out"] == [  # type: ignore[index]
        {"journal": str(place.id), "reason": "sleeve bearing, not of this order"}
    ]


def test_a_place_whose_ring_was_scrapped_is_not_left_out() -> None:
    job = signed_rebuild()
    other = other_end(job)
    other.receive()
    other.measure(readings=dict.fromkeys("ABC", ("48", "48", "48")))
    other.tap("dropped")
    other.decide("scrap", "not dropped")
    assert refused(job) == "places-without-mounting"
    assert refused(job, left_out={other.journal.id: "later"}) == "left-out-but-mounted"


def standing(job: Job) -> str:
    return str(with_standing(Rebuild.objects.filter(id=job.rebuild.id)).get().standing)


def test_a_bearing_that_was_taken_off_since_its_sign_off_keeps_it_back() -> None:
    job = signed_rebuild()
    assert standing(job) == "ready to be released"
    life.remove(
        acting=job.shop.acting("fitter"), entry_id=new_id(), bearing=job.bearing, on=MORNING.date(),
        why="runs hot", method="pressed off", journal=job.journal,
    )  # fmt: skip
    assert standing(job) == "open"
    assert refused(job) == "bearing-not-on"


def test_a_bearing_in_quarantine_keeps_it_back_until_that_is_ended() -> None:
    job = signed_rebuild()
    said = {"bearing": job.bearing, "on": MORNING.date(), "why": "its lot is in doubt"}
    life.set_aside(acting=job.shop.acting("fitter"), entry_id=new_id(), **said)  # type: ignore[arg-type]
    assert standing(job) == "open"
    assert refused(job) == "bearing-not-on"
    job.shop.clock += timedelta(minutes=5)
    life.clear(acting=job.shop.acting("inspector"), entry_id=new_id(), **said)  # type: ignore[arg-type]
    assert standing(job) == "ready to be released"
    assert release(job)


def test_what_was_opened_by_mistake_and_withdrawn_does_not_count() -> None:
    from qrecords.mountings.actions.finishing import withdraw

    job = signed_rebuild()
    other = other_end(job)
    withdraw(acting=job.shop.acting("fitter"), mounting=other.mounting, entry_id=new_id(), reason="wrong end")
    assert refused(job) == "places-without-mounting"
    assert release(job, left_out={other.journal.id: "no bearing there"})


def test_a_reason_that_says_nothing_is_asked_back() -> None:
    job = signed_rebuild()
    place = bare_place(job)
    with pytest.raises(RegisterFieldError):
        release(job, left_out={place.id: "a\nb"})


def test_a_journal_of_another_machine_is_no_place_of_it() -> None:
    job, elsewhere = signed_rebuild(), new_id()
    assert refused(job, left_out={elsewhere: "not ours"}) == "left-out-but-mounted"


def test_before_anything_is_signed_there_is_nothing_to_release() -> None:
    job = signed_rebuild()
    other = Job(**vars(job))
    from qrecords.workshop import actions as workshop

    other.rebuild = workshop.open_rebuild(
        acting=job.shop.acting("fitter"), rebuild_id=new_id(), machine=job.machine, work_order="WO-2002"
    )
    assert refused(other) == "nothing-mounted"


def test_who_worked_on_one_of_its_mountings_does_not_release_it() -> None:
    job = signed_rebuild()
    given(job, "fitter", Role.INSPECTOR)
    assert refused(job, who="fitter") == "worked-on-rebuild"
    assert ready_for_release(job.shop.people["fitter"], Rebuild.objects.all()) == []
    assert [r.id for r in ready_for_release(job.shop.people["inspector"], Rebuild.objects.all())] == [
        job.rebuild.id
    ]


def test_it_is_proved_again_and_never_by_token_and_needs_the_right() -> None:
    job = signed_rebuild()
    told = {
        "rebuild": job.rebuild,
        "entry_id": new_id(),
        "shown": shown_of_rebuild(job.rebuild),
        "left_out": {},
    }
    with pytest.raises(ProveAgainError):
        release_rebuild(acting=job.shop.acting("inspector"), **told)  # type: ignore[arg-type]
    with pytest.raises(NotAllowedError):
        release(job, who="engineer")
    by_token = job.shop.acting("inspector", identity="proved", token_actions=frozenset({Action.READ}))
    with pytest.raises(NotAllowedError):
        release_rebuild(acting=by_token, **told)  # type: ignore[arg-type]


@pytest.mark.parametrize("shown", [NOTHING, Extent(3, "0" * 64)])
def test_what_was_not_shown_is_not_released(shown: Extent) -> None:
    job = signed_rebuild()
    with pytest.raises(ChangedMeanwhileError):
        release(job, shown=shown)


def test_what_came_since_the_page_is_shown_first() -> None:
    job = signed_rebuild()
    before = shown_of_rebuild(job.rebuild)
    job.photograph("seat")
    with pytest.raises(ChangedMeanwhileError) as caught:
        release(job, shown=before)
    assert caught.value.new_entries


def test_sent_twice_it_is_given_once_and_a_second_one_is_refused() -> None:
    job, id = signed_rebuild(), new_id()
    first = release(job, entry_id=id)
    assert release(job, entry_id=id).id == first.id
    with pytest.raises(DifferentContentError):
        release(job, entry_id=id, remark="another")
    with pytest.raises(RefusedError) as caught:
        release(job)
    assert caught.value.code == "rebuild-released"
    assert RebuildRelease.objects.count() == 1


def test_what_comes_later_lies_beyond_the_release() -> None:
    job = signed_rebuild()
    shown = shown_of_rebuild(job.rebuild)
    release(job, shown=shown)
    assert entries_beyond(job.rebuild, shown) == []
    job.photograph("seat")
    later = other_end(job)
    beyond = entries_beyond(job.rebuild, shown)
    assert beyond[-1] == later.mounting.id and len(beyond) == 2
    assert with_standing(Rebuild.objects.all()).get().standing == "released"
