"""Signing in for a token, what a token may, and how it ends."""

from datetime import timedelta

import pytest
from pytest_django import Settings

from qrecords.ledger.identifiers import new_id
from qrecords.people import actions as people
from qrecords.people.actions import TOKEN_LIFE
from qrecords.people.models import Token
from qrecords.people.passwords import seal
from qrecords.people.permissions import NEVER_BY_TOKEN, Action
from tests.api.caller import Caller
from tests.cast import PASSWORD, Workshop, own_password, start

ASKED = {"label": "tablet 4", "actions": ["read", "record work"]}


def test_name_and_password_give_a_token_whose_secret_is_never_shown_again(shop: Workshop) -> None:
    given = Caller.nobody(shop).post("tokens/", name="fitter", password=PASSWORD, **ASKED)
    assert given.status == 201
    assert given.document["actions"] == ["read", "record work"]
    listed = Caller.by_session(shop, "fitter").get("tokens/").document["results"]
    assert [token["label"] for token in listed] == ["tablet 4"]
    assert "secret" not in listed[0]
    assert given.document["secret"] not in Token.objects.values_list("secret_hash", flat=True)


@pytest.mark.parametrize(("name", "password"), [("fitter", "wrong"), ("nobody-here", PASSWORD)])
def test_a_wrong_name_and_a_wrong_password_are_told_apart_to_nobody(
    shop: Workshop, name: str, password: str
) -> None:
    refused = Caller.nobody(shop).post("tokens/", name=name, password=password, **ASKED)
    assert (refused.status, refused.code) == (401, "unknown-person")
    assert "belong together" in refused.document["detail"]


def test_after_too_many_failed_tries_even_the_right_password_waits(
    shop: Workshop, settings: Settings
) -> None:
    caller = Caller.nobody(shop)
    wrong = [
        caller.post("tokens/", name="fitter", password="wrong", **ASKED)
        for _ in range(settings.AXES_FAILURE_LIMIT)
    ]
    assert {answered.status for answered in wrong[:-1]} == {401}
    locked = caller.post("tokens/", name="fitter", password=PASSWORD, **ASKED)
    assert (locked.status, locked.code) == (429, "too-many-tries")
    assert int(locked.response["Retry-After"]) == 900
    assert Token.objects.count() == 0


def test_the_administrator_gets_no_token(shop: Workshop) -> None:
    refused = Caller.nobody(shop).post("tokens/", name="admin", password=PASSWORD, **ASKED)
    assert (refused.status, refused.code) == (403, "not-allowed")


@pytest.mark.parametrize("action", sorted(NEVER_BY_TOKEN))
def test_no_token_can_be_asked_for_an_act_of_authority(shop: Workshop, action: Action) -> None:
    asked = {"name": "engineer", "password": PASSWORD, "label": "x", "actions": [action.value]}
    refused = Caller.nobody(shop).post("tokens/", **asked)
    assert (refused.status, refused.code) == (400, "malformed")


def test_an_act_of_authority_is_barred_even_if_the_tokens_row_lists_it(shop: Workshop) -> None:
    job = start(shop)
    caller = Caller.by_token(shop, "inspector")
    Token.objects.update(actions=[action.value for action in Action])
    refused = caller.post(f"mountings/{job.mounting.id}/releases/", hold="fit", entry_id=job.mounting.id)
    assert (refused.status, refused.code) == (403, "never-by-token")


def test_a_token_does_only_what_it_was_made_for(shop: Workshop) -> None:
    job = start(shop)
    reader = Caller.by_token(shop, "fitter", "read")
    assert reader.get(f"mountings/{job.mounting.id}/").status == 200
    refused = reader.post(f"mountings/{job.mounting.id}/taps/", what="heater on")
    assert (refused.status, refused.code) == (403, "token-lacks")
    assert refused.document["facts"]["wanted"] == ["tap"]


def test_a_token_does_no_more_than_its_owner(shop: Workshop) -> None:
    auditor = Caller.by_token(shop, "auditor")
    refused = auditor.post("mountings/")
    assert (refused.status, refused.code) == (403, "not-allowed")
    assert "fitter" in refused.document["detail"]


def test_an_expired_token_is_no_token(shop: Workshop, fitter: Caller) -> None:
    shop.clock += TOKEN_LIFE + timedelta(minutes=1)
    refused = fitter.get("mountings/")
    assert (refused.status, refused.code) == (401, "token")
    assert refused.response["WWW-Authenticate"].startswith("Bearer")


def test_the_token_of_a_disabled_person_is_no_token(shop: Workshop, fitter: Caller) -> None:
    person = shop.people["fitter"]
    person.is_active = False
    person.save()
    assert fitter.get("mountings/").status == 401


def test_an_invented_token_is_no_token(shop: Workshop) -> None:
    caller = Caller.nobody(shop)
    caller.headers = {"Authorization": "Bearer x" * 3}
    assert (caller.get("mountings/").status, caller.get("mountings/").code) == (401, "token")


def test_nobody_is_asked_to_sign_in(shop: Workshop) -> None:
    refused = Caller.nobody(shop).get("mountings/")
    assert (refused.status, refused.code) == (401, "not-signed-in")


def test_a_token_signs_itself_out(shop: Workshop, fitter: Caller) -> None:
    assert fitter.delete("tokens/this/").status == 204
    assert fitter.get("mountings/").status == 401


def test_a_person_who_is_there_revokes_a_lost_token(shop: Workshop, fitter: Caller) -> None:
    here = Caller.by_session(shop, "fitter")
    token = here.get("tokens/").document["results"][0]
    assert here.delete(f"tokens/{token['id']}/").status == 204
    assert fitter.get("mountings/").status == 401


def test_nobody_revokes_anothers_token(shop: Workshop, fitter: Caller) -> None:
    other = Caller.by_session(shop, "inspector")
    assert other.delete(f"tokens/{Token.objects.get().id}/").status == 404
    assert fitter.get("mountings/").status == 200


def test_no_token_outlives_a_first_password_given_anew(shop: Workshop, fitter: Caller) -> None:
    people.give_first_password(
        acting=shop.proved("administrator"), entry_id=new_id(), site=shop.site, person=shop.people["fitter"],
        password=seal("tarnished anvil 77"),
    )  # fmt: skip
    own_password(shop.people["fitter"])
    assert (fitter.get("mountings/").status, fitter.get("mountings/").code) == (401, "token")


def test_no_token_outlives_the_own_password_it_was_made_under(shop: Workshop, fitter: Caller) -> None:
    people.choose_password(
        acting=shop.proved("fitter"), entry_id=new_id(), password=seal("tarnished anvil 78")
    )
    assert (fitter.get("mountings/").status, fitter.get("mountings/").code) == (401, "token")


def test_a_token_neither_lists_nor_revokes_its_siblings(shop: Workshop, fitter: Caller) -> None:
    assert fitter.get("tokens/").code == "never-by-token"
    assert fitter.delete(f"tokens/{Token.objects.get().id}/").code == "never-by-token"


def test_a_change_by_session_needs_its_csrf_token(shop: Workshop) -> None:
    caller = Caller.by_session(shop, "inspector")
    caller.client.handler.enforce_csrf_checks = True
    job = start(shop)
    refused = caller.post(f"mountings/{job.mounting.id}/releases/", hold="fit", entry_id=job.mounting.id)
    assert (refused.status, refused.code) == (403, "csrf")
    assert caller.get(f"mountings/{job.mounting.id}/").status == 200
