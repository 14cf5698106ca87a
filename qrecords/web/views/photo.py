"""The one address of a photo, for whoever may read its mounting."""

import uuid
from datetime import UTC, datetime
from typing import cast

from django.http import FileResponse, HttpRequest, HttpResponse
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from qrecords.evidence import queries as evidence
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.web.door import door, person_of
from qrecords.web.photographs import sandboxed


@door(Action.READ)
@require_GET
def photo(request: HttpRequest, mounting_id: uuid.UUID, sha256: str, size: str) -> HttpResponse:
    """A picture of 1600 or 320 px to look at, or the original as it came, which is only handed out."""
    mounting = mounting_for(person_of(request), mounting_id, Action.READ, datetime.now(UTC))
    if size == "original":
        held = evidence.original(sha256, mounting=mounting.id)
    else:
        held = evidence.picture(sha256, mounting=mounting.id, edge_px=int(size))
    if held is None:
        here = size != "original" and evidence.is_here(sha256, mounting=mounting.id)
        words = gettext("This picture is being made.") if here else gettext("No such photo in this mounting.")
        return HttpResponse(words, status=404, content_type="text/plain; charset=utf-8")
    response = FileResponse(
        held.path.open("rb"),
        content_type=held.media,
        as_attachment=held.attachment,
        filename=f"{mounting.number}-{sha256[:12]}{'' if held.attachment else '.jpg'}",
    )
    sandboxed(response)
    return cast(HttpResponse, response)  # a file response is one that streams
