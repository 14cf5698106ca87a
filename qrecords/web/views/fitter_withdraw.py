"""Withdrawing a mounting that was opened by mistake."""

import uuid
from datetime import UTC, datetime

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from qrecords.mountings.actions.finishing import withdraw
from qrecords.mountings.errors import RefusedError, WhyWithdrawnError
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter.refusals import refusal_sentence


@door(Action.WITHDRAW)
@require_POST
def withdraw_here(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """By who opened it, or by the engineer; with the reason. The record stays, closed."""
    mounting = mounting_for(person_of(request), mounting_id, Action.READ, datetime.now(UTC))
    try:
        withdraw(
            acting=acting_of(request),
            mounting=mounting,
            entry_id=entry_id_of(request),
            reason=request.POST.get("reason", ""),
        )
    except WhyWithdrawnError:
        messages.error(request, gettext("Withdrawn with a reason only: say why."))
    except RefusedError as error:
        messages.error(request, refusal_sentence(error))
    return redirect("sheet", mounting.id)
