"""My mountings, and the way to where a mounting stands."""

import uuid
from datetime import UTC, datetime

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from qrecords.mountings.actions.opening import open_from_order
from qrecords.mountings.judging import judged_now
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.steps.transitions import LIVE, State
from qrecords.web.door import acting_of, door, entry_id_of, may, person_of
from qrecords.web.fitter import listing
from qrecords.web.fitter.order import again
from qrecords.web.fitter.page import moment_of, strip
from qrecords.web.fitter.screens import SCREEN_OF_STEP, SCREENS, standing
from qrecords.web.parts import Safety


@door(Action.RECORD)
@require_GET
def my_mountings(request: HttpRequest) -> HttpResponse:
    """What is open here, mine first, each with where it stands and what comes next."""
    person, now = person_of(request), datetime.now(UTC)
    sheet = Paginator(listing.open_here(person, now), listing.MOST).get_page(request.GET.get("page"))
    context = {
        "strip": strip(person, now, moment_of(request)),
        "lines": listing.lines(person, sheet.object_list),
        "sheet": sheet,
        "safety": Safety(worked_out=False),
        "theme": request.COOKIES.get("theme", ""),
    }
    return render(request, "fitter/list.html", context)


@door(Action.READ)
@require_GET
def mounting(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """To the page where the work goes on; to the sheet for who only reads, and once it is closed."""
    found = mounting_for(person_of(request), mounting_id, Action.READ, datetime.now(UTC))
    if not may(request, Action.RECORD) or State(found.state) not in LIVE:
        return redirect("sheet", found.id)
    return redirect(f"fit-{standing(judged_now(found)).name}", found.id)


@door(Action.READ)
@require_GET
def step(request: HttpRequest, mounting_id: uuid.UUID, step_id: str) -> HttpResponse:
    """`/mountings/<uuid>/<step>/`: to the screen on which that step is recorded."""
    screen = SCREEN_OF_STEP.get(step_id, step_id)
    if screen not in SCREENS or not may(request, Action.RECORD):
        return redirect("sheet", mounting_id)
    return redirect(f"fit-{screen}", mounting_id)


@door(Action.OPEN)
@require_POST
def start_again(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """Take it off and start again: a second mounting of the same journal, with the same or another ring."""
    acting = acting_of(request)
    first = mounting_for(acting.author, mounting_id, Action.OPEN, acting.now)
    second = open_from_order(
        acting=acting,
        site=first.site,
        mounting_id=entry_id_of(request),
        order=again(first, acting.now, same_bearing=request.POST.get("bearing") == "same"),
    )
    return redirect("fit-receive", second.id)
