"""Tokens: the secret is shown once, only what a token may do is offered, its owner stops it."""

import pytest

from qrecords.people.models import Token
from qrecords.people.permissions import Action
from tests.cast import Workshop
from tests.web.people_hand import read, send

pytestmark = pytest.mark.django_db


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
