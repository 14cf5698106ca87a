"""Everything taken out: the act that says so, then the file, which can be fetched again."""

import uuid
from datetime import UTC, datetime
from typing import cast

from django.http import Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import size
from qrecords.people.permissions import Action
from qrecords.tracing.everything.handed_out import handed_out
from qrecords.tracing.everything.made import zipped
from qrecords.tracing.everything.take import take_everything
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.views.registers import reach_of
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.queries import sites


@door(Action.EXPORT)
@require_http_methods(["GET", "POST"])
def export_everything(request: HttpRequest) -> HttpResponse:
    """What the file will hold, and the act."""
    where = reach_of(request, Action.EXPORT)
    found = sites(where)
    if request.method == "GET":
        context = {
            "sites": found,
            "every": where.everywhere,
            "size": size(),
            "entry_id": new_id(),
            "taken": _taken(request),
        }
        return render(request, "auditor/export.html", context)
    chosen = request.POST.get("site", "")
    site = next((each for each in found if str(each.id) == chosen), None)
    if site is None and chosen:
        # Neither one's own site nor every site stands in for another that was named.
        raise UnknownObjectError("site", chosen)
    if site is None and not where.everywhere:
        site = found[0]
    entry_id = entry_id_of(request)
    take_everything(acting=acting_of(request), entry_id=entry_id, site=site.id if site else None)
    return redirect(f"{reverse('export-everything')}?taken={entry_id}")


def _taken(request: HttpRequest) -> str:
    """The address of the file of an export that was just taken; '' without one."""
    try:
        id = uuid.UUID(request.GET.get("taken", ""))
    except ValueError:
        return ""
    taken = handed_out(person_of(request), id, datetime.now(UTC))
    return reverse("export-file", args=[id]) if taken else ""


@door(Action.EXPORT)
@require_GET
def export_file(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """The zip file of an export that this person took, streamed."""
    taken = handed_out(person_of(request), id, datetime.now(UTC))
    if taken is None:
        raise Http404(f"no export {id} of yours")
    answer = StreamingHttpResponse(zipped(taken.sites, taken.name), content_type="application/zip")
    answer["Content-Disposition"] = f'attachment; filename="{taken.name}.zip"'
    answer["Cache-Control"] = "private, no-store"
    return cast(HttpResponse, answer)  # views promise an HttpResponse; a streamed one answers in its place
