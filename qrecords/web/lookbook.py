"""The look-book: every part of the look on pages fed with invented values. Served only while DEBUG is on."""

from typing import Any

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from qrecords.web import lookbook_desk, lookbook_drawings, lookbook_fitter, lookbook_log

Page = tuple[str, dict[str, Any]]


def pages() -> dict[str, Page]:
    """Every page of the look-book by name: its template and its context."""
    return {
        "frames": lookbook_desk.frames(),
        "inspector": lookbook_desk.inspector(),
        "auditor": lookbook_desk.auditor(),
        "planner": lookbook_desk.planner(),
        "trends": lookbook_desk.trends(),
        "certificate": lookbook_desk.certificate(),
        "measure": lookbook_fitter.measure(),
        "heat": lookbook_fitter.heat(),
        "hold": lookbook_fitter.hold(),
        "gloves": lookbook_fitter.gloves(),
        "cold": lookbook_fitter.cold(),
        "log": lookbook_log.log(),
        "drawings": lookbook_drawings.drawings(),
    }


def lookbook(request: HttpRequest, name: str = "") -> HttpResponse:
    """One page of the look-book, or the list of them; not there outside DEBUG."""
    if not settings.DEBUG:
        raise Http404
    if not name:
        return render(request, "lookbook/index.html", {"names": sorted(pages())})
    if name not in pages():
        raise Http404
    template, context = pages()[name]
    return render(request, template, context | {"theme": request.GET.get("theme", "")})
