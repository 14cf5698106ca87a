"""Independence (DESIGN section 4) at every door: whatever the roles held, nobody judges his own work."""

import html

import pytest

from qrecords.people.permissions import Action, Role
from tests.kept import once
from tests.rights import api_doors, web_doors
from tests.rights.scenes import Came, Door, Hand, doubtful, given, measured, opened

pytestmark = pytest.mark.django_db
EDGES = {"web": web_doors, "api": api_doors}
JUDGING = {
    Action.RELEASE, Action.MEASURE_AGAIN, Action.REWORK, Action.ACCEPT, Action.SCRAP, Action.CONCEDE,
    Action.QUARANTINE, Action.WAIVE,
    Action.RETURN, Action.SIGN,
}  # fmt: skip
"""What is done about the work of others."""
NOBODYS_OWN = (
    "Who worked on this mounting neither releases nor decides, returns or signs it: somebody else does."
)


def doors(*acts: Action) -> list[object]:
    return [
        pytest.param(edge, door, id=f"{edge} {door.act.value} {door.at}")
        for edge, module in EDGES.items()
        for door in module.DOORS
        if door.act in acts
    ]


def refused(edge: str, hand: Hand, came: Came, code: str, words: str) -> bool:
    """Nothing came of it, and it was said why: on a page in words, at the API by its code."""
    if edge == "api":
        return not hand.left() and (came.status, came.code) == (403, code)
    return not hand.left() and words in html.unescape(came.words)


@pytest.mark.parametrize(("edge", "door"), doors(*JUDGING))
def test_who_worked_on_it_neither_releases_nor_decides_nor_returns_nor_signs(edge: str, door: Door) -> None:
    job = once(door.scene)
    given(job, "fitter", Role.INSPECTOR, Role.ENGINEER)
    hand = Hand(job, "fitter")
    came = door.do(hand)
    assert refused(edge, hand, came, "not-independent", NOBODYS_OWN), came
    assert edge == "api" or came.status == (door.turned_away[0] if door.turned_away else 403)


@pytest.mark.parametrize(("edge", "door"), doors(*JUDGING))
def test_who_only_checked_may(edge: str, door: Door) -> None:
    """The same two roles and a check capture: what bars is work."""
    job = once(door.scene)
    given(job, "inspector", Role.ENGINEER)
    job.say("identification", who="inspector", check=True, package="intact")
    hand = Hand(job, "inspector")
    came = door.do(hand)
    assert (door.leaves, str(hand.person.id)) in hand.said(), came


@pytest.mark.parametrize(("edge", "door"), doors(Action.READY))
def test_who_performed_nothing_does_not_sign_that_it_was_performed(edge: str, door: Door) -> None:
    hand = Hand(once(measured), "second_fitter")
    came = door.do(hand)
    words = "Who signs that the work was performed has recorded a part of it: you have not."
    assert refused(edge, hand, came, "not-performed", words), came


@pytest.mark.parametrize(("edge", "door"), doors(Action.CONCEDE))
def test_who_took_a_reading_grants_no_concession_that_rests_on_it(edge: str, door: Door) -> None:
    job = once(doubtful)
    unit = "um from 60 mm"
    job.say("measurement", who="engineer", check=True, reason="measured myself", journal__B__0=("30", unit))
    hand = Hand(job, "engineer")
    came = door.do(hand)
    words = "Who took a reading grants no concession that rests on it: another engineer does."
    assert refused(edge, hand, came, "own-reading", words), came


@pytest.mark.parametrize("edge", EDGES)
def test_who_worked_on_what_does_not_conform_does_not_withdraw_it(edge: str) -> None:
    hand = Hand(once(doubtful), "fitter")
    reason = "the wrong shaft"
    came = hand.on("withdraw", reason=reason) if edge == "web" else hand.act("withdrawal/", reason=reason)
    words = "Who opened it or worked on it does not withdraw it while this is undecided"
    assert refused(edge, hand, came, "engineer-withdraws", words), came


def test_nobody_records_his_own_competence() -> None:
    hand = Hand(once(opened), "quality")
    came = hand.form("competence-new", **web_doors.competence_of(hand.person.id, hand.person.id))
    assert refused("web", hand, came, "", "Nobody assesses himself, and nobody records his own competence.")


def test_nobody_gives_himself_a_role() -> None:
    hand = Hand(once(opened), "administrator")
    came = hand.form("person", hand.person.id, role="auditor")
    assert refused("web", hand, came, "", "Nobody gives himself a role: another administrator does.")
