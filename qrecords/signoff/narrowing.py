"""What a procedure leaves to fewer roles than the table of rights gives it to; it never gives more."""

import uuid
from datetime import datetime

from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.people.queries import rights_of
from qrecords.signoff.errors import LeftToOthersError
from qrecords.steps.procedure import Procedure
from qrecords.workshop.procedures import DECIDES


def taken_away(procedure: Procedure, person: uuid.UUID, site: uuid.UUID, at: datetime) -> frozenset[Action]:
    """The rights of this person that the procedure leaves to others; one query, and none where it says
    nothing of them."""
    if not procedure.may_decide:
        return frozenset()
    held = {role.value for role, where in rights_of(person, at).grants if where == site}
    return frozenset(DECIDES[kind] for kind, roles in procedure.may_decide.items() if not held & roles)


def require_left(acting: Acting, procedure: Procedure, kind: str, site: uuid.UUID) -> None:
    """LeftToOthersError where the procedure leaves this decision to roles that the author does not hold."""
    if DECIDES.get(kind) in taken_away(procedure, acting.author.id, site, acting.now):
        raise LeftToOthersError(kind, sorted(procedure.may_decide[kind]))
