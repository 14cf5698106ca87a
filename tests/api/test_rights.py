"""Every operation against every role, and nobody; the table of rights is the expectation."""

import pytest

from qrecords.api.operations import Operation
from qrecords.people.models import Token
from qrecords.people.permissions import NEVER_BY_TOKEN, TABLE, Action, Role, Scope
from tests.api.addresses import every_operation, filled
from tests.api.caller import Caller
from tests.api.two_sites import ids_of
from tests.cast import ROLES, Workshop, start

PEOPLE = {name: role for name, role in ROLES.items() if name != "second_fitter"} | {
    "administrator": Role.ADMINISTRATOR
}
OPERATIONS = [
    (address, method, operation)
    for address, method, operation in every_operation()
    if Action.PUBLIC not in operation.rights
]


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
    ids = ids_of(job, entry=job.mounting.id, token=job.mounting.id, tap=job.mounting.id, sha256="0" * 64,
                 digest=job.mounting.procedure_digest)  # fmt: skip
    for address, method, operation in OPERATIONS:
        answered = caller.send(method, filled(address, ids), b"" if method in ("GET", "DELETE") else b"{}")
        refused = answered.status == 403 and answered.code == "not-allowed"
        assert refused != may(operation, PEOPLE[who]), (who, method, address, answered)


def test_nobody_comes_in_anywhere(shop: Workshop) -> None:
    ids = ids_of(start(shop), entry=shop.site, token=shop.site, tap=shop.site, sha256="0", digest="0")
    for address, method, _ in OPERATIONS:
        answered = Caller.nobody(shop).send(method, filled(address, ids), b"{}")
        assert (answered.status, answered.code) == (401, "not-signed-in"), (method, address)


@pytest.mark.parametrize("who", [name for name in PEOPLE if name != "administrator"])
def test_a_token_never_does_an_act_of_authority_whoever_owns_it(shop: Workshop, who: str) -> None:
    job = start(shop)
    caller = Caller.by_token(shop, who)
    Token.objects.update(actions=[action.value for action in Action])
    ids = ids_of(job, token=shop.site)
    authority = [
        (address, method)
        for address, method, operation in OPERATIONS
        if all(action in NEVER_BY_TOKEN for action in operation.rights)
    ]
    assert len(authority) == 13
    for address, method in authority:
        answered = caller.send(method, filled(address, ids), b"{}")
        assert (answered.status, answered.code) == (403, "never-by-token"), (method, address)


def test_the_inspectors_own_sign_in_needs_a_person_on_the_device_too(shop: Workshop) -> None:
    job = start(shop)
    answered = Caller.by_token(shop, "fitter").post(f"mountings/{job.mounting.id}/releases/here/")
    assert (answered.status, answered.code) == (403, "never-by-token")
