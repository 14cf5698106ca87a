"""Every cell of the table of rights at every door of pages and API: who may does it and it stands in the
record; who may not is told what it needs, and nothing is left.

An act without a door is named with its reason. A new act or a new address fails here until it has a row.
"""

import html
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from django.db import transaction
from django.http import HttpResponseNotAllowed

from qrecords.people.errors import NotAllowedError
from qrecords.people.permissions import NO, TABLE, Action, Role, Scope
from tests.api.addresses import every_operation
from tests.kept import once
from tests.rights import api_doors, web_doors
from tests.rights.scenes import Came, Door, Hand, given, opened
from tests.web.test_every_address import PAGES, ROLES, filled

pytestmark = pytest.mark.django_db
SOURCE = Path(__file__).parent.parent.parent / "qrecords"
EDGES = {"web": web_doors, "api": api_doors}
DOORS = [(edge, door) for edge, doors in EDGES.items() for door in doors.DOORS]
NAMED = [f"{edge} {door.act.value} {door.at}" for edge, door in DOORS]
ASKED: dict[str, tuple[Action, ...]] = {
    **{page.name: (page.action,) for page in PAGES if page.action},
    **{f"{method} {address}": operation.rights for address, method, operation in every_operation()},
}
"""What each address asks before it looks at what is to be done."""


@contextmanager
def tried() -> Iterator[None]:
    """What is done inside is taken back, so that the next one finds the same."""
    before = transaction.savepoint()
    try:
        yield
    finally:
        transaction.savepoint_rollback(before)


def may(act: Action, role: Role, *, mine: bool) -> bool:
    scope = TABLE[act].get(role, NO).scope
    return scope > Scope.OWN or (scope == Scope.OWN and mine)


def done(door: Door, hand: Hand, came: Came) -> bool:
    """It was answered as done, and stands in the record under the hand's own name."""
    if not door.leaves:
        return came.status == 200 and not hand.left()
    return came.status in (200, 201, 204, 302) and (door.leaves, str(hand.person.id)) in hand.said()


def refusal(edge: str, door: Door, role: Role, *, mine: bool) -> tuple[int, str]:
    """The status and words that turn a role away: first what the address asks, then the act's own right."""
    if door.turned_away:
        return door.turned_away
    if not mine and TABLE[door.act].get(role, NO).scope == Scope.OWN and door.not_mine != 403:
        return door.not_mine, ""
    asked = [action for action in ASKED[door.at] if action in TABLE]
    lacking = asked and not any(may(action, role, mine=True) for action in asked)
    return 403, str(NotAllowedError(asked[0] if lacking else door.act, None))


@pytest.mark.parametrize(("edge", "door"), DOORS, ids=NAMED)
def test_who_may_does_it_and_who_may_not_is_told_what_it_needs(edge: str, door: Door) -> None:
    job, wrong = once(door.scene), []
    for who, role in ROLES.items():
        for mine in (True, False) if door.not_mine else (True,):
            with tried():
                hand = Hand(job, who, mine=mine)
                came = door.do(hand)
                if may(door.act, role, mine=mine):
                    right = done(door, hand, came)
                else:
                    status, words = refusal(edge, door, role, mine=mine)
                    right = came.status == status and words in html.unescape(came.words) and not hand.left()
                if not right:
                    wrong.append((who, mine, came.status, came.code, came.words[-300:], hand.said()))
    assert wrong == []


PROVED = [(edge, door) for edge, door in DOORS if any(cell.prove_again for cell in TABLE[door.act].values())]


@pytest.mark.parametrize(("edge", "door"), PROVED, ids=[f"{edge} {d.act.value} {d.at}" for edge, d in PROVED])
def test_without_the_password_nothing_comes_of_what_asks_for_it(edge: str, door: Door) -> None:
    job = once(door.scene)
    for who, role in ROLES.items():
        if TABLE[door.act].get(role, NO).prove_again:
            with tried():
                hand = Hand(job, who, password="")
                came = door.do(hand)
                assert "password" in came.words and not hand.left(), (who, came)
                assert edge == "web" or (came.status, came.code) == (403, "prove-again")


def test_every_act_of_the_table_has_a_door_or_says_why_it_has_none() -> None:
    for edge, doors in EDGES.items():
        with_door = {door.act for door in doors.DOORS}
        assert with_door | set(doors.NO_DOOR) == set(TABLE), edge
        assert not with_door & set(doors.NO_DOOR), edge


def test_where_an_act_has_no_door_no_address_asks_for_it_and_nothing_does_it() -> None:
    for edge, doors in EDGES.items():
        own = {page.name for page in PAGES} if edge == "web" else set(ASKED) - {page.name for page in PAGES}
        sources = [file.read_text(encoding="utf-8") for file in (SOURCE / edge).rglob("*.py")]
        for act, none in doors.NO_DOOR.items():
            assert none.why
            assert [address for address in own if act in ASKED[address]] == []
            assert not any(re.search(rf"\b{re.escape(none.by)}\b", source) for source in sources), none


def test_every_operation_that_writes_is_walked() -> None:
    writing = {f"{method} {address}" for address, method, _ in every_operation() if method != "GET"}
    walked = {door.at for door in api_doors.DOORS if not door.at.startswith("GET ")}
    assert writing == walked | set(api_doors.NO_ACT)


def test_every_page_that_takes_a_form_is_walked() -> None:
    """A page that takes none answers *method not allowed* to whoever may see it."""
    job = once(opened)
    taking = set()
    for page in PAGES:
        with tried():
            given(job, "second_fitter", *Role)
            answer = Hand(job, "second_fitter").client.post(filled(page, job))
            taking |= {page.name} if answer.status_code != HttpResponseNotAllowed.status_code else set()
    walked = {door.at for door in web_doors.DOORS if door.leaves}
    assert taking == walked | set(web_doors.NO_ACT)
