"""Paper: the sheet printed blank or part-filled, and entered later as *from paper sheet*."""

import uuid
from datetime import UTC, datetime

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import translation
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import TakenIn, take_in
from qrecords.ledger.append import atomic
from qrecords.ledger.envelope import File
from qrecords.mountings.actions.attaching import receive_file
from qrecords.mountings.actions.papering import file_sheet
from qrecords.mountings.actions.tapping import tap
from qrecords.mountings.errors import FieldsError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import mounting_for
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import rights_of
from qrecords.proof.identifiers import following
from qrecords.steps.gear import read_gear
from qrecords.steps.paper import SHEET_SHOT
from qrecords.steps.procedure import read_procedure
from qrecords.steps.runs import EVENTS, TAPS, runs
from qrecords.steps.transitions import LIVE, State
from qrecords.web import parts
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter import paper
from qrecords.web.fitter.gear import offered
from qrecords.web.fitter.page import frame, moment_of
from qrecords.web.fitter.people import at_work, chosen_person
from qrecords.web.fitter.screens import SCREENS, standing
from qrecords.web.fitter.words import REFUSED_FILE
from qrecords.web.inspector.certificate import sheet_title
from qrecords.web.inspector.sheets import body_mm, cut
from qrecords.web.paper import sheet as printed
from qrecords.web.refused import refused_words
from qrecords.workshop.models import Site
from qrecords.workshop.procedures import procedure_at
from qrecords.workshop.queries import frozen_gear
from qrecords.workshop.shifts import shift_of

MOST_PHOTOS = 8


@door(Action.RECORD)
@require_GET
def print_paper(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """The sheet of one mounting on A4: blank with its limits and plan, or `?filled=1` with what stands."""
    person, now = person_of(request), datetime.now(UTC)
    mounting = mounting_for(person, mounting_id, Action.RECORD, now)
    judged, filled = judged_now(mounting), "filled" in request.GET
    address = request.build_absolute_uri(reverse("from-paper", args=[mounting.id]))
    gear = _at_hand(person, mounting, now, judged.case.requirement.nominal_nm)
    made = printed.blocks(mounting, judged, address, standing=filled, gear=gear)
    title = sheet_title(mounting)
    state = gettext("part-filled {at}").format(at=moment_of(request).day(now)) if filled else gettext("blank")
    sheets = cut(made, body_mm(title))
    machine = mounting.journal.machine
    pairs = [
        (each, _block(mounting.site, title, mounting.number, machine.mark, state, f"{each.number}/{each.of}"))
        for each in sheets
    ]
    context = {
        "sheets": pairs,
        "mounting": mounting,
        "standing": filled,
        "language": translation.get_language(),
    }
    return render(request, "paper/sheet.html", context)


def _at_hand(person: Person, mounting: Mounting, now: datetime, size_nm: int) -> dict[str, str]:
    """Marks of the pieces named at the start of the shift that prove something of this size today, one of a
    kind: written beforehand."""
    shift = shift_of(person.id, mounting.site, now)
    records = frozen_gear(shift.document["gear"] if shift else [], now, mounting.site).values()
    named = [offered(read_gear(record), size_nm, now.date()) for record in records]
    sound = [piece for piece in named if not piece.doubt]
    kinds = [piece.kind for piece in sound]
    return {piece.kind: piece.mark for piece in sound if kinds.count(piece.kind) == 1}


@door(Action.RECORD)
@require_GET
def blank_paper(request: HttpRequest) -> HttpResponse:
    """A sheet for a mounting that is not opened yet, by the procedure in force at the person's site."""
    person, now = person_of(request), datetime.now(UTC)
    sites = sorted(rights_of(person.id, now).where(Action.RECORD).sites)
    procedure = read_procedure(procedure_at(sites[0], now).document)
    address = request.build_absolute_uri(reverse("new-mounting"))
    sheets = cut(printed.blank(procedure, address), body_mm(""))
    title, number = gettext("machine, place: see above"), gettext("to be given")
    pairs = [
        (each, _block(sites[0], title, number, "", gettext("blank"), f"{each.number}/{each.of}"))
        for each in sheets
    ]
    return render(request, "paper/sheet.html", {"sheets": pairs, "language": translation.get_language()})


def _block(site: uuid.UUID, title: str, number: str, mark: str, state: str, sheet: str) -> parts.SheetBlock:
    owner = Site.objects.filter(id=site).values_list("name", flat=True).first() or ""
    return parts.SheetBlock(
        owner=owner,
        document_type=gettext("paper sheet of a mounting"),
        status=state,
        title=title,
        number=number,
        mark=mark,
        language_and_sheet=f"{translation.get_language() or 'en'} · {sheet}",
        performed=("", ""),
        inspected=("", ""),
        ledger=gettext("no record by itself: it becomes one when it is entered, with a photo of it"),
        hashes="",
    )


@door(Action.RECORD)
@require_http_methods(["GET", "POST"])
def from_paper(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """Hand a sheet in with its photos, or choose one that is in; then the pages are entered from it."""
    person, now = person_of(request), datetime.now(UTC)
    mounting = mounting_for(person, mounting_id, Action.RECORD, now)
    if request.method == "GET":
        if State(mounting.state) not in LIVE:
            return redirect("sheet", mounting.id)
        return _show(request, mounting)
    if request.POST.get("leave"):
        response = redirect("mounting", mounting.id)
        response.delete_cookie(paper.COOKIE)
        return response
    chosen = request.POST.get("sheet", "")
    if not chosen:
        try:
            chosen = _hand_in(request, mounting)
        except FileRefusedError as error:
            words = gettext("Photo of the sheet not kept: {why}")
            return _show(
                request, mounting, words.format(why=gettext(REFUSED_FILE.get(error.code, error.code)))
            )
        except FieldsError as error:
            return _show(request, mounting, refused_words(error))
    response = redirect(f"fit-{standing(judged_now(mounting)).name}", mounting.id)
    paper.begin(response, mounting, chosen, person, secure=request.is_secure())
    return response


def _hand_in(request: HttpRequest, mounting: Mounting) -> str:
    acting = acting_of(request)
    camera, gallery = (request.FILES.getlist(f"{each}.{SHEET_SHOT}") for each in ("shot", "gallery"))
    taken: list[TakenIn] = [take_in(file.chunks()) for file in (*camera, *gallery)[:MOST_PHOTOS]]
    by = chosen_person(request.POST.get("by", "")) or acting.author
    with atomic():
        entry = file_sheet(
            acting=acting,
            mounting=mounting,
            entry_id=entry_id_of(request),
            by=by,
            day=request.POST.get("day", ""),
            photos=[File(each.sha256, each.size, each.photo.media, SHEET_SHOT) for each in taken],
            camera=bool(camera),
        )
        for each in taken:
            receive_file(acting=acting, mounting=mounting, taken=each)
    return str(entry.id)


def _show(request: HttpRequest, mounting: Mounting, wrong: str = "") -> HttpResponse:
    person, now = person_of(request), datetime.now(UTC)
    judged = judged_now(mounting)
    context = frame(request, person, mounting, judged, standing(judged), now)
    context |= {
        "writers": at_work(mounting.site, now),
        "me": request.POST.get("by") or str(person.id),
        "day": request.POST.get("day") or moment_of(request).day(now)[:10],
        "sheets": paper.told(judged.case),
        "entering": paper.entering(request, mounting, person, judged.case),
        "wrong": wrong,
        "shot": SHEET_SHOT,
        "entry_id": request.POST.get("entry_id") or context["entry_id"],
    }
    return render(request, "fitter/from_paper.html", context, status=422 if wrong else 200)


@door(Action.TAP)
@require_http_methods(["GET", "POST"])
def paper_taps(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """The moments while hot as they are written: those with a time are recorded, in the sheet's order."""
    person, now = person_of(request), datetime.now(UTC)
    mounting = mounting_for(person, mounting_id, Action.TAP, now)
    judged = judged_now(mounting)
    sheet = paper.entering(request, mounting, person, judged.case)
    if sheet is None:
        return redirect("from-paper", mounting.id)
    if request.method == "POST":
        try:
            if _record_taps(request, mounting):
                response = redirect("fit-heat", mounting.id)
                response["Location"] += "?part=after"
                return response
            wrong = gettext("No time was typed.")
        except FieldsError as error:
            wrong = refused_words(error)
        messages.error(request, wrong)
    context = frame(request, person, mounting, judged, SCREENS["heat"], now)
    context |= {
        "paper": sheet,
        "moments": [(what.replace(" ", "-"), gettext(what), request.POST.get(what, "")[:8]) for what in TAPS],
        "events": [(what, gettext(what), request.POST.get(what, "")[:8]) for what in EVENTS],
        "reference": request.POST.get("reference", "")[:80],
        "heated": len(runs(judged.case)),
    }
    return render(request, "fitter/paper_taps.html", context, status=422 if request.method == "POST" else 200)


def _record_taps(request: HttpRequest, mounting: Mounting) -> int:
    """All or none; each under an id that follows from the form's own."""
    acting, made = acting_of(request), 0
    with atomic():
        for what in (*TAPS, *EVENTS):
            time = request.POST.get(what.replace(" ", "-"), "").strip()
            if not time:
                continue
            reference = request.POST.get("reference", "") if what == "heater on" else ""
            tap(
                acting=acting,
                mounting=mounting,
                entry_id=following(entry_id_of(request), what),
                what=what,
                paper=paper.from_paper(request, time, reference),
            )
            made += 1
    return made
