"""What the caller has to read himself before the API shows it."""

from rest_framework.request import Request

from qrecords.api import door
from qrecords.api.door import person_of
from qrecords.mountings.displays import heard
from qrecords.mountings.models import Mounting
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.steps.case import Case
from qrecords.steps.sealed import Sealed, sealed_for


def sealed_on(request: Request, mounting: Mounting, case: Case) -> Sealed:
    """What this record keeps back from the caller now. A token has read no display."""
    person = person_of(request)
    where = reach(person.id, Action.CHECK, door.now())
    return sealed_for(
        case,
        str(person.id),
        may_check=where.everywhere or mounting.site in where.sites,
        read_display=bool(heard(request.session, mounting.id)),
    )
