"""What drawings asked of a journal: its revisions, two of them compared; and judging by another one."""

import uuid
from datetime import UTC, datetime

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.refusals import status_of
from qrecords.signoff.drawings import put_drawing_right
from qrecords.steps.revisions import compared
from qrecords.web.door import ACTION_ERRORS, acting_of, door, entry_id_of, may, person_of
from qrecords.web.heading import title_block
from qrecords.web.inspector.asked import asked_back
from qrecords.web.inspector.reader import mounting_of, page, zone_for
from qrecords.web.moments import moment
from qrecords.web.names import field_name
from qrecords.web.refused import refused_words
from qrecords.web.showing import FIGURES
from qrecords.workshop.models import Journal, JournalRequirement
from qrecords.workshop.queries import within


@door(Action.READ)
@require_GET
def journal(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Every revision that was required here, the newest first, and two of them side by side."""
    where = reach(person_of(request).id, Action.READ, datetime.now(UTC))
    found = within(Journal.objects.select_related("machine"), where).filter(id=id).first()
    if found is None:
        raise Http404("no such journal here")
    rows = list(found.requirements.order_by("-valid_from", "-id"))
    old, new = _chosen(request, rows)
    zone = zone_for(request)
    context = page(
        request,
        journal=found,
        revisions=[(row, moment(row.valid_from, zone)) for row in rows],
        old=old,
        new=new,
        differing=[
            (field_name(d.field), d.before or "–", d.after or "–")
            for d in compared(old.document if old else {}, new.document if new else {})
        ],
        mountings=found.mountings.order_by("-opened_at", "-id")[:50],
        traces=may(request, Action.TRACE),
    )
    return render(request, "registers/journal.html", context)


def _chosen(
    request: HttpRequest, rows: list[JournalRequirement]
) -> tuple[JournalRequirement | None, JournalRequirement | None]:
    """The two that were asked for, else the newest beside the one before it."""
    by_id = {str(row.id): row for row in rows}
    new = by_id.get(request.GET.get("new", "")) or (rows[0] if rows else None)
    old = by_id.get(request.GET.get("old", "")) or (rows[1] if len(rows) > 1 else new)
    return old, new


@door(Action.JUDGE_AGAIN)
@require_http_methods(["GET", "POST"])
def right_drawing(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """Another revision was the right one: judge by it, saying why."""
    found = mounting_of(request, mounting, Action.JUDGE_AGAIN)
    if request.method == "GET":
        return _form(request, found)
    chosen = next((r for r in _others(found) if str(r.id) == request.POST.get("requirement", "")), None)
    try:
        if chosen is None:
            raise Http404("no such revision of this journal")
        put_drawing_right(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            requirement=chosen,
            reason=request.POST.get("reason", ""),
        )
    except ACTION_ERRORS as error:
        return _form(request, found, error)
    messages.success(request, gettext("Judged again. What stood before stays beside it."))
    return redirect("inspect", mounting=found.id)


def _others(mounting: Mounting) -> list[JournalRequirement]:
    """The revisions that ask something else than what judges this mounting now."""
    asked = dict(case_of(mounting).requirement.document)
    rows = JournalRequirement.objects.filter(journal=mounting.journal_id).order_by("-valid_from", "-id")
    return [row for row in rows if dict(row.document) != asked]


def _form(request: HttpRequest, mounting: Mounting, error: Exception | None = None) -> HttpResponse:
    case, zone = case_of(mounting), zone_for(request)
    context = page(
        request,
        mounting=mounting,
        title_block=title_block(mounting, case, FIGURES),
        asked_now=case.requirement,
        others=[(row, moment(row.valid_from, zone)) for row in _others(mounting)],
        typed=request.POST,
        error=refused_words(error) if error else "",
        asked=asked_back(error, request.POST.dict()) if error else None,
    )
    return render(request, "inspector/right_drawing.html", context, status=status_of(error) if error else 200)
