"""When a rebuild may be released, from what its records say, without a database."""

from dataclasses import replace

import pytest

from qrecords.steps.rebuild import Attempt, Place, empty_places, refuse_rebuild_release
from qrecords.steps.transitions import CLOSED, State

SIGNED = Attempt("m1", "26-0001", State.SIGNED_OFF, frozenset({"fitter"}))
BARE = Place("j9", "2, middle")


def place(*states: State, journal: str = "j1") -> Place:
    attempts = (
        Attempt(f"m{n}", f"26-000{n}", state, frozenset({"fitter"})) for n, state in enumerate(states)
    )
    return Place(journal, f"1, {journal}", tuple(attempts))


def refused(
    *places: Place, left_out: dict[str, str] | None = None, by: str = "inspector", released: bool = False
) -> str:
    refusal = refuse_rebuild_release(places, left_out or {}, by, released=released)
    return refusal.code if refusal else ""


@pytest.mark.parametrize("state", State)
def test_only_a_mounting_that_is_closed_lets_the_others_go(state: State) -> None:
    other = place(state, journal="j2")
    expected = {State.SIGNED_OFF: ""}.get(state, "places-without-mounting")
    if state not in CLOSED:
        expected = "mountings-open"
    assert refused(place(State.SIGNED_OFF), other) == expected


@pytest.mark.parametrize(
    ("states", "carried"),
    [
        ((State.SIGNED_OFF,), True),
        ((State.SCRAPPED, State.SIGNED_OFF), True),
        ((State.SIGNED_OFF, State.WITHDRAWN), True),
        ((State.SIGNED_OFF, State.REWORKED), False),
        ((State.WITHDRAWN,), False),
        ((), False),
    ],
)
def test_the_newest_that_was_meant_counts(states: tuple[State, ...], carried: bool) -> None:
    assert place(*states).carried is carried
    assert (place(*states) in empty_places([place(*states)])) is not carried


def test_a_bare_place_is_left_out_by_name_and_no_other() -> None:
    signed = place(State.SIGNED_OFF)
    assert refused(signed, BARE) == "places-without-mounting"
    assert refused(signed, BARE, left_out={"j9": "sleeve bearing"}) == ""
    assert refused(signed, left_out={"j1": "no"}) == "left-out-but-mounted"
    assert refused(signed, left_out={"elsewhere": "no"}) == "left-out-but-mounted"
    scrapped = place(State.SCRAPPED, journal="j2")
    assert refused(signed, scrapped, left_out={"j2": "later"}) == "left-out-but-mounted"


def test_a_place_whose_bearing_came_off_after_its_sign_off_carries_none() -> None:
    off = Place("j2", "1, NDE", (replace(SIGNED, off=True),))
    assert not off.carried and not off.may_be_left_out
    assert refused(place(State.SIGNED_OFF), off) == refused(off) == "bearing-not-on"
    earlier = Place("j2", "1, NDE", (replace(SIGNED, off=True), replace(SIGNED, mounting="m2")))
    assert refused(place(State.SIGNED_OFF), earlier) == ""


def test_nobody_releases_what_he_worked_on_even_in_an_attempt_that_was_withdrawn() -> None:
    assert refused(place(State.SIGNED_OFF), by="fitter") == "worked-on-rebuild"
    withdrawn = Place("j2", "1, j2", (Attempt("m9", "26-0009", State.WITHDRAWN, frozenset({"inspector"})),))
    assert refused(place(State.SIGNED_OFF), withdrawn, left_out={"j2": "none"}) == "worked-on-rebuild"


def test_it_is_released_once_and_not_while_nothing_is_signed() -> None:
    assert refused(place(State.SIGNED_OFF), released=True) == "rebuild-released"
    assert refused(BARE, left_out={"j9": "none"}) == "nothing-mounted"
    assert refused() == "nothing-mounted"
    assert Place("j", "n", (SIGNED,)).standing == SIGNED
