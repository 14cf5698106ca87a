"""People, roles, competence and tokens on pages: proved again, refused at the field, shown once."""

import uuid
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.people.models import Competence, Person, RoleGrant, Token
from qrecords.people.permissions import Action
from qrecords.tracing.agreement import differences
from tests.cast import PASSWORD, Workshop, make_workshop
from tests.web.desk import main

pytestmark = pytest.mark.django_db
NEW = {
    "name": "O. Brandreth", "sign_in": "brandreth", "first_password": "a long first word", "role": "fitter",
    "password": PASSWORD,
}  # fmt: skip


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def client_of(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def read(shop: Workshop, name: str, *args: object, who: str = "administrator", **query: Any) -> str:
    answer = client_of(shop, who).get(reverse(name, args=args), query)
    assert answer.status_code == 200
    return main(answer.content.decode())


def send(
    shop: Workshop, page: str, /, *args: object, who: str = "administrator", **fields: Any
) -> HttpResponse:
    given = {"entry_id": str(new_id()), **fields}
    return client_of(shop, who).post(reverse(page, args=args), given)  # type: ignore[return-value]


def test_the_list_shows_everybody_with_their_roles_now(shop: Workshop) -> None:
    page = read(shop, "people")
    assert "Inspector Person" in page and "quality manager" in page and "A. Dahlgren" in page


def test_a_person_is_enrolled_with_a_role_and_can_sign_in(shop: Workshop) -> None:
    answer = send(shop, "person-new", **NEW)
    person = Person.objects.get(sign_in="brandreth")
    assert answer.status_code == 302 and answer["Location"] == reverse("person", args=[person.id])
    assert [grant.role for grant in person.grants.all()] == ["fitter"]
    assert person.check_password("a long first word")
    assert list(differences()) == []
    assert "O. Brandreth" in read(shop, "person", person.id)


def test_no_name_reaches_the_ledger(shop: Workshop) -> None:
    send(shop, "person-new", **NEW)
    assert not [e for e in Entry.objects.all() if b"Brandreth" in bytes(e.payload)]


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("name", "", "1 to 80 characters"),
        ("sign_in", "two words", "letters, digits"),
        ("sign_in", "fitter", "a name that nobody has yet"),
        ("first_password", "short", "too short"),
        ("first_password", "password123", "too common"),
        ("role", "king", "inspector"),
        ("password", "wrong", "This is not your password"),
        ("password", "", "This is not your password"),
    ],
)
def test_a_wrong_field_is_named_and_nobody_is_enrolled(
    shop: Workshop, field: str, value: str, said: str
) -> None:
    before = (Person.objects.count(), Entry.objects.count())
    answer = send(shop, "person-new", **{**NEW, field: value})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page.split(f'id="a-{field}"')[1].split("</p>")[0]
    assert (Person.objects.count(), Entry.objects.count()) == before
    assert "a long first word" not in page and PASSWORD not in page


def test_the_same_enrolment_sent_twice_enrols_once(shop: Workshop) -> None:
    id = str(new_id())
    for _ in range(2):
        assert send(shop, "person-new", **NEW, entry_id=id).status_code == 302
    assert Person.objects.filter(sign_in="brandreth").count() == 1
    assert RoleGrant.objects.filter(person__sign_in="brandreth").count() == 1


def test_a_role_is_given_and_ended_by_who_proves_to_be_there(shop: Workshop) -> None:
    person = shop.people["fitter"]
    assert send(shop, "person", person.id, role="inspector", password="wrong").status_code == 422
    assert send(shop, "person", person.id, role="inspector", password=PASSWORD).status_code == 302
    grant = RoleGrant.objects.get(person=person, role="inspector")
    assert send(shop, "role-end", grant.id, password="wrong").status_code == 401
    assert RoleGrant.objects.get(id=grant.id).valid_to is None
    assert send(shop, "role-end", grant.id, password=PASSWORD).status_code == 302
    assert RoleGrant.objects.get(id=grant.id).valid_to is not None
    assert list(differences()) == []


def test_an_account_is_closed_by_who_proves_to_be_there_and_signs_in_no_more(shop: Workshop) -> None:
    person = shop.people["fitter"]
    assert send(shop, "account-end", person.id, password="wrong").status_code == 401
    assert send(shop, "account-end", person.id, password=PASSWORD).status_code == 302
    person.refresh_from_db()
    assert not person.is_active
    sent = Client().post("/sign-in/", {"sign_in": person.sign_in, "password": PASSWORD})
    assert sent.status_code == 401
    assert [entry.kind for entry in entries_of(person.id)][-1] == "account end"


def test_a_role_of_another_site_is_not_ended_here(shop: Workshop) -> None:
    grant = RoleGrant.objects.get(person=shop.people["fitter"])
    RoleGrant.objects.filter(id=grant.id).update(site=new_id())
    assert send(shop, "role-end", grant.id, password=PASSWORD).status_code == 404
    assert RoleGrant.objects.get(id=grant.id).valid_to is None


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


def test_a_token_shows_its_secret_once_and_is_kept_as_a_hash(shop: Workshop) -> None:
    answer = send(shop, "tokens", who="fitter", label="bench gauge 2", actions=[Action.READ, Action.RECORD])
    page = answer.content.decode()
    secret = page.split('id="secret">')[1].split("<")[0]
    token = Token.objects.get(label="bench gauge 2")
    assert answer.status_code == 200 and len(secret) > 40 and secret not in token.secret_hash
    assert token.actions == ["read", "record work"]
    again = read(shop, "tokens", who="fitter")
    assert secret not in again and "bench gauge 2" in again


def test_only_actions_of_ones_own_that_a_token_may_do_are_offered(shop: Workshop) -> None:
    page = read(shop, "tokens", who="inspector")
    assert 'value="record a check"' in page
    for never in ("sign off", "release before heat", "make tokens", "record work"):
        assert f'value="{never}"' not in page


def test_an_action_that_is_not_offered_is_not_taken(shop: Workshop) -> None:
    answer = send(shop, "tokens", who="inspector", label="clever", actions=[Action.SIGN, Action.RECORD])
    assert answer.status_code == 422 and not Token.objects.exists()


@pytest.mark.parametrize("label", ["", "x" * 81, "two\nlines"])
def test_a_token_without_a_good_label_is_asked_back(shop: Workshop, label: str) -> None:
    answer = send(shop, "tokens", who="fitter", label=label, actions=[Action.READ])
    assert answer.status_code == 422 and not Token.objects.exists()
    assert 'value="read" checked' in answer.content.decode()


def test_a_token_is_stopped_by_its_owner_and_by_nobody_else(shop: Workshop) -> None:
    send(shop, "tokens", who="fitter", label="bench", actions=[Action.READ])
    token = Token.objects.get()
    assert send(shop, "token-revoke", token.id, who="second_fitter").status_code == 404
    assert send(shop, "token-revoke", token.id, who="fitter").status_code == 302
    assert Token.objects.get().revoked_at is not None
