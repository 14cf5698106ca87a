"""A bearing's page, its life, deliveries, parts and moves, and what came off before a mounting."""

import re
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse
from pytest_django.fixtures import DjangoAssertNumQueries

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions import bearing_life as life
from qrecords.mountings.bearings import whereabouts
from qrecords.mountings.models import BearingEvent, PartUse
from qrecords.people.permissions import Role
from qrecords.steps.bearing_life import Where
from qrecords.tracing.agreement import differences
from qrecords.workshop.models import Bearing, Delivery, Move, Part
from tests.cast import MORNING, Job, make_workshop, start
from tests.kept import once
from tests.rights.scenes import given

pytestmark = pytest.mark.django_db
DAY = MORNING.date().isoformat()
REMOVAL = {"on": DAY, "why": "runs hot", "method": "pulled on the inner ring", "kept": "bag 12", "by": "",
           "damage": "ring-turned-on-shaft", "looks": "blue band"}  # fmt: skip


def _signed() -> Job:
    job = start(make_workshop())
    job.whole()
    return job


@pytest.fixture
def job() -> Job:
    return once(_signed)


def client(job: Job, who: str) -> Client:
    found = Client()
    found.force_login(job.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return found


def see(job: Job, page: str, *args: Any, who: str = "fitter") -> str:
    answer = client(job, who).get(reverse(page, args=args))
    assert answer.status_code == 200, answer.content[-500:]
    return re.sub(r"\s+", " ", answer.content.decode())


def send(job: Job, page: str, *args: Any, who: str = "fitter", **fields: Any) -> HttpResponse:
    given = {"entry_id": str(new_id()), **fields}
    return client(job, who).post(reverse(page, args=args), given)  # type: ignore[return-value]


def test_a_removal_is_said_on_a_page_with_its_cautions_and_seen_on_the_life(job: Job) -> None:
    form = see(job, "bearing-event", job.bearing.id, "removal")
    assert "rated, guarded puller" in form and "Never hammer" in form
    answer = send(job, "bearing-event", job.bearing.id, "removal", journal=str(job.journal.id), **REMOVAL)
    assert answer.status_code == 302 and whereabouts(job.bearing.id).where == Where.REMOVED
    page = see(job, "bearing", job.bearing.id)
    for words in (
        "removed",
        "runs hot",
        "pulled on the inner ring",
        "bag 12",
        "inner ring turned on the shaft",
    ):
        assert words in page
    told = see(job, "bearing-life", job.bearing.id, who="auditor")
    assert "removed" in told and "not mounted yet" not in told
    assert list(differences()) == []


def test_what_is_wrong_is_named_and_everything_typed_stays(job: Job) -> None:
    said = {**REMOVAL, "method": "", "why": "because"}
    answer = send(job, "bearing-event", job.bearing.id, "removal", journal="", **said)
    page = answer.content.decode()
    assert answer.status_code == 422 and 'id="a-method"' in page and "because" in page
    assert not BearingEvent.objects.exists()


@pytest.mark.parametrize("day", ["2126-01-01", "soon"])
def test_a_day_that_is_still_to_come_or_none_is_asked_back(job: Job, day: str) -> None:
    answer = send(
        job, "bearing-event", job.bearing.id, "failure", on=day, what="x", by="", ran="", damage="", looks=""
    )
    assert answer.status_code == 422 and 'id="a-on"' in answer.content.decode()


def test_scrap_is_offered_when_it_lies_and_refused_in_words_while_it_is_on(job: Job) -> None:
    assert "Scrap it" not in see(job, "bearing", job.bearing.id, who="inspector")
    answer = send(job, "bearing-scrap", job.bearing.id, who="inspector", on=DAY, why="worn")
    assert answer.status_code == 422 and "this bearing is mounted" in answer.content.decode()
    send(job, "bearing-event", job.bearing.id, "removal", journal="", **REMOVAL)
    assert "Scrap it" in see(job, "bearing", job.bearing.id, who="inspector")
    assert "Scrap it" not in see(job, "bearing", job.bearing.id, who="fitter")
    for who in ("fitter", "second_fitter"):
        given(job, who, Role.INSPECTOR)
    assert "Scrap it" in see(job, "bearing", job.bearing.id, who="second_fitter")
    assert "Scrap it" not in see(job, "bearing", job.bearing.id, who="fitter")
    send(job, "bearing-scrap", job.bearing.id, who="inspector", on=DAY, why="worn")
    assert whereabouts(job.bearing.id).where == Where.SCRAPPED


def test_a_delivery_is_registered_with_its_lots_and_named_by_its_number(job: Job) -> None:
    lines = {"designation.1": "6212 C3", "lot.1": "L-9", "quantity.1": "6", "designation.2": "NU 318",
             "lot.2": "", "quantity.2": "1"}  # fmt: skip
    answer = send(job, "delivery-new", supplier="Corvane", note="LS-4471", order="P-88", on=DAY, **lines)
    assert answer.status_code == 302
    assert [line["quantity"] for line in Delivery.objects.get().lines] == [6, 1]
    assert "6 × 6212 C3, lot L-9; 1 × NU 318" in see(job, "deliveries")
    Bearing.objects.filter(id=job.bearing.id).update(delivery="ls-4471", lot="L-8")
    page = see(job, "bearing", job.bearing.id)
    assert "by its number alone" in page and "does not list this designation and lot" in page


def test_a_wrong_quantity_of_a_line_is_named_by_its_line(job: Job) -> None:
    lines = {"designation.1": "6212 C3", "lot.1": "", "quantity.1": "six"}
    answer = send(job, "delivery-new", supplier="Corvane", note="LS-4471", order="", on=DAY, **lines)
    page = answer.content.decode()
    assert answer.status_code == 422 and "1…100000 pieces" in page.split('id="a-quantity.1"')[1][:200]
    assert not Delivery.objects.exists()


def test_a_part_is_registered_used_and_leads_to_its_mountings(job: Job) -> None:
    other = start(job.shop, position="NDE")
    send(
        job,
        "part-new",
        kind="spacer",
        name="spacer 60 × 20",
        lot="heat 77120",
        supplier="",
        delivery="",
        use_by="",
    )
    part = Part.objects.get()
    answer = send(job, "parts-used", other.mounting.id, part=str(part.id), place="behind the ring")
    assert answer.status_code == 302 and PartUse.objects.get().mounting == other.mounting
    assert "heat 77120, behind the ring" in see(job, "parts-used", other.mounting.id)
    assert other.mounting.number in see(job, "shared", "part", part.id, who="auditor")
    assert "heat 77120" in see(job, "mounting-trace", other.mounting.id, who="auditor")


def test_a_signed_mounting_shows_its_parts_and_asks_for_no_more(job: Job) -> None:
    assert "<h1>One more part" not in see(job, "parts-used", job.mounting.id)


def test_a_shaft_and_a_machine_move_on_their_pages(job: Job) -> None:
    answer = send(
        job,
        "machine-moved",
        machine=str(job.machine.id),
        on=DAY,
        to_place="north face",
        to_owner="",
        reason="",
    )
    assert answer.status_code == 302 and Move.objects.get().to_place == "north face"
    assert "north face" in see(job, "moves") and "north face" in see(job, "bearing", job.bearing.id)
    answer = send(job, "shaft-moved", shaft="9 9", to_machine=str(job.machine.id), on=DAY, reason="")
    assert answer.status_code == 422


def test_the_old_bearing_is_said_for_the_mounting_that_takes_its_place(job: Job) -> None:
    again = start(job.shop, position="NDE")
    form = see(job, "old-bearing", again.mounting.id)
    assert "another, as its ring says" in form
    said = {**REMOVAL, "bearing": "", "designation": "6212", "serial": "OLD 7", "lot": "", "date_code": ""}
    assert send(job, "old-bearing", again.mounting.id, **said).status_code == 302
    event = BearingEvent.objects.get()
    assert (event.for_mounting, event.bearing.serial) == (again.mounting, "OLD 7")
    assert "OLD 7" in see(job, "mounting-trace", again.mounting.id, who="auditor")
    answer = send(job, "old-bearing", again.mounting.id, **{**said, "designation": ""})
    assert answer.status_code == 422 and 'id="a-designation"' in answer.content.decode()


@pytest.mark.parametrize("page", ["deliveries", "parts", "moves", "bearings"])
def test_a_register_asks_as_much_of_a_thousand_rows_as_of_ten(
    job: Job, page: str, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    counts = []
    for more in (10, 990):
        fill(job, more)
        counts.append(queries(job, page))
    assert counts[0] == counts[1]


def fill(job: Job, count: int) -> None:
    site = job.shop.site
    Delivery.objects.bulk_create(
        Delivery(id=new_id(), site=site, supplier="S", note="N", on=DAY, lines=[]) for _ in range(count)
    )
    Part.objects.bulk_create(
        Part(id=new_id(), site=site, kind="nut", name="KM", lot=f"{n}") for n in range(count)
    )
    Move.objects.bulk_create(
        Move(id=new_id(), site=site, machine=job.machine, to_place="x", on=DAY, at=job.shop.clock)
        for _ in range(count)
    )
    Bearing.objects.bulk_create(Bearing(id=new_id(), site=site, designation="6212") for _ in range(count))


def queries(job: Job, page: str) -> int:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    who = client(job, "fitter")
    with CaptureQueriesContext(connection) as asked:
        assert who.get(reverse(page)).status_code == 200
    return len(asked)


def test_a_bearing_page_asks_as_much_after_many_events_as_after_one(job: Job) -> None:
    counts = []
    for more in (1, 30):
        for _ in range(more):
            life.fail(
                acting=job.shop.acting("fitter"), entry_id=new_id(), bearing=job.bearing, on=MORNING.date(),
                what="hot",
            )  # fmt: skip
        from django.db import connection
        from django.test.utils import CaptureQueriesContext

        who = client(job, "fitter")
        with CaptureQueriesContext(connection) as asked:
            assert who.get(reverse("bearing", args=[job.bearing.id])).status_code == 200
        counts.append(len(asked))
    assert counts[0] == counts[1]
