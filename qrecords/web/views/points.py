"""The points of the contract at one mounting: shown, and what happened there said in one form."""

import uuid
from datetime import UTC, datetime

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.pointing import AtPoint, say_at_point
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import mounting_for
from qrecords.people.bounds import zone_of
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.steps.point_acts import POINT_ACTS, TAKEN_BACK, WAIVED
from qrecords.steps.transitions import CLOSED, state_of
from qrecords.web.auditor.saying_points import act_name
from qrecords.web.door import acting_of, door, entry_id_of, may, person_of
from qrecords.web.points import points_shown
from qrecords.web.registers.asking import wrong
from qrecords.web.showing import FIGURES
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Site


def _mounting(request: HttpRequest, id: uuid.UUID) -> Mounting:
    return mounting_for(person_of(request), id, Action.READ, datetime.now(UTC))


@door(Action.READ)
@require_GET
def points(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """Every point of the procedure that the mounting began under."""
    return _page(request, _mounting(request, mounting_id))


def _zone(mounting: Mounting) -> str:
    return Site.objects.filter(id=mounting.site).values_list("zone", flat=True).first() or "UTC"


def _page(
    request: HttpRequest, mounting: Mounting, about: str = "", errors: dict[str, str] | None = None
) -> HttpResponse:
    judged = judged_now(mounting)
    if not judged.case.procedure.points:
        raise Http404
    open_ = state_of(judged.case) not in CLOSED
    worked = str(person_of(request).id) in judged.case.worked_by
    people = names({act.author for act in judged.case.points})
    context = {
        "mounting": mounting,
        "points": points_shown(judged, people, _zone(mounting), FIGURES),
        "may_say": open_ and may(request, Action.POINT),
        "may_waive": open_ and may(request, Action.WAIVE) and not worked,
        "may_inspect": may(request, Action.CHECK),
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
        "about": about,
        "errors": errors or {},
        "typed": request.POST,
    }
    return render(request, "points.html", context, status=422 if errors else 200)


@door(Action.POINT)
@require_POST
def point_say(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """Told, came, did not come, looked; or one of these taken back, with why."""
    what = request.POST.get("what", "")
    if what not in POINT_ACTS or what == WAIVED:
        mounting = _mounting(request, mounting_id)
        said = ", ".join(act_name(each) for each in POINT_ACTS if each != WAIVED)
        return _page(request, mounting, request.POST.get("point", ""), {"what": wrong(what, said)})
    return _said(request, mounting_id, what)


@door(Action.WAIVE)
@require_POST
def point_waive(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """A witness point waived: by whom, and why."""
    return _said(request, mounting_id, WAIVED)


def _said(request: HttpRequest, mounting_id: uuid.UUID, what: str) -> HttpResponse:
    mounting, point = _mounting(request, mounting_id), request.POST.get("point", "")
    at, errors = _moment(request, _zone(mounting))
    instead = request.POST.get("instead_of", "")
    if errors:
        return _page(request, mounting, point, errors)
    try:
        said = AtPoint(
            what=what,
            who=request.POST.get("who", ""),
            how=request.POST.get("how", ""),
            at=at,
            reason=request.POST.get("reason", ""),
            instead_of=uuid.UUID(instead) if what == TAKEN_BACK and _is_id(instead) else None,
        )
        say_at_point(
            acting=acting_of(request),
            mounting=mounting,
            entry_id=entry_id_of(request),
            point=point,
            said=said,
        )
    except RegisterFieldError as error:
        return _page(request, mounting, point, {error.field: wrong(error.value, error.allowed)})
    messages.info(request, gettext("Recorded."))
    return redirect("points", mounting_id=mounting.id)


def _is_id(text: str) -> bool:
    try:
        uuid.UUID(text)
    except ValueError:
        return False
    return True


def _moment(request: HttpRequest, zone: str) -> tuple[datetime | None, dict[str, str]]:
    """When it was, by the clock of the site, where it was not now."""
    text = request.POST.get("at", "").strip()[:40]
    if not text:
        return None, {}
    try:
        found = datetime.fromisoformat(text).replace(tzinfo=None)
        if not 2000 <= found.year < 2200:
            raise ValueError
    except ValueError:
        return None, {"at": wrong(text, gettext("a moment as YYYY-MM-DDThh:mm; empty: now"))}
    return found.replace(tzinfo=zone_of(zone)).astimezone(UTC), {}
