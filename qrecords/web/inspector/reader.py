"""Who reads: the mounting within their reach, the zone of their device, their figures."""

import uuid
from datetime import UTC, datetime
from typing import Any

from django.conf import settings
from django.http import HttpRequest

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.web.door import person_of
from qrecords.web.navigation import bar_of

DISPLAYS = "displays read"
"""Session key: mounting id → what the reader saw on the display of its photo."""


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
    return str(request.session.get(DISPLAYS, {}).get(str(mounting.id), ""))
