"""People and roles on pages: proved again, refused at the field, ended."""

import pytest
from django.test import Client
from django.urls import reverse

from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.people import actions as people
from qrecords.people.errors import NotForOneselfError
from qrecords.people.models import Person, RoleGrant
from qrecords.people.passwords import seal
from qrecords.people.permissions import Role
from qrecords.tracing.agreement import differences
from tests.cast import PASSWORD, Workshop
from tests.web.people_hand import NEW, read, send

pytestmark = pytest.mark.django_db


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
        ("first_password", "short", "10 to 200 characters"),
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


@pytest.mark.parametrize("page", ["role-end", "account-end"])
def test_the_last_administrator_stays_until_there_is_another(shop: Workshop, page: str) -> None:
    admin = shop.people["administrator"]
    id = admin.grants.get().id if page == "role-end" else admin.id
    refused = send(shop, page, id, password=PASSWORD)
    assert refused.status_code == 409 and "give somebody else the role first" in refused.content.decode()
    send(shop, "person-new", **{**NEW, "role": "administrator"})
    assert send(shop, page, id, password=PASSWORD).status_code == 302


def test_a_role_of_another_site_is_not_ended_here(shop: Workshop) -> None:
    grant = RoleGrant.objects.get(person=shop.people["fitter"])
    RoleGrant.objects.filter(id=grant.id).update(site=new_id())
    assert send(shop, "role-end", grant.id, password=PASSWORD).status_code == 404
    assert RoleGrant.objects.get(id=grant.id).valid_to is None


def test_nobody_gives_himself_a_role(shop: Workshop) -> None:
    admin = shop.people["administrator"]
    answer = send(shop, "person", admin.id, role="inspector", password=PASSWORD)
    assert answer.status_code == 422 and "Nobody gives himself a role" in answer.content.decode()
    with pytest.raises(NotForOneselfError):
        people.grant_role(
            acting=shop.proved("administrator"), site=shop.site, grant_id=new_id(), person=admin,
            role=Role.AUDITOR,
        )  # fmt: skip
    assert [grant.role for grant in admin.grants.all()] == ["administrator"]
    assert "give this role" not in read(shop, "person", admin.id)


@pytest.mark.parametrize("role", ["fitter", "inspector", "engineer", "quality manager"])
def test_who_keeps_people_and_roles_neither_signs_nor_records(shop: Workshop, role: str) -> None:
    send(shop, "person-new", **{**NEW, "role": "administrator"})
    person = Person.objects.get(sign_in="brandreth")
    answer = send(shop, "person", person.id, role=role, password=PASSWORD)
    assert answer.status_code == 422 and "neither signs nor records" in answer.content.decode()
    assert send(shop, "person", person.id, role="auditor", password=PASSWORD).status_code == 302
    assert {grant.role for grant in person.grants.all()} == {"administrator", "auditor"}


def test_an_inspector_is_made_administrator_only_after_the_role_ended(shop: Workshop) -> None:
    person = shop.people["inspector"]
    assert send(shop, "person", person.id, role="administrator", password=PASSWORD).status_code == 422
    send(shop, "role-end", person.grants.get().id, password=PASSWORD)
    assert send(shop, "person", person.id, role="administrator", password=PASSWORD).status_code == 302


def test_a_role_held_at_a_site_is_not_given_there_twice(shop: Workshop) -> None:
    person = shop.people["fitter"]
    before = Entry.objects.count()
    answer = send(shop, "person", person.id, role="fitter", password=PASSWORD)
    assert answer.status_code == 422 and "Held already" in answer.content.decode()
    assert (person.grants.count(), Entry.objects.count()) == (1, before)
    send(shop, "role-end", person.grants.get().id, password=PASSWORD)
    assert send(shop, "person", person.id, role="fitter", password=PASSWORD).status_code == 302


def test_enrolling_granting_and_ending_sent_twice_are_replays(shop: Workshop) -> None:
    person_id, grant_id, end_id = new_id(), new_id(), new_id()
    sealed = seal("a long first word")
    for _ in range(2):
        person = people.enrol(
            acting=shop.proved("administrator"), site=shop.site, person_id=person_id, sign_in="brandreth",
            name="O. Brandreth", password=sealed,
        )  # fmt: skip
        grant = people.grant_role(
            acting=shop.proved("administrator"), site=shop.site, grant_id=grant_id, person=person,
            role=Role.FITTER,
        )  # fmt: skip
    for _ in range(2):
        people.end_role(acting=shop.proved("administrator"), entry_id=end_id, grant=grant)
    assert [entry.kind for entry in entries_of(person_id)] == ["person", "role grant", "role end"]
    assert list(differences()) == []


@pytest.mark.parametrize("changed", [{"name": "A. Nother"}, {"sign_in": "another"}])
def test_an_enrolment_that_says_something_else_under_the_same_id_is_refused(
    shop: Workshop, changed: dict[str, str]
) -> None:
    said = {"person_id": new_id(), "sign_in": "brandreth", "name": "O. Brandreth", "site": shop.site}
    sealed = seal("a long first word")
    people.enrol(acting=shop.proved("administrator"), password=sealed, **said)
    with pytest.raises(DifferentContentError):
        people.enrol(acting=shop.proved("administrator"), password=sealed, **{**said, **changed})


def test_a_role_that_ended_is_not_ended_again(shop: Workshop) -> None:
    grant = RoleGrant.objects.get(person=shop.people["fitter"])
    for _ in range(2):
        people.end_role(acting=shop.proved("administrator"), entry_id=new_id(), grant=grant)
    assert [entry.kind for entry in entries_of(grant.person_id)].count("role end") == 1
