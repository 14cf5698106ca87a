"""The whole sheet of one mounting: every answer on one page, to read and to print."""

import uuid
from datetime import UTC, datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from qrecords.mountings.judging import Judged, judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import mounting_for
from qrecords.people.models import Person
from qrecords.people.permissions import NO, Action, Scope
from qrecords.people.queries import rights_of
from qrecords.steps.transitions import LIVE, State, refuse_withdrawal
from qrecords.web.door import door, may, person_of
from qrecords.web.fitter.page import frame, moment_of
from qrecords.web.fitter.people import at_work
from qrecords.web.fitter.screens import standing
from qrecords.web.fitter.sheet import context
from qrecords.web.from_paper import from_paper
from qrecords.web.inspector.reader import sealed_on
from qrecords.web.withdrawn import withdrawn


def _may_withdraw(person: Person, mounting: Mounting, judged: Judged, now: datetime) -> bool:
    """Whether the page offers it; the action decides."""
    own = mounting.opened_by == person.id
    cell = rights_of(person.id, now).at(Action.WITHDRAW, mounting.site, own=own)
    refusal = refuse_withdrawal(
        judged.case, str(person.id), judged.of_hold("fit"), own_alone=cell.scope == Scope.OWN
    )
    return cell != NO and refusal is None


def others(person: Person, mounting: Mounting, now: datetime) -> list[tuple[str, str]]:
    """To whom this person can hand it over."""
    return [each for each in at_work(mounting.site, now) if each[0] != str(person.id)]


@door(Action.READ)
@require_GET
def sheet(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """Every answer with who gave it and when, the findings, the photos, what was not done."""
    person, now = person_of(request), datetime.now(UTC)
    mounting = mounting_for(person, mounting_id, Action.READ, now)
    judged = judged_now(mounting)
    page = frame(request, person, mounting, judged, standing(judged), now)
    sealed = sealed_on(request, mounting, judged.case)
    page |= context(mounting, judged, moment_of(request), sealed)
    if sealed:
        page["decided"] = ()  # a reason may tell what is to be read first
    page["from_paper"] = from_paper(judged.case)
    page["withdrawn_before"] = withdrawn(mounting, blind=bool(sealed))
    page["may_record"] = may(request, Action.RECORD) and State(mounting.state) in LIVE
    page["may_withdraw"] = _may_withdraw(person, mounting, judged, now)
    page["next_fitters"] = others(person, mounting, now) if page["may_record"] else ()
    page["may_attach"] = may(request, Action.ATTACH)
    page["may_register"], page["records"] = may(request, Action.REGISTER), may(request, Action.RECORD)
    page["may_open"] = may(request, Action.OPEN)
    page["steps"] = page["steps"] if page["may_record"] else ()
    return render(request, "fitter/sheet.html", page)
