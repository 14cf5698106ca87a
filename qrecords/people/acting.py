"""An act: who does it, through whose session, how surely, when and where."""

import uuid
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Final

from qrecords.ledger.envelope import Identity, Known
from qrecords.people import queries
from qrecords.people.errors import FirstPasswordError, NotAllowedError, ProveAgainError
from qrecords.people.models import Person
from qrecords.people.permissions import NEVER_BY_TOKEN, Action, Cell, Scope

SESSION: Final = "session"
PIN: Final = "pin"
PROVED: Final = "proved"


@dataclass(frozen=True)
class Acting:
    """The circumstances of one act; the edge makes it, every action takes it.

    `author` did it, `sender`'s session sent it (the inspector may prove himself on the fitter's tablet).
    `identity` says how surely: session, pin, or proved at the act. `now` is the server's clock, `at_device`
    the device's. `token_actions` limits what a token may do; None means a person is there.
    """

    author: Person
    now: datetime
    sender: Person | None = None
    identity: Identity = SESSION
    at_device: datetime | None = None
    zone: str = "UTC"
    device: str | None = None
    counter: int | None = None
    known: Known | None = None
    token_actions: frozenset[Action] | None = field(default=None)

    @property
    def act_time(self) -> datetime:
        """The device's time of the act, or the server's where the device told none."""
        return self.at_device or self.now

    def proved(self) -> "Acting":
        return replace(self, identity=PROVED)


def require(acting: Acting, action: Action, site: uuid.UUID, *, own: bool = False) -> Cell:
    """The right to act; raises NotAllowedError, ProveAgainError or, for an act of authority under a password
    that its giver knows too, FirstPasswordError. A device chooses its own time: authority has to be held both
    then and on receipt; for a fact either will do, and where only one holds, that is judged."""
    if acting.token_actions is not None and action not in acting.token_actions:
        raise NotAllowedError(action, site)
    if not acting.author.is_active:
        raise NotAllowedError(action, site)
    if action in NEVER_BY_TOKEN and acting.author.first_password:
        raise FirstPasswordError
    then = queries.rights_of(acting.author.id, acting.act_time)
    now = then if acting.at_device is None else queries.rights_of(acting.author.id, acting.now)
    rights = then & now if action in NEVER_BY_TOKEN else then | now
    cell = rights.at(action, site, own=own)
    if cell.scope == Scope.NONE:
        raise NotAllowedError(action, site)
    if cell.prove_again and acting.identity != PROVED:
        raise ProveAgainError(action)
    return cell
