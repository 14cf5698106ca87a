"""Search, a bearing's life, and the whole record of a mounting: the way of an auditor."""

import uuid
from datetime import UTC, datetime
from typing import Any
from urllib.parse import urlencode

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET

from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, for_person, mounting_for
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.tracing import history
from qrecords.tracing import search as tracing
from qrecords.tracing.record import record_of
from qrecords.tracing.search_beside import beside
from qrecords.web.auditor.besides import beside_items
from qrecords.web.auditor.entries import entries_csv
from qrecords.web.auditor.finding import found_of, newest_closed
from qrecords.web.auditor.sheet import sheet_of
from qrecords.web.auditor.trace import trace_page
from qrecords.web.door import door, person_of
from qrecords.web.inspector.reader import refuse_sealed, sealed_on
from qrecords.web.listing.export import csv_response

LONGEST_QUESTION = 400


@door(Action.TRACE)
@require_GET
def search(request: HttpRequest) -> HttpResponse:
    """One box; the candidate that is chosen stands open beside the list."""
    person, now = person_of(request), datetime.now(UTC)
    text = request.GET.get("q", "")[:LONGEST_QUESTION].strip()
    answer = tracing.search(person, text, now)
    base = f"{reverse('search')}?{urlencode({'q': text})}&open="
    chosen = tracing.chosen(answer, request.GET.get("open", ""))
    context: dict[str, Any] = {"q": text, "answer": answer, "found": found_of(answer, chosen, base)}
    context["beside"] = beside_items(beside(answer.words, reach(person.id, Action.TRACE, now)))
    if not text:
        context["newest"] = newest_closed(for_person(person, Action.TRACE, now))
    if chosen is not None:
        context |= _opened(request, chosen.mounting, for_person(person, Action.TRACE, now), now, base)
    return render(request, "auditor/search.html", context)


@door(Action.TRACE)
@require_GET
def bearing_life(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """The life of one bearing, open at one of its mountings."""
    person, now = person_of(request), datetime.now(UTC)
    bearing = history.bearing(id, reach(person.id, Action.TRACE, now))
    rows = for_person(person, Action.TRACE, now)
    chapters = rows.filter(bearing=bearing).order_by("-opened_at", "-id")
    wanted = request.GET.get("open", "")
    chosen = next((row for row in chapters if not wanted or str(row.id) == wanted), None)
    base = f"{reverse('bearing-life', args=[id])}?open="
    opened = _opened(request, chosen, rows, now, base) if chosen else {}
    return render(request, "auditor/life.html", {"bearing": bearing, **opened})


def _opened(
    request: HttpRequest, mounting: Mounting, rows: QuerySet[Mounting], now: datetime, base: str
) -> dict[str, Any]:
    """The sheet of a mounting; while its reader has still to read for himself, only which one it is."""
    if sealed_on(request, mounting, case_of(mounting)):
        return {"sealed": mounting}
    return {"sheet": sheet_of(mounting, rows, now, base)}


@door(Action.TRACE)
@require_GET
def mounting_trace(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Every entry of one mounting, with what it rests on; as CSV with `?as=csv`."""
    person, now = person_of(request), datetime.now(UTC)
    mounting = mounting_for(person, id, Action.TRACE, now)
    record = record_of(mounting)
    refuse_sealed(request, mounting, record.case)
    if request.GET.get("as") == "csv":
        return csv_response(f"mounting-{mounting.number}", entries_csv(record))
    page = trace_page(record, for_person(person, Action.TRACE, now))
    return render(request, "auditor/trace.html", {"page": page, "record": record, "mounting": mounting})
