"""From one thing to all that share it, and from a damage to what its mounting says of the suspects."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django.fixtures import DjangoAssertNumQueries

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions import bearing_life as life
from qrecords.mountings.actions.parts import use_part
from qrecords.mountings.models import NameRead
from qrecords.mountings.queries import for_person
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.steps.damage import BY_ID, DAMAGES
from qrecords.tracing.record import record_of
from qrecords.tracing.search_beside import Beside, beside
from qrecords.tracing.shared import SHARED, Touched, shared, span_of, touched
from qrecords.tracing.suspects import suspects
from qrecords.tracing.words import words_of
from qrecords.workshop import material_actions as materials
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import Bearing, Delivery, Part
from tests.cast import MORNING, Job, make_workshop, start
from tests.kept import once

pytestmark = pytest.mark.django_db
DAY = MORNING.date()


@dataclass
class Ends:
    """Two machines of one owner: one mounting whole, one only begun."""

    whole: Job
    begun: Job

    def __iter__(self) -> Iterator[Job]:
        return iter((self.whole, self.begun))


def _two() -> Ends:
    whole = start(make_workshop())
    whole.whole()
    begun = start(whole.shop, position="NDE")
    begun.receive()
    return Ends(whole, begun)


@pytest.fixture
def ends() -> Ends:
    return once(_two)


def among(job: Job, what: str, of: object) -> set[str]:
    rows = for_person(job.shop.people["auditor"], Action.TRACE, job.shop.clock)
    return set(shared(rows, what, str(of)).values_list("number", flat=True))


def a_part(job: Job, **changes: str) -> Part:
    said = {"kind": "lubricant", "name": "NLGI 2 lithium", "lot": "B-0417", **changes}
    return materials.register_part(
        acting=job.shop.acting("fitter"), site=job.shop.site, part_id=new_id(), **said
    )


def a_delivery(job: Job, note: str = "LS-1", order: str = "P-88") -> Delivery:
    return materials.deliver(
        acting=job.shop.acting("fitter"), site=job.shop.site, delivery_id=new_id(), supplier="Corvane",
        note=note, order=order, on=date(2026, 2, 1),
        lines=[{"designation": "6212 C3", "lot": "L-9", "quantity": 2}],
    )  # fmt: skip


def test_a_lot_is_shared_by_order_or_as_it_was_read(ends: Ends) -> None:
    whole, begun = ends
    Bearing.objects.filter(id=whole.bearing.id).update(lot="L-9")
    begun.say("identification", lot="l-9")
    assert among(whole, "lot", "L-9") == {whole.mounting.number, begun.mounting.number}
    assert among(whole, "lot", "L-8") == set()


def test_a_delivery_is_shared_by_its_number_or_because_somebody_said_so(ends: Ends) -> None:
    whole, begun = ends
    one, other = a_delivery(whole), a_delivery(whole, note="LS-2", order="P-99")
    Bearing.objects.filter(id__in=(whole.bearing.id, begun.bearing.id)).update(delivery="ls-1")
    both = {whole.mounting.number, begun.mounting.number}
    assert among(whole, "delivery", one.id) == both and among(whole, "delivery", other.id) == set()
    life.delivered(
        acting=whole.shop.acting("fitter"), entry_id=new_id(), bearing=begun.bearing, delivery=other, on=DAY
    )
    assert among(whole, "delivery", one.id) == {whole.mounting.number}
    assert among(whole, "delivery", other.id) == among(whole, "order", "p-99") == {begun.mounting.number}


def test_a_part_and_its_batch_are_shared_by_the_mountings_it_went_into(ends: Ends) -> None:
    whole, begun = ends
    part = a_part(whole)
    use_part(acting=whole.shop.acting("fitter"), mounting=begun.mounting, entry_id=new_id(), part=part)
    assert among(whole, "part", part.id) == among(whole, "batch", "b-0417") == {begun.mounting.number}
    NameRead.objects.create(
        mounting=whole.mounting, entry=new_id(), step="lubrication", key="batch", text="B-0417"
    )
    assert among(whole, "batch", "B-0417") == {whole.mounting.number, begun.mounting.number}


def test_a_person_shares_what_he_did_in_any_part(ends: Ends) -> None:
    whole, begun = ends
    people = whole.shop.people
    assert among(whole, "person", people["fitter"].id) == {whole.mounting.number, begun.mounting.number}
    assert among(whole, "person", people["inspector"].id) == {whole.mounting.number}
    assert among(whole, "person", people["quality"].id) == set()


def test_a_damage_is_shared_by_what_it_was_seen_on(ends: Ends) -> None:
    whole, _begun = ends
    life.fail(
        acting=whole.shop.acting("fitter"), entry_id=new_id(), bearing=whole.bearing, on=DAY, what="hot",
        seen=life.Seen("heat-cracks"),
    )  # fmt: skip
    assert among(whole, "damage", "heat-cracks") == {whole.mounting.number}
    assert among(whole, "damage", "rust") == set()


def test_a_day_a_month_and_a_year_are_shared(ends: Ends) -> None:
    whole, begun = ends
    both = {whole.mounting.number, begun.mounting.number}
    assert (
        among(whole, "day", "2026-03-02")
        == among(whole, "day", "2026-03")
        == among(whole, "day", "2026")
        == both
    )
    assert among(whole, "day", "2026-03-03") == set()
    assert span_of("2026-12")[1].isoformat() == "2027-01-01T00:00:00+00:00"


@pytest.mark.parametrize(
    ("what", "of"),
    [("day", "2026-02-30"), ("day", "soon"), ("damage", "bent"), ("part", "7"), ("person", "x"),
     ("delivery", "01890000-0000-7000-8000-000000000000"), ("moon", "full")],
)  # fmt: skip
def test_what_there_is_not_is_not_found(ends: Ends, what: str, of: str) -> None:
    with pytest.raises(UnknownObjectError):
        among(ends.whole, what, of)


def test_how_far_it_reaches_is_one_query(
    ends: Ends, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    rows = for_person(ends.whole.shop.people["auditor"], Action.TRACE, ends.whole.shop.clock)
    with django_assert_num_queries(1):
        assert touched(shared(rows, "day", "2026")) == Touched(mountings=2, machines=2, owners=1)


def said(job: Job, text: str) -> list[Beside]:
    where = reach(job.shop.people["auditor"].id, Action.TRACE, job.shop.clock)
    return beside(words_of(text), where)


def test_a_search_names_deliveries_orders_parts_people_damages_and_days(ends: Ends) -> None:
    whole, _begun = ends
    delivery, part = a_delivery(whole), a_part(whole)
    assert said(whole, "P-88") == [
        Beside("delivery", str(delivery.id), "LS-1, Corvane"),
        Beside("order", "P-88", "P-88"),
    ]
    assert said(whole, "B-0417") == [Beside("part", str(part.id), "B-0417, NLGI 2 lithium")]
    inspector = whole.shop.people["inspector"].id
    assert said(whole, '"Inspector Person"') == [Beside("person", str(inspector), "Inspector Person")]
    assert [each.of for each in said(whole, "5.6.4")] == ["heat-cracks"]
    assert {each.of for each in said(whole, "rust")} == {"rust", "fretting-rust-in-bore"}
    assert said(whole, "2026-03-02") == [Beside("day", "2026-03-02", "2026-03-02")]
    assert said(whole, "2026-02-31") == []


@pytest.mark.parametrize("text", ["x", "B-0417", "rust Corvane P-88 2026-03-02 Person 6212 L-9"])
def test_what_a_search_names_beside_is_four_queries_at_most(
    ends: Ends, text: str, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    where = reach(ends.whole.shop.people["auditor"].id, Action.TRACE, ends.whole.shop.clock)
    with django_assert_max_num_queries(4):
        beside(words_of(text), where)


@pytest.mark.parametrize("damage", DAMAGES, ids=lambda damage: damage.id)
def test_every_damage_leads_to_what_the_mounting_says_of_its_suspects(ends: Ends, damage: Any) -> None:
    record = record_of(ends.whole.mounting)
    assert record.counting is not None
    told = suspects(damage, record.case, record.counting.findings)
    assert [suspect.part for suspect in told.parts] == list(damage.suspects)
    assert [place.name for place in told.first] == list(damage.first)
    assert any(place.told for place in told.first), "a sound record says something of what tells most"


def test_an_overheated_ring_shows_its_peak_first_with_the_typed_value(ends: Ends) -> None:
    record = record_of(ends.whole.mounting)
    assert record.counting is not None
    first = suspects(BY_ID["heat-cracks"], record.case, record.counting.findings).first[0]
    assert [answered.answer.document()["typed"] for answered in first.answers] == ["95"]
    begun = record_of(ends.begun.mounting)
    assert not suspects(BY_ID["heat-cracks"], begun.case, ()).first[0].told


def page(job: Job, name: str, *args: Any) -> str:
    client = Client()
    client.force_login(job.shop.people["auditor"], backend="django.contrib.auth.backends.ModelBackend")
    answer = client.get(reverse(name, args=args))
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_auditor_chooses_what_he_sees_and_gets_steps_fields_and_what_is_no_cause(
    ends: Ends,
) -> None:
    whole, _begun = ends
    chosen = page(whole, "mounting-damage", whole.mounting.id)
    assert "cracks from heat, blue rings" in chosen and "5.6" in chosen
    told = page(whole, "suspects", whole.mounting.id, "heat-cracks")
    assert "Look at these first" in told and "95 °C" in told
    assert "seized in service" in told and "from memory" in told and "common practice, no source" in told
    assert "No mounting makes this damage." in page(whole, "damage", "fluting-craters")


@pytest.mark.parametrize("what", SHARED)
def test_a_page_of_what_is_shared_opens_and_is_filed(ends: Ends, what: str) -> None:
    whole, _begun = ends
    of = {
        "delivery": a_delivery(whole).id, "part": a_part(whole).id, "person": whole.shop.people["fitter"].id,
        "damage": "rust", "day": "2026-03",
    }.get(what, "L-1/2")  # fmt: skip
    assert "Shared by" in page(whole, "shared", what, of)
