"""The right to act is asked in one place: what a page offers is what the act allows."""

import uuid
from pathlib import Path

import pytest

from qrecords.people.permissions import TABLE, Action, Role, Scope
from qrecords.people.queries import Rights

SOURCE = Path(__file__).parent.parent.parent / "qrecords"
HERE, ELSEWHERE = uuid.UUID(int=1), uuid.UUID(int=2)


def test_nobody_outside_people_reads_the_table_of_rights_for_himself() -> None:
    asking = [
        file.relative_to(SOURCE).as_posix()
        for file in SOURCE.rglob("*.py")
        if any(word in file.read_text(encoding="utf-8") for word in ("best_cell", "grants_at"))
    ]
    assert {name.split("/")[0] for name in asking} == {"people"}


@pytest.mark.parametrize("role", Role)
@pytest.mark.parametrize("action", list(TABLE))
def test_a_right_holds_at_its_own_site_and_elsewhere_only_if_it_reaches_everywhere(
    role: Role, action: Action
) -> None:
    rights = Rights(((role, HERE),))
    scope = TABLE[action][role].scope if role in TABLE[action] else Scope.NONE
    assert (rights.at(action, HERE).scope >= Scope.SITE) == (scope >= Scope.SITE)
    assert (rights.at(action, ELSEWHERE).scope != Scope.NONE) == (scope == Scope.ALL)
    assert rights.somewhere(action) == (scope > Scope.NONE)
    assert rights.where(action).everywhere == (scope == Scope.ALL)


@pytest.mark.parametrize("action", [Action.SIGN, Action.RELEASE, Action.CHECK])
def test_without_one_role_what_the_others_give_is_left(action: Action) -> None:
    stands_in = Rights(((Role.FITTER, HERE), (Role.STAND_IN, HERE), (Role.INSPECTOR, ELSEWHERE)))
    assert stands_in.at(action, HERE).scope == Scope.SITE
    assert stands_in.without(Role.STAND_IN).at(action, HERE).scope == Scope.NONE
    assert stands_in.without(Role.STAND_IN).at(action, ELSEWHERE).scope == Scope.SITE


def test_what_is_ones_own_is_no_right_over_what_is_others() -> None:
    rights = Rights(((Role.FITTER, HERE),))
    assert rights.at(Action.TOKENS, HERE, own=True).scope == Scope.OWN
    assert rights.at(Action.TOKENS, HERE).scope == Scope.NONE
