"""What becomes of a bearing after its mounting: facts stand as they are said, authority is refused where
what it takes for granted is not so."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from pytest_django.fixtures import DjangoAssertNumQueries

from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.actions import bearing_life as life
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.bearings import where_are, whereabouts
from qrecords.mountings.errors import BarredBearingError, BearingStateError, RefusedError
from qrecords.mountings.models import BearingEvent, Mounting
from qrecords.people.errors import NotAllowedError
from qrecords.people.permissions import Role
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.bearing_life import Where
from qrecords.tracing.agreement import differences
from qrecords.workshop import material_actions
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.models import Bearing
from tests.cast import MORNING, Job, Workshop, make_workshop, start
from tests.kept import once
from tests.rights.scenes import given

pytestmark = pytest.mark.django_db
TODAY = MORNING.date()
PULLED = "pulled on the inner ring"


def _signed() -> Job:
    job = start(make_workshop())
    job.whole()
    return job


@pytest.fixture
def job() -> Job:
    """A bearing that is on its shaft, signed off."""
    return once(_signed)


def removed(job: Job, who: str = "fitter", **changes: Any) -> BearingEvent:
    said: dict[str, Any] = {
        "acting": job.shop.acting(who), "entry_id": new_id(), "bearing": job.bearing, "on": TODAY,
        "why": "runs hot", "method": PULLED, "kept": "bag 12", "journal": job.journal,
    }  # fmt: skip
    return life.remove(**{**said, **changes})


def acted(job: Job, act: Callable[..., BearingEvent], who: str = "inspector", **changes: Any) -> BearingEvent:
    said = {"acting": job.shop.acting(who), "entry_id": new_id(), "bearing": job.bearing, "on": TODAY}
    return act(**{**said, "why": "as decided", **changes})


def where(job: Job) -> Where:
    return whereabouts(job.bearing.id).where


def body(row: BearingEvent) -> Any:
    return parse_canonical(bytes(Entry.objects.get(id=row.id).payload))["body"]


def test_a_removal_ends_the_mounting_it_is_of_and_says_how_it_came_off(job: Job) -> None:
    assert where(job) == Where.MOUNTED
    row = removed(job, seen=life.Seen("ring-turned-on-shaft", "blue band, bore polished"), by="J. Pell")
    assert (row.mounting_id, row.damage, row.journal_id) == (
        job.mounting.id,
        "ring-turned-on-shaft",
        job.journal.id,
    )
    assert body(row)["seen"] == {"mounting": str(job.mounting.id)}
    assert body(row)["said"]["method"] == PULLED and body(row)["said"]["kept"] == "bag 12"
    assert where(job) == Where.REMOVED
    assert list(differences()) == []


def test_a_removal_from_another_place_than_the_record_knows_is_a_fact_and_ends_no_mounting(job: Job) -> None:
    other = start(job.shop, position="NDE")
    row = removed(job, journal=other.journal)
    assert row.mounting_id is None
    assert where(job) == Where.REMOVED


def test_the_same_removal_sent_again_is_the_same_and_another_under_its_id_is_refused(job: Job) -> None:
    row = removed(job)
    again = removed(job, entry_id=row.id)
    assert again.id == row.id and BearingEvent.objects.count() == 1
    with pytest.raises(DifferentContentError):
        removed(job, entry_id=row.id, why="another reason")


def test_a_bearing_that_no_record_knows_is_registered_and_linked_to_what_takes_its_place(job: Job) -> None:
    new = start(job.shop, position="NDE")
    row = life.remove_old(
        acting=job.shop.acting("fitter"), entry_id=new_id(), bearing_id=new_id(),
        marks={"designation": "6212", "serial": "OLD 7"}, on=TODAY, why="worn", method="not known",
        for_mounting=new.mounting, journal=new.journal, seen=life.Seen("none of these", "cannot be told"),
    )  # fmt: skip
    assert (row.for_mounting_id, row.mounting_id) == (new.mounting.id, None)
    assert Bearing.objects.get(serial="OLD 7").id == row.bearing_id
    assert whereabouts(row.bearing_id).where == Where.REMOVED
    assert list(differences()) == []


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"why": " "}, "why"),
        ({"method": "by magic"}, "method"),
        ({"on": TODAY + timedelta(days=2)}, "on"),
        ({"kept": "x" * 81}, "kept"),
        ({"seen": life.Seen("rusty")}, "damage"),
        ({"seen": life.Seen("rust", "two\nlines")}, "looks"),
    ],
)
def test_what_yields_nothing_is_asked_back_by_its_field(job: Job, changes: Any, field: str) -> None:
    with pytest.raises(RegisterFieldError) as asked:
        removed(job, **changes)
    assert asked.value.field == field
    assert not BearingEvent.objects.exists()


def test_a_failure_freezes_which_mounting_it_is_of(job: Job) -> None:
    said = {"what": "seized", "by": "the owner", "ran": "3 100 h", "seen": life.Seen("heat-cracks")}
    row = life.fail(
        acting=job.shop.acting("quality"), entry_id=new_id(), bearing=job.bearing, on=TODAY, **said
    )
    assert body(row)["seen"] == {"mounting": str(job.mounting.id), "where": "mounted"}
    assert row.mounting_id == job.mounting.id and where(job) == Where.MOUNTED
    assert list(differences()) == []


def test_whoever_doubts_sets_aside_and_an_inspector_ends_it(job: Job) -> None:
    acted(job, life.set_aside, "fitter", kept="cage 2")
    assert where(job) == Where.QUARANTINED
    with pytest.raises(NotAllowedError):
        acted(job, life.clear, "fitter")
    acted(job, life.clear, "inspector")
    assert where(job) == Where.MOUNTED
    with pytest.raises(BearingStateError) as refused:
        acted(job, life.clear, "inspector")
    assert (refused.value.act, refused.value.where) == ("cleared", "mounted")
    assert list(differences()) == []


def test_a_bearing_is_scrapped_when_it_is_off_and_not_before(job: Job) -> None:
    with pytest.raises(BearingStateError) as refused:
        acted(job, life.scrap)
    assert (refused.value.where, refused.value.number) == ("mounted", job.mounting.number)
    removed(job)
    with pytest.raises(NotAllowedError):
        acted(job, life.scrap, "fitter")
    row = acted(job, life.scrap, "engineer", why="raceway brinelled")
    assert body(row)["seen"] == {"where": "removed"}
    assert where(job) == Where.SCRAPPED
    assert acted(job, life.scrap, "engineer", entry_id=row.id, why="raceway brinelled").id == row.id
    with pytest.raises(BearingStateError):
        acted(job, life.scrap, "engineer", why="twice")
    assert list(differences()) == []


@pytest.mark.parametrize("act", [life.clear, life.scrap])
def test_who_worked_on_a_mounting_of_it_neither_clears_nor_scraps_it(
    job: Job, act: Callable[..., BearingEvent]
) -> None:
    """Whatever roles he was given since; what somebody else decided can be sent again."""
    removed(job)
    acted(job, life.set_aside, "second_fitter")
    for who in ("fitter", "second_fitter"):
        given(job, who, Role.INSPECTOR, Role.ENGINEER)
    with pytest.raises(RefusedError) as refused:
        acted(job, act, "fitter")
    assert refused.value.code == "not-independent" and where(job) == Where.QUARANTINED
    row = acted(job, act, "second_fitter")
    assert acted(job, act, "second_fitter", entry_id=row.id).id == row.id


def test_a_bearing_of_a_mounting_that_goes_on_is_decided_there(job: Job) -> None:
    open_ = start(job.shop, position="NDE")
    with pytest.raises(BearingStateError) as refused:
        acted(open_, life.scrap)
    assert refused.value.where == "in a mounting"


def test_a_delivery_is_named_where_the_note_alone_does_not_say_it(job: Job) -> None:
    delivery = material_actions.deliver(
        acting=job.shop.acting("fitter"), site=job.shop.site, delivery_id=new_id(), supplier="Corvane",
        note="LS-4471", order="P-88", on=date(2026, 2, 1),
        lines=[{"designation": "6212 C3", "lot": "L-9", "quantity": 6}],
    )  # fmt: skip
    row = life.delivered(
        acting=job.shop.acting("fitter"), entry_id=new_id(), bearing=job.bearing, delivery=delivery, on=TODAY
    )
    assert row.delivery == delivery and where(job) == Where.MOUNTED
    assert list(differences()) == []


def test_nothing_is_said_across_sites(job: Job) -> None:
    other = start(job.shop, position="NDE")
    other.journal.site = new_id()
    with pytest.raises(UnknownObjectError):
        removed(job, journal=other.journal)


@pytest.mark.parametrize("count", [1, 40])
def test_where_many_bearings_are_is_two_queries(
    job: Job, count: int, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    ids = [stock(job.shop).id for _ in range(count)] + [job.bearing.id]
    with django_assert_num_queries(2):
        found = where_are(ids)
    assert [found[id].where for id in ids] == [Where.IN_STOCK] * count + [Where.MOUNTED]


def stock(shop: Workshop) -> Bearing:
    return Bearing.objects.create(id=new_id(), site=shop.site, designation="6212")


def test_a_bearing_that_was_scrapped_after_it_came_off_cannot_come_back(job: Job) -> None:
    other = start(job.shop, position="NDE")
    removed(job)
    acted(job, life.scrap)
    for barred in (lambda: opened_with(other, job.bearing), lambda: released(other, job.bearing)):
        with pytest.raises(BarredBearingError) as refused:
            barred()
        assert str(refused.value).startswith("this bearing was scrapped after it came off")


def test_a_bearing_that_is_set_aside_goes_on_only_when_somebody_cleared_it(job: Job) -> None:
    other = start(job.shop, position="NDE")
    removed(job)
    acted(job, life.set_aside, "fitter")
    with pytest.raises(BearingStateError):
        opened_with(other, job.bearing)
    acted(job, life.clear)
    assert opened_with(other, job.bearing).bearing == job.bearing


def opened_with(other: Job, bearing: Bearing) -> Mounting:
    return open_mounting(
        acting=other.shop.acting("fitter"), mounting_id=new_id(), journal=other.journal, bearing=bearing,
        rebuild=other.rebuild,
    )  # fmt: skip


def released(other: Job, bearing: Bearing) -> Entry:
    """The other place, as if this bearing had been opened there before it was scrapped."""
    other.receive()
    other.measure()
    other.bore()
    Mounting.objects.filter(id=other.mounting.id).update(bearing=bearing)
    other.mounting.refresh_from_db()
    return other.release("fit")
