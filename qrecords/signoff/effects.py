"""Who acts with which roles, and what a decision does to the bearing itself."""

from datetime import date

from qrecords.ledger.models import Entry
from qrecords.mountings.actions.bearing_life import LONGEST, set_aside
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.bounds import zone_of
from qrecords.people.queries import rights_of
from qrecords.proof.canonical import parse_canonical
from qrecords.proof.identifiers import following


def roles_of(acting: Acting, mounting: Mounting) -> tuple[str, ...]:
    """The roles that the author holds at the mounting's site now; one query."""
    return tuple(role.value for role in rights_of(acting.author.id, acting.now).roles_at(mounting.site))


def today(acting: Acting) -> date:
    """The day on which an act of authority is done, in the zone it is done in."""
    return acting.now.astimezone(zone_of(acting.zone)).date()


def quarantine(acting: Acting, mounting: Mounting, decision: Entry) -> None:
    """Set the bearing aside as the decision says: an entry about the bearing, beside the one about the
    mounting."""
    reason = str(parse_canonical(bytes(decision.payload))["reason"])
    set_aside(
        acting=acting,
        entry_id=following(decision.id, "quarantine"),
        bearing=mounting.bearing,
        on=today(acting),
        why=" ".join(reason.split())[:LONGEST],
    )
