"""People, competence, bearings' lives, what comes with them and what is shared, as programs see it."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.identifiers import new_id
from qrecords.people.models import Competence
from qrecords.steps.damage import DAMAGES
from qrecords.workshop.models import Delivery, Part
from tests.api.caller import Caller
from tests.cast import Job, Workshop, start

DAY = "2026-03-02"


@pytest.fixture
def job(shop: Workshop) -> Job:
    return start(shop)


@pytest.fixture
def quality(shop: Workshop) -> Caller:
    return Caller.by_session(shop, "quality")


@pytest.fixture
def auditor(shop: Workshop) -> Caller:
    return Caller.by_session(shop, "auditor")


def test_a_bearing_says_where_it_is_and_what_became_of_it(job: Job, fitter: Caller) -> None:
    address = f"bearings/{job.bearing.id}/"
    assert fitter.get(address + "now/").document["where"] == "in a mounting"
    said = {
        "on": DAY,
        "why": "runs hot",
        "method": "pressed off",
        "damage": "rust",
        "journal": job.journal.id,
    }
    entry = new_id()
    first = fitter.post(address + "removals/", entry_id=entry, **said)
    assert first.status == 201
    assert fitter.post(address + "removals/", entry_id=entry, **said).status == 200
    now = fitter.get(address + "now/").document
    assert (now["where"], now["number"]) == ("removed", job.mounting.number)
    assert [(e["what"], e["damage"]) for e in now["events"]] == [("removed", "rust")]


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"method": "by magic"}, "method"),
        ({"damage": "rusty"}, "damage"),
        ({"on": "soon"}, "on"),
        ({"why": ""}, "why"),
        ({"mode": "x"}, "mode"),
    ],
)
def test_a_wrong_field_is_named(job: Job, fitter: Caller, said: dict[str, str], field: str) -> None:
    body = {"on": DAY, "why": "runs hot", "method": "pressed off", **said}
    answered = fitter.post(f"bearings/{job.bearing.id}/removals/", entry_id=new_id(), **body)
    assert answered.status in (400, 422)
    assert field in str(answered.document)


def test_a_day_to_come_is_asked_back(job: Job, fitter: Caller) -> None:
    said = {"on": (job.shop.clock + timedelta(days=3)).date(), "what": "seized"}
    answered = fitter.post(f"bearings/{job.bearing.id}/failures/", entry_id=new_id(), **said)
    assert (answered.status, answered.code) == (422, "register-field")


def test_what_is_of_another_site_is_not_here(job: Job, fitter: Caller) -> None:
    said = {"on": DAY, "why": "x", "method": "pressed off", "journal": new_id()}
    assert fitter.post(f"bearings/{job.bearing.id}/removals/", entry_id=new_id(), **said).status == 404
    assert fitter.get(f"bearings/{new_id()}/now/").status == 404


def test_scrap_is_refused_while_a_mounting_is_about_it(job: Job) -> None:
    inspector = Caller.by_session(job.shop, "inspector")
    said = {"on": DAY, "why": "worn"}
    answered = inspector.post(f"bearings/{job.bearing.id}/scrapping/", entry_id=new_id(), **said)
    assert (answered.status, answered.code) == (409, "bearing-state")


def test_acts_of_authority_are_never_by_token(job: Job) -> None:
    caller = Caller.by_token(job.shop, "inspector")
    for address in (f"bearings/{job.bearing.id}/scrapping/", "competences/", "eyesight/"):
        answered = caller.post(address, entry_id=new_id(), on=DAY, why="worn")
        assert (answered.status, answered.code) == (403, "never-by-token")


def test_deliveries_parts_and_moves_are_registered_and_listed(job: Job, fitter: Caller) -> None:
    lines = [{"designation": "6212 C3", "lot": "L-9", "quantity": 6}]
    fitter.act("deliveries/", supplier="Corvane", note="LS-1", on=DAY, lines=lines)
    (row,) = fitter.get("deliveries/", note="ls-1").document["results"]
    assert (row["lines"], row["order"]) == (lines, "")
    fitter.act("parts/", kind="spacer", name="spacer 60 × 20", lot="heat 4")
    (part,) = fitter.get("parts/", lot="HEAT 4").document["results"]
    fitter.act(f"mountings/{job.mounting.id}/parts/", part=part["id"], place="behind")
    entry, said = new_id(), {"machine": job.machine.id, "on": DAY, "to_place": "north face"}
    assert fitter.post("moves/", entry_id=entry, **said).status == 201
    assert fitter.post("moves/", entry_id=entry, **said).status == 200
    assert [move["to_place"] for move in fitter.get("moves/").document["results"]] == ["north face"]
    wrong = fitter.post("moves/", entry_id=new_id(), machine=job.machine.id, on=DAY, shaft="1")
    assert wrong.status == 400


def test_competence_is_assessed_listed_and_due(job: Job, quality: Caller) -> None:
    people = quality.get("people/").document["results"]
    named = {person["name"]: person for person in people}
    assert named["Fitter Person"]["roles"] == ["fitter"]
    said = {
        "person": named["Second_Fitter Person"]["id"], "assessor": named["Engineer Person"]["id"],
        "task": "stand in", "basis": "training", "from_mm": "10", "to_mm": "200.5",
        "kinds": ["tapered roller"], "positions": ["DE"], "valid_from": DAY, "valid_to": "2027-03-02",
    }  # fmt: skip
    quality.act("competences/", **said)
    (row,) = quality.get("competences/", task="stand in").document["results"]
    assert (row["state"], row["until"], row["kinds"]) == ("held", "2027-03-02", ["tapered roller"])
    assert Competence.objects.get(task="stand in").to_mm == Decimal("200.5")
    due = quality.get("competences/", due="2027-03-03").document["results"]
    assert "stand in" in {each["task"] for each in due}
    assert quality.get("competences/", due=DAY).document["results"] == []


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"to_mm": "5"}, "to_mm"),
        ({"valid_to": "2026-01-01"}, "valid_to"),
        ({"jobs": 4}, "jobs"),
        ({"kinds": ["square"]}, "kinds"),
        ({"task": "fly"}, "task"),
    ],
)
def test_a_wrong_assessment_is_named(job: Job, quality: Caller, changes: dict[str, Any], field: str) -> None:
    people = job.shop.people
    said = {
        "person": people["fitter"].id, "assessor": people["engineer"].id, "task": "heat", "basis": "x",
        "from_mm": "10", "to_mm": "20", "valid_from": DAY, "valid_to": "2027-03-02", **changes,
    }  # fmt: skip
    answered = quality.post("competences/", entry_id=new_id(), **said)
    assert answered.status in (400, 422) and field in str(answered.document)


def test_nobody_is_assessed_by_himself_or_unknown_here(job: Job, quality: Caller) -> None:
    me = job.shop.people["quality"].id
    said: dict[str, Any] = {
        "task": "heat", "basis": "x", "from_mm": "10", "to_mm": "20", "valid_from": DAY, "assessor": me,
        "valid_to": "2027-03-02",
    }  # fmt: skip
    answered = quality.post("competences/", entry_id=new_id(), person=me, **said)
    assert (answered.status, answered.code) == (403, "not-for-oneself")
    assert quality.post("competences/", entry_id=new_id(), person=new_id(), **said).status == 404


def test_eyesight_is_recorded_without_any_finding(job: Job, quality: Caller) -> None:
    person = job.shop.people["inspector"].id
    quality.act("eyesight/", person=person, tested_on=DAY, valid_to="2028-03-02")
    (row,) = quality.get("eyesight/").document["results"]
    assert set(row) == {"id", "site", "person", "tested_on", "valid_to"}


def test_what_is_shared_and_what_a_damage_points_to(job: Job, auditor: Caller) -> None:
    job.receive()
    person = str(job.shop.people["fitter"].id)
    found = auditor.get("shared/person/", of=person).document
    assert [each["number"] for each in found["results"]] == [job.mounting.number]
    assert found["touched"] == {"mountings": 1, "machines": 1, "owners": 1}
    assert auditor.get("shared/moon/", of="full").status == 404
    assert auditor.get("shared/day/", of="soon").status == 404
    table = auditor.get("damages/").document
    assert [row["id"] for row in table["damages"]] == [damage.id for damage in DAMAGES]
    job.own_reading()
    told = auditor.get(f"mountings/{job.mounting.id}/damages/pair-reversed/").document
    answers = {place["name"]: place["answers"] for place in told["first"]}
    assert answers["identification.marking"]["marking"]["typed"] == "6212 C3"
    assert auditor.get(f"mountings/{job.mounting.id}/damages/bent/").status == 404


LISTS = ("deliveries/", "parts/", "competences/", "competences/?due=2098-01-01", "people/", "eyesight/")


@pytest.mark.parametrize("address", LISTS)
def test_lists_ask_as_much_of_a_thousand_rows_as_of_ten(job: Job, quality: Caller, address: str) -> None:
    counts = []
    for more in (10, 990):
        fill(job, more)
        with CaptureQueriesContext(connection) as asked:
            assert quality.get(address).status == 200
        counts.append(len(asked))
    assert counts[0] == counts[1]


def fill(job: Job, count: int) -> None:
    site, person = job.shop.site, job.shop.people["fitter"]
    Delivery.objects.bulk_create(
        Delivery(id=new_id(), site=site, supplier="S", note="N", on=DAY, lines=[]) for _ in range(count)
    )
    Part.objects.bulk_create(
        Part(id=new_id(), site=site, kind="nut", name="KM", lot=f"{n}") for n in range(count)
    )
    Competence.objects.bulk_create(
        Competence(
            id=new_id(), site=site, person=person, task="heat", basis="x", assessor=person.id, from_mm=1,
            to_mm=9, valid_from=DAY, valid_to="2099-01-01",
        )
        for _ in range(count)
    )  # fmt: skip


def assessment(job: Job, **changes: Any) -> dict[str, Any]:
    people = job.shop.people
    return {
        "person": people["fitter"].id, "assessor": people["engineer"].id, "task": "heat", "basis": "x",
        "from_mm": "10", "to_mm": "20", "valid_from": DAY, "valid_to": "2027-03-02", "jobs": 6, **changes,
    }  # fmt: skip


@pytest.mark.parametrize("spoilt", ["-1", "3001", "wide", "", "1e9", "NaN", "9" * 5000, None, [1], True])
@pytest.mark.parametrize("name", ["from_mm", "to_mm"])
def test_a_spoilt_size_is_asked_back_with_its_range(
    job: Job, quality: Caller, name: str, spoilt: object
) -> None:
    before = Competence.objects.count()
    answered = quality.post("competences/", entry_id=new_id(), **assessment(job, **{name: spoilt}))
    said = str(answered.document)
    assert answered.status in (400, 422) and name in said and len(said) < 3000
    assert spoilt is None or "0…3000 mm" in said
    assert Competence.objects.count() == before


@pytest.mark.parametrize("spoilt", [4, -6, 1001, "six", 6.5, True])
def test_a_spoilt_number_of_jobs_is_asked_back_with_its_range(
    job: Job, quality: Caller, spoilt: object
) -> None:
    answered = quality.post("competences/", entry_id=new_id(), **assessment(job, jobs=spoilt))
    assert answered.status in (400, 422) and "5…1000 supervised jobs" in str(answered.document)


@pytest.mark.parametrize("spoilt", [0, -6, 100_001, "six", 6.5, True])
def test_a_spoilt_number_of_pieces_is_asked_back_with_its_range(
    job: Job, fitter: Caller, spoilt: object
) -> None:
    lines = [{"designation": "6212 C3", "quantity": spoilt}]
    answered = fitter.post("deliveries/", entry_id=new_id(), supplier="C", note="N", on=DAY, lines=lines)
    assert answered.status in (400, 422) and "1…100000 pieces" in str(answered.document)
    assert not Delivery.objects.exists()
