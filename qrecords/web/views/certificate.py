"""The certificate of one mounting: fixed at sign-off, printed from what the entries hold."""

import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import translation
from django.views.decorators.http import require_GET

from qrecords.evidence.queries import of_mounting
from qrecords.mountings.judging import judged_now
from qrecords.people.permissions import Action
from qrecords.tracing.record import record_of
from qrecords.web.door import door
from qrecords.web.inspector.certificate import fixed_by, sheet_block, source_of, title_of
from qrecords.web.inspector.certificate_sheets import blocks
from qrecords.web.inspector.reader import mounting_of, refuse_sealed, zone_for
from qrecords.web.inspector.rejudged import rejudged
from qrecords.web.inspector.sheets import body_mm, cut


@door(Action.READ)
@require_GET
def certificate(request: HttpRequest, mounting: uuid.UUID, version: int | None = None) -> HttpResponse:
    """A4 sheets. Before sign-off the same sheets say that they are no certificate. `version` counts the
    sign-offs: 0 is the record as it was first signed; the newest where none is named."""
    found = mounting_of(request, mounting, Action.READ)
    try:
        record = record_of(found, version)
    except IndexError:
        raise Http404("nobody signed this version") from None
    refuse_sealed(request, found, record.case)
    fixed = fixed_by(record, translation.get_language() or "en", zone_for(request))
    now = None if record.signature else judged_now(found)
    address = request.build_absolute_uri(reverse("inspect", kwargs={"mounting": found.id}))
    with translation.override(fixed.language):
        source = source_of(record, now, fixed)
        sheets = cut(blocks(source, of_mounting(found.id), address), body_mm(title_of(source)))
        pairs = [(sheet, sheet_block(source, sheet.number, sheet.of)) for sheet in sheets]
        context = {"sheets": pairs, "language": fixed.language, "signed": source.signed, "mounting": found}
        context["again"] = rejudged(found, fixed.zone)
        return HttpResponse(render_to_string("certificate/certificate.html", context, request))
