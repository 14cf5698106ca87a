"""Labels to print: one for the machine's plate, one for the job. The mark is for plate and label, never for a
bearing."""

import uuid
from datetime import UTC, datetime
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET

from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.web.door import door, person_of
from qrecords.web.fitter.page import place
from qrecords.web.heading import scheme_words
from qrecords.web.paper.sheet import code_of


@door(Action.READ)
@require_GET
def label(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """The workshop mark (six characters and a check character) with the way to the machine's records, and the
    mounting's number with the way to its own."""
    mounting = mounting_for(person_of(request), mounting_id, Action.READ, datetime.now(UTC))
    machine = mounting.journal.machine
    found = f"{reverse('search')}?{urlencode({'q': machine.mark})}"
    context = {
        "mounting": mounting,
        "machine": machine,
        "mark": f"{machine.mark[:3]} {machine.mark[3:]}",
        "place": place(mounting),
        "scheme": scheme_words(machine),
        "to_machine": code_of(request.build_absolute_uri(found)),
        "to_mounting": code_of(request.build_absolute_uri(reverse("mounting", args=[mounting.id]))),
    }
    return render(request, "paper/label.html", context)
