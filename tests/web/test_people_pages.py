"""People, roles, competence and tokens on pages: proved again, refused at the field, shown once."""

import uuid
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from axes.models import AccessAttempt
from django.contrib.auth.hashers import make_password
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.people import actions as people
from qrecords.people.acting import require
from qrecords.people.errors import FirstPasswordError, NotForOneselfError
from qrecords.people.models import Competence, Person, RoleGrant, Token
from qrecords.people.passwords import seal
from qrecords.people.permissions import NEVER_BY_TOKEN, Action, Role
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


def test_a_password_is_hashed_before_the_transaction_begins(
    shop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    depth = len(connection.savepoint_ids)
    seen = []

    def slow(password: str) -> str:
        seen.append(len(connection.savepoint_ids))
        return make_password(password)

    monkeypatch.setattr("qrecords.people.passwords.make_password", slow)
    assert send(shop, "person-new", **NEW).status_code == 302
    own(shop, "fitter")
    assert seen == [depth, depth]


OWN = {"password": PASSWORD, "new_password": "a word of my own", "new_again": "a word of my own"}


def own(shop: Workshop, who: str, client: Client | None = None, **changes: str) -> HttpResponse:
    given = {"entry_id": str(new_id()), **OWN, **changes}
    return (client or client_of(shop, who)).post(reverse("own-password"), given)  # type: ignore[return-value]


def test_a_person_chooses_another_password_and_other_sessions_end(shop: Workshop) -> None:
    here, elsewhere = client_of(shop, "fitter"), client_of(shop, "fitter")
    assert own(shop, "fitter", here).status_code == 302
    person = Person.objects.get(sign_in="fitter")
    assert person.check_password("a word of my own")
    assert here.get("/mountings/").status_code == 200
    assert elsewhere.get("/mountings/").status_code == 302
    entry = entries_of(person.id)[-1]
    assert entry.kind == "own password"
    stored = bytes(Entry.objects.get(id=entry.id).payload).decode()
    assert "a word of my own" not in stored and person.password not in stored


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("password", "wrong", "This is not it"),
        ("new_password", "short", "10 to 200 characters"),
        ("new_password", "password123", "too common"),
        ("new_password", PASSWORD, "Another one"),
        ("new_again", "something else", "Not the same"),
    ],
)
def test_a_password_that_will_not_do_is_asked_back_at_its_field(
    shop: Workshop, field: str, value: str, said: str
) -> None:
    both = {"new_again": value} if field == "new_password" else {}
    answer = own(shop, "fitter", **{field: value, **both})
    page = answer.content.decode()
    assert answer.status_code == 422 and said in page.split(f'id="a-{field}"')[1].split("</p>")[0]
    assert Person.objects.get(sign_in="fitter").check_password(PASSWORD)
    assert value not in page and "a word of my own" not in page


def test_the_first_sign_in_opens_nothing_before_an_own_password_is_chosen(shop: Workshop) -> None:
    send(shop, "person-new", **NEW)
    client = Client()
    client.post("/sign-in/", {"sign_in": "brandreth", "password": "a long first word"})
    for page in ("/", "/mountings/", "/tokens/"):
        answer = client.get(page)
        assert answer.status_code == 302 and answer["Location"].startswith(reverse("own-password"))
    assert client.get("/api/v1/mountings/").json()["code"] == "first-password"
    asked = client.get("/mountings/", follow=True).content.decode()
    assert "Choose your own password" in asked and "My mountings" not in asked
    assert own(shop, "", client, password="a long first word").status_code == 302
    assert client.get("/mountings/").status_code == 200
    assert not Person.objects.get(sign_in="brandreth").first_password


def test_under_a_first_password_no_act_of_authority_is_done_on_anybodys_device(shop: Workshop) -> None:
    person = shop.people["inspector"]
    Person.objects.filter(id=person.id).update(first_password=True)
    person.refresh_from_db()
    for action in (Action.SIGN, Action.RELEASE):
        with pytest.raises(FirstPasswordError):
            require(shop.proved("inspector"), action, shop.site)


def test_who_forgot_the_password_gets_a_first_one_anew_and_never_ones_own(shop: Workshop) -> None:
    person, given = shop.people["fitter"], {"first_password": "for the second time", "password": PASSWORD}
    session = client_of(shop, "fitter")
    assert send(shop, "password-anew", person.id, **given).status_code == 302
    person.refresh_from_db()
    assert person.first_password and person.check_password("for the second time")
    assert session.get("/mountings/").status_code == 302
    assert entries_of(person.id)[-1].kind == "first password"
    assert send(shop, "password-anew", shop.people["administrator"].id, **given).status_code == 403


@pytest.mark.parametrize(
    ("page", "given"), [("password-anew", {"first_password": "for the second time"}), ("account-end", {})]
)
def test_an_account_with_a_role_at_another_site_is_not_touched_from_here_alone(
    shop: Workshop, page: str, given: dict[str, str]
) -> None:
    """Not even where its owner once worked here: who resets it could sign as the inspector of the other."""
    person, admin, there = shop.people["inspector"], shop.people["administrator"], new_id()
    send(shop, "role-end", person.grants.get().id, password=PASSWORD)
    moved = {"person": person, "role": "inspector", "site": there, "valid_from": shop.clock}
    RoleGrant.objects.create(id=new_id(), **moved)
    refused = send(shop, page, person.id, password=PASSWORD, **given)
    assert refused.status_code == 403 and "at another site too" in refused.content.decode()
    person.refresh_from_db()
    assert person.is_active and not person.first_password and person.check_password(PASSWORD)
    RoleGrant.objects.create(id=new_id(), **{**moved, "person": admin, "role": "administrator"})
    assert send(shop, page, person.id, password=PASSWORD, **given).status_code == 302


def test_no_password_of_a_form_is_kept_with_a_failed_try(shop: Workshop) -> None:
    send(shop, "person-new", **{**NEW, "password": "not mine at all"})
    own(shop, "fitter", password="not mine either")
    kept = "".join(AccessAttempt.objects.values_list("post_data", flat=True))
    assert "sign_in=brandreth" in kept
    for secret in ("a long first word", "not mine", "a word of my own"):
        assert secret not in kept


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
