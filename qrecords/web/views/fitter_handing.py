"""Handing a mounting over at the change of shift."""

import uuid
from datetime import UTC, datetime

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from qrecords.mountings.actions.handing import hand_over
from qrecords.mountings.errors import FieldsError
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter.people import chosen_person


@door(Action.RECORD)
@require_POST
def hand_over_here(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """To the next fitter, with what he has to know; from then on it stands on his list."""
    mounting = mounting_for(person_of(request), mounting_id, Action.RECORD, datetime.now(UTC))
    to = chosen_person(request.POST.get("to", ""))
    if to is None:
        messages.error(request, gettext("Hand it over to whom? Choose who goes on."))
        return redirect("sheet", mounting.id)
    try:
        hand_over(
            acting=acting_of(request),
            mounting=mounting,
            entry_id=entry_id_of(request),
            to=to,
            note=request.POST.get("note", ""),
        )
    except FieldsError as error:
        allowed = "; ".join(each.allowed for each in error.errors.values())
        messages.error(request, gettext("Not handed over: {allowed}.").format(allowed=gettext(allowed)))
        return redirect("sheet", mounting.id)
    called = names([to.id])[str(to.id)]
    words = gettext("{number} is handed over to {who}: it stands on that list now.")
    messages.info(request, words.format(number=mounting.number, who=called))
    return redirect("my-mountings")
