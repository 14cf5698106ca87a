"""Competence is assessed by another, for a task, sizes and a time; a wrong field is named."""

import uuid
from datetime import date
from decimal import Decimal

import pytest
from django.http import HttpResponse

from qrecords.people.models import Competence
from qrecords.people.permissions import NEVER_BY_TOKEN, Action
from qrecords.tracing.agreement import differences
from tests.cast import Workshop
from tests.web.people_hand import read, send

pytestmark = pytest.mark.django_db
COMPETENCE = {
    "task": "measure", "basis": "five supervised jobs", "from_mm": "20", "to_mm": "150,5",
    "valid_from": "2026-03-01", "valid_to": "2028-03-01",
}  # fmt: skip


def assessed(shop: Workshop, **changes: str) -> HttpResponse:
    people = {name: str(shop.people[who].id) for name, who in (("person", "fitter"), ("assessor", "quality"))}
    return send(shop, "competence-new", who="quality", **{**COMPETENCE, **people, **changes})


def test_competence_is_recorded_for_a_task_sizes_and_a_time(shop: Workshop) -> None:
    assert assessed(shop).status_code == 302
    row = Competence.objects.get(basis="five supervised jobs")
    assert (row.from_mm, row.to_mm, row.valid_to) == (Decimal("20"), Decimal("150.5"), date(2028, 3, 1))
    assert row.assessor == shop.people["quality"].id
    assert list(differences()) == []
    assert "five supervised jobs" in read(shop, "competence", who="quality")


@pytest.mark.parametrize(("person", "assessor"), [("quality", "inspector"), ("fitter", "fitter")])
def test_nobody_assesses_or_records_his_own_competence(shop: Workshop, person: str, assessor: str) -> None:
    before = Competence.objects.count()
    answer = assessed(shop, person=str(shop.people[person].id), assessor=str(shop.people[assessor].id))
    assert answer.status_code == 422 and "Nobody assesses himself" in answer.content.decode()
    assert Competence.objects.count() == before
    assert Action.ASSESS in NEVER_BY_TOKEN


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("to_mm", "10", "not less than the smaller size"),
        ("to_mm", "wide", "0…3000 mm"),
        ("valid_to", "2026-02-01", "not before it begins"),
        ("valid_to", "soon", "YYYY-MM-DD"),
        ("task", "fly", "measure, heat, mount"),
        ("basis", "", "1 to 200 characters"),
        ("person", str(uuid.UUID(int=1)), "somebody with a role here"),
    ],
)
def test_a_wrong_field_of_a_competence_is_named_and_kept(
    shop: Workshop, field: str, value: str, said: str
) -> None:
    before = Competence.objects.count()
    answer = assessed(shop, **{field: value})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page.split(f'id="a-{field}"')[1].split("</p>")[0]
    assert Competence.objects.count() == before
    assert "2026-03-01" in page
