"""Every operation against every role, and nobody; the table of rights is the expectation."""

import pytest

from qrecords.api.operations import Operation
from qrecords.people.models import Token
from qrecords.people.permissions import NEVER_BY_TOKEN, TABLE, Action, Role, Scope
from tests.api.addresses import every_operation, filled
from tests.api.caller import Caller
from tests.api.two_sites import all_ids_of
from tests.cast import ROLES, Workshop, start

PEOPLE = {name: role for name, role in ROLES.items() if name != "second_fitter"} | {
    "administrator": Role.ADMINISTRATOR
}
OPERATIONS = [
    (address, method, operation)
    for address, method, operation in every_operation()
    if Action.PUBLIC not in operation.rights
]

ON, DRAFT, BACK = "mountings/<uuid:mounting>/", "procedures/drafts/<uuid:id>/", "look-backs/<uuid:id>/"
AUTHORITY = {
    # Of one mounting: withdrawing, releases, decisions, returns, signatures and what follows them.
    f"POST {ON}withdrawal/", f"POST {ON}ready/", f"POST {ON}releases/", f"POST {ON}releases/telephone/",
    f"POST {ON}points/waived/", f"POST {ON}decisions/", f"POST {ON}drawings/", f"POST {ON}returns/",
    f"POST {ON}signatures/", f"POST {ON}re-reviews/", f"POST {ON}amendments/",
    # Of a rebuild, and of a bearing that lies somewhere.
    "POST rebuilds/<uuid:id>/release/", "POST bearings/<uuid:id>/clearances/",
    "POST bearings/<uuid:id>/scrapping/",
    # Procedures put in force.
    "POST procedures/", f"POST {DRAFT}approvals/", f"POST {DRAFT}refusals/",
    # Look-backs, and what becomes of a mounting in doubt.
    "POST look-backs/", f"POST {BACK}actions/", f"POST {BACK}answers/", f"POST {BACK}end/",
    # Who may do what: read and written by who assesses; and tokens themselves.
    "GET people/", "GET competences/", "POST competences/", "GET eyesight/", "POST eyesight/",
    "GET tokens/", "DELETE tokens/<uuid:token>/",
}  # fmt: skip
"""Counted by hand from the table of rights: every operation that asks only for what a token never does.
The release on another's device asks for a person there in its own way (below)."""


def may(operation: Operation, role: Role) -> bool:
    if Action.SIGNED_IN in operation.rights:
        return True
    cells = [TABLE[action].get(role) for action in operation.rights]
    return any(cell is not None and cell.scope > Scope.NONE for cell in cells)


def test_only_signing_in_the_document_and_the_schemas_ask_for_nobody() -> None:
    public = {address for address, _, operation in every_operation() if Action.PUBLIC in operation.rights}
    assert public == {"openapi.json", "schemas/<str:name>/", "tokens/"}


@pytest.mark.parametrize("who", PEOPLE)
def test_a_role_comes_in_where_the_table_says_and_nowhere_else(shop: Workshop, who: str) -> None:
    job = start(shop)
    caller = Caller.by_session(shop, who)
    ids = all_ids_of(job, entry=job.mounting.id, token=job.mounting.id, tap=job.mounting.id, sha256="0" * 64,
                     digest=job.mounting.procedure_digest)  # fmt: skip
    for address, method, operation in OPERATIONS:
        answered = caller.send(method, filled(address, ids), b"" if method in ("GET", "DELETE") else b"{}")
        refused = answered.status == 403 and answered.code == "not-allowed"
        assert refused != may(operation, PEOPLE[who]), (who, method, address, answered)


def test_nobody_comes_in_anywhere(shop: Workshop) -> None:
    ids = all_ids_of(start(shop), entry=shop.site, token=shop.site, tap=shop.site, sha256="0", digest="0")
    for address, method, _ in OPERATIONS:
        answered = Caller.nobody(shop).send(method, filled(address, ids), b"{}")
        assert (answered.status, answered.code) == (401, "not-signed-in"), (method, address)


@pytest.mark.parametrize("who", [name for name in PEOPLE if name != "administrator"])
def test_a_token_never_does_an_act_of_authority_whoever_owns_it(shop: Workshop, who: str) -> None:
    job = start(shop)
    caller = Caller.by_token(shop, who)
    Token.objects.update(actions=[action.value for action in Action])
    ids = all_ids_of(job, token=shop.site)
    authority = [
        (address, method)
        for address, method, operation in OPERATIONS
        if all(action in NEVER_BY_TOKEN for action in operation.rights)
    ]
    assert {f"{method} {address}" for address, method in authority} == AUTHORITY
    assert len(authority) == len(AUTHORITY) == 28
    for address, method in authority:
        answered = caller.send(method, filled(address, ids), b"{}")
        assert (answered.status, answered.code) == (403, "never-by-token"), (method, address)


def test_the_inspectors_own_sign_in_needs_a_person_on_the_device_too(shop: Workshop) -> None:
    job = start(shop)
    answered = Caller.by_token(shop, "fitter").post(f"mountings/{job.mounting.id}/releases/here/")
    assert (answered.status, answered.code) == (403, "never-by-token")
