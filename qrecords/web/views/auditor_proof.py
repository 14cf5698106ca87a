"""One entry with its proof; the uses of a piece of equipment; verifying on the spot."""

import json
import uuid
from datetime import UTC, datetime
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from qrecords.ledger.errors import NotRecordedError
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import for_person, mounting_for, uses_of
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.proof.merkle import leaf_hash
from qrecords.tracing.equipment import with_calibration
from qrecords.tracing.proving import check, is_proved, is_signed, proof_of, standing
from qrecords.tracing.record import lines_of
from qrecords.web.auditor.entries import entry_row
from qrecords.web.auditor.uses import care_rows, use_row, uses_csv, version_row
from qrecords.web.door import door, may, person_of
from qrecords.web.inspector.reader import refuse_sealed_entry
from qrecords.web.listing.export import csv_response
from qrecords.web.listing.table import PAGE, page_of
from qrecords.web.look_backs.beside import of_piece
from qrecords.web.moments import to_the_second
from qrecords.workshop.care_actions import ON_MASTER
from qrecords.workshop.queries import equipment as equipment_for
from qrecords.workshop.queries import zone_of_site


@door(Action.TRACE)
@require_GET
def entry(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """One entry: its payload as stored, and the proof that the log holds it, verified on the spot."""
    stored = _within_reach(person_of(request), id)
    refuse_sealed_entry(request, stored)
    try:
        proof = proof_of(id)
    except NotRecordedError as error:
        raise Http404(str(error)) from error
    lines = lines_of(entries_of(stored.subject))
    line = next(line for line in lines if line.entry.id == id)
    mounting = Mounting.objects.filter(id=stored.subject).first()
    return render(
        request,
        "auditor/entry.html",
        {
            "row": entry_row(line, zone_of_site(stored.site)),
            "line": line,
            "received": to_the_second(line.received, "UTC"),
            "proof": proof,
            "mounting": mounting,
            "path": [value.hex() for value in proof.proof],
            "root": proof.root.hex(),
            "hash": leaf_hash(proof.payload).hex(),
            "signature": proof.signature.hex(),
            "payload": json.dumps(line.entry.payload, indent=2, ensure_ascii=False),
            "stored": proof.payload.decode("utf-8", "replace"),
            "holds": is_proved(proof),
            "signed": is_signed(proof),
        },
    )


def _within_reach(person: Person, id: uuid.UUID) -> Entry:
    """The entry, if its site is within the person's reach; else 404 as if it did not exist."""
    where = reach(person.id, Action.TRACE, datetime.now(UTC))
    stored = Entry.objects.filter(id=id).first()
    if stored is None or not (where.everywhere or stored.site in where.sites):
        raise Http404(f"no entry {id} here")
    return stored


@door(Action.TRACE)
@require_GET
def equipment_uses(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """A piece of equipment, its calibrations, and everything it was used for, newest first."""
    person, now = person_of(request), datetime.now(UTC)
    piece = equipment_for(id, reach(person.id, Action.TRACE, now))
    rows = uses_of(piece.id, for_person(person, Action.TRACE, now))
    if request.GET.get("as") == "csv":
        return csv_response(f"equipment-{piece.mark}", uses_csv(rows.iterator(500)))
    zone = zone_of_site(piece.site)
    page = page_of(request, rows)
    versions = piece.versions.order_by("-valid_from", "-id")
    context: dict[str, Any] = {
        "piece": piece,
        "equips": may(request, Action.EQUIP),
        "page": page,
        "uses": [use_row(use, zone) for use in with_calibration(page.rows)],
        "mountings": rows.order_by().values("mounting").distinct().count(),
        "look_backs": of_piece(list(piece.look_backs.select_related("equipment", "end")), zone),
        "care": care_rows(piece, zone),
        "checks": piece.kind in ON_MASTER and may(request, Action.CHECK_GAUGE),
        "damages": may(request, Action.DAMAGE),
        "looks_back": may(request, Action.LOOK_BACK),
        "versions": [version_row(version, piece, zone) for version in versions[:PAGE]],
    }
    return render(request, "auditor/equipment.html", context)


@door(Action.VERIFY)
@require_GET
def verify(request: HttpRequest) -> HttpResponse:
    """Verify the entries of one mounting here; for the whole log, its size, its root and the command."""
    person, now = person_of(request), datetime.now(UTC)
    total, root = standing()
    context: dict[str, Any] = {
        "size": total,
        "root": root.hex(),
        "q": request.GET.get("q", ""),
        "exports": may(request, Action.EXPORT),
    }
    rows = for_person(person, Action.VERIFY, now)
    if wanted := request.GET.get("mounting", ""):
        context["mounting"] = mounting_for(person, _uuid(wanted), Action.VERIFY, now)
    elif number := request.GET.get("q", "").strip():
        context["mounting"] = rows.filter(number=number).first()
    if mounting := context.get("mounting"):
        context["checked"] = check(mounting.id)
    return render(request, "auditor/verify.html", context)


def _uuid(text: str) -> uuid.UUID:
    try:
        return uuid.UUID(text)
    except ValueError as error:
        raise Http404("no such mounting") from error
