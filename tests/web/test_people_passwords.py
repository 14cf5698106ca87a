"""Passwords: the first one, one's own, anew; no page, entry or failed try keeps one."""

import pytest
from axes.models import AccessAttempt
from django.contrib.auth.hashers import make_password
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.people.acting import require
from qrecords.people.errors import FirstPasswordError
from qrecords.people.models import Person, RoleGrant
from qrecords.people.permissions import Action
from tests.cast import PASSWORD, Workshop
from tests.web.people_hand import NEW, client_of, send

pytestmark = pytest.mark.django_db


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
