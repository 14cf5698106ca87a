"""Who reads: the mounting within their reach, the zone of their device, their figures."""

import json
import uuid
from datetime import UTC, datetime
from typing import Any

from django.conf import settings
from django.http import HttpRequest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.displays import heard
from qrecords.mountings.errors import SealedError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, mounting_for
from qrecords.people.permissions import Action
from qrecords.steps.case import Case
from qrecords.steps.sealed import Sealed, sealed_for
from qrecords.web.door import person_of
from qrecords.web.inspector.rights import rights_at
from qrecords.web.navigation import bar_of


def mounting_of(request: HttpRequest, id: uuid.UUID, action: Action) -> Mounting:
    """The mounting on which the reader may do this; UnknownMountingError as if it did not exist."""
    return mounting_for(person_of(request), id, action, datetime.now(UTC))


def zone_for(request: HttpRequest) -> str:
    """The zone the device told, else the installation's."""
    return request.COOKIES.get("zone", settings.TIME_ZONE)[:40]


def page(request: HttpRequest, **context: Any) -> dict[str, Any]:
    """What every page of the inspector wants; `fresh_id` gives each form an entry id of its own."""
    return {"bar": bar_of(person_of(request), "waiting"), "fresh_id": new_id, **context}


def heard_on(request: HttpRequest, mounting: Mounting) -> str:
    """What the reader typed from the photographed display in this session; '' if not yet."""
    return heard(request.session, mounting.id)


def sealed_on(request: HttpRequest, mounting: Mounting, case: Case) -> Sealed:
    """What this record keeps back from who reads it now."""
    person = person_of(request)
    may_check = rights_at(person, mounting.site, datetime.now(UTC)).may(Action.CHECK)
    read_display = bool(heard_on(request, mounting))
    return sealed_for(case, str(person.id), may_check=may_check, read_display=read_display)


def refuse_sealed(request: HttpRequest, mounting: Mounting, case: Case) -> None:
    """SealedError on a page that shows everything as it was said, while something is kept back."""
    if sealed_on(request, mounting, case):
        raise SealedError(mounting.id)


def refuse_sealed_entry(request: HttpRequest, entry: Entry) -> None:
    """SealedError for an entry of a mounting that gives away what its reader has still to read."""
    mounting = Mounting.objects.filter(id=entry.subject).first()
    if mounting is None:
        return
    payload = json.loads(bytes(entry.payload))
    if sealed_on(request, mounting, case_of(mounting)).entry(entry.kind, payload, str(person_of(request).id)):
        raise SealedError(mounting.id)
