"""Every cell of the table of rights: here, elsewhere, proved or not, by token, after its end, closed."""

import uuid
from dataclasses import replace
from datetime import timedelta

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.people import actions as people
from qrecords.people.acting import PROVED, SESSION, Acting, require
from qrecords.people.actions import end_role
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.people.models import Person, RoleGrant
from qrecords.people.passwords import seal
from qrecords.people.permissions import NEVER_BY_TOKEN, NO, TABLE, Action, Cell, Role, Scope, best_cell
from tests.cast import PASSWORD, Workshop, make_workshop, own_password

pytestmark = pytest.mark.django_db
WHO = {Role.QUALITY: "quality"}
CELLS = [(action, role, TABLE[action].get(role, NO)) for action in TABLE for role in Role]
OTHER_SITE = uuid.UUID(int=99)


@pytest.fixture
def shop() -> Workshop:
    """The cast, and one who has only the role of a stand-in."""
    shop = make_workshop()
    only = people.enrol(
        acting=shop.proved("administrator"), site=shop.site, person_id=new_id(), sign_in="stand-in",
        name="S. Tand", password=seal(PASSWORD),
    )  # fmt: skip
    shop.people[Role.STAND_IN] = own_password(only)
    people.grant_role(
        acting=shop.proved("administrator"),
        site=shop.site,
        grant_id=new_id(),
        person=only,
        role=Role.STAND_IN,
    )
    return shop


def acting(shop: Workshop, role: Role) -> Acting:
    """An act of the only person of the cast with this role, proved at the act."""
    person = shop.people[WHO.get(role, role.value)]
    return Acting(author=person, now=shop.clock, identity=PROVED)


def may(act: Acting, action: Action, site: uuid.UUID, *, own: bool = True) -> bool:
    try:
        require(act, action, site, own=own)
    except NotAllowedError:
        return False
    return True


def differing(shop: Workshop, wanted: "dict[Scope, bool]", **how: object) -> list[tuple[Action, Role]]:
    """The cells where `may` does not answer as its scope asks."""
    site = how.pop("site", shop.site)
    own = bool(how.pop("own", True))
    return [
        (action, role)
        for action, role, cell in CELLS
        if may(replace(acting(shop, role), **how), action, site, own=own) != wanted[cell.scope]  # type: ignore[arg-type]
    ]


def test_the_table_has_every_action_and_some_cells_of_each_scope() -> None:
    assert {action for action, _role, _cell in CELLS} == set(Action) - {Action.PUBLIC, Action.SIGNED_IN}
    assert {cell.scope for _action, _role, cell in CELLS} == set(Scope)


def test_at_ones_site_what_the_table_gives_is_allowed_and_nothing_else(shop: Workshop) -> None:
    wanted = {Scope.NONE: False, Scope.OWN: True, Scope.SITE: True, Scope.ALL: True}
    assert differing(shop, wanted) == []


def test_what_is_not_ones_own_needs_more_than_the_right_to_ones_own(shop: Workshop) -> None:
    wanted = {Scope.NONE: False, Scope.OWN: False, Scope.SITE: True, Scope.ALL: True}
    assert differing(shop, wanted, own=False) == []


def test_at_another_site_only_the_right_everywhere_counts(shop: Workshop) -> None:
    wanted = {Scope.NONE: False, Scope.OWN: False, Scope.SITE: False, Scope.ALL: True}
    assert differing(shop, wanted, site=OTHER_SITE) == []


def test_where_identity_is_to_be_proved_a_session_is_not_enough(shop: Workshop) -> None:
    asked = set()
    for action, role, cell in CELLS:
        if cell.scope == Scope.NONE:
            continue
        try:
            require(replace(acting(shop, role), identity=SESSION), action, shop.site, own=True)
        except ProveAgainError:
            asked.add((action, role))
    assert asked == {(action, role) for action, role, cell in CELLS if cell.prove_again}
    assert (Action.SIGN, Role.INSPECTOR) in asked


def test_a_token_does_nothing_that_is_not_on_its_list(shop: Workshop) -> None:
    nothing = dict.fromkeys(Scope, False)
    assert differing(shop, nothing, token_actions=frozenset()) == []


def test_a_token_gives_no_right_that_its_person_has_not(shop: Workshop) -> None:
    wanted = {Scope.NONE: False, Scope.OWN: True, Scope.SITE: True, Scope.ALL: True}
    assert differing(shop, wanted, token_actions=frozenset(TABLE)) == []


def test_acts_of_authority_are_never_on_a_tokens_list() -> None:
    proved_again = {action for action, _role, cell in CELLS if cell.prove_again}
    assert proved_again <= NEVER_BY_TOKEN
    assert {Action.RELEASE, Action.SIGN, Action.CONCEDE, Action.PROCEDURE} <= NEVER_BY_TOKEN


def test_a_closed_account_may_nothing(shop: Workshop) -> None:
    for person in shop.people.values():
        person.is_active = False
    assert differing(shop, dict.fromkeys(Scope, False)) == []


def test_an_ended_role_gives_nothing_from_then_on_and_what_it_gave_before(shop: Workshop) -> None:
    earlier = shop.clock
    for grant in RoleGrant.objects.exclude(role=Role.ADMINISTRATOR.value):
        end_role(acting=shop.proved("administrator"), entry_id=new_id(), grant=grant)
    for action, role, cell in CELLS:
        if role == Role.ADMINISTRATOR or cell.scope == Scope.NONE:
            continue
        now = replace(acting(shop, role), now=shop.clock + timedelta(minutes=1))
        before = replace(now, at_device=earlier)
        assert not may(now, action, shop.site)
        # A fact is judged by the moment it happened; an act of authority needs the right now as well, for a
        # device chooses its own time.
        assert may(before, action, shop.site) == (action not in NEVER_BY_TOKEN)


def test_a_clock_before_a_role_began_keeps_no_fact_out_and_lets_no_authority_in(shop: Workshop) -> None:
    for action, role, cell in CELLS:
        if cell.scope == Scope.NONE:
            continue
        early = replace(acting(shop, role), at_device=shop.clock - timedelta(days=400))
        assert may(early, action, shop.site) == (action not in NEVER_BY_TOKEN)


def test_a_person_without_a_role_may_nothing(shop: Workshop) -> None:
    nobody = Person.objects.create(id=new_id(), sign_in="nobody")
    act = Acting(author=nobody, now=shop.clock, identity=PROVED)
    assert not any(may(act, action, shop.site) for action in TABLE)


def test_the_administrator_neither_records_nor_signs_nor_reads_a_record() -> None:
    mine = {action for action in TABLE if best_cell([Role.ADMINISTRATOR], action) != NO}
    assert mine == {Action.PEOPLE, Action.VERIFY}


def test_of_two_roles_the_wider_right_counts() -> None:
    assert best_cell([Role.AUDITOR, Role.INSPECTOR], Action.READ) == Cell(Scope.ALL)
    assert best_cell([Role.FITTER, Role.ADMINISTRATOR], Action.READ) == Cell(Scope.SITE)
    assert best_cell([], Action.READ) == NO
