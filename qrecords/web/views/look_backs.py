"""Look-backs: the list, one with what became of its mountings, opening one, and the acts on it."""

import uuid
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions import looking_back as acts
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.look_backs import listed
from qrecords.mountings.look_backs import look_back as look_back_for
from qrecords.mountings.queries import mounting_for
from qrecords.people.errors import ProveAgainError, UnknownPersonError
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.steps.errors import DocumentError
from qrecords.steps.new_look_back import PIECE, SUBJECTS, read_look_back
from qrecords.tracing.looking_back import preview
from qrecords.web.door import acting_of, door, entry_id_of, may, person_of
from qrecords.web.inspector.reader import refuse_sealed
from qrecords.web.listing.table import exported, listing
from qrecords.web.look_backs import form, lists
from qrecords.web.look_backs.page import mounting_page, one_page, people_at
from qrecords.web.look_backs.words import SUBJECT_WORDS, is_open
from qrecords.web.refused import refused_words
from qrecords.web.registers.asking import Ask, Reading, WrongFields, asked, typed, wrong
from qrecords.web.views.registers import reach_of, zone_within
from qrecords.web.views.registers_forms import GET_POST, site_ask, site_of
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.look_back_actions import known_here, open_look_back
from qrecords.workshop.models import Equipment, LookBack, LookBackAction, Site
from qrecords.workshop.queries import equipment as equipment_for
from qrecords.workshop.queries import last_good

HERE = {"here": "look-backs"}


@door(Action.TRACE)
@require_GET
def look_backs(request: HttpRequest) -> HttpResponse:
    where = reach_of(request, Action.TRACE)
    columns = lists.look_back_columns(zone_within(where))
    rows = listed(where)
    answer = exported(request, columns, rows, "look-backs")
    if answer is not None:
        return answer
    new = "look-back-new" if may(request, Action.LOOK_BACK) else ""
    context = {"title": gettext("Look-backs"), "listing": listing(request, columns, rows), "new": new}
    return render(request, "registers/list.html", context)


@door(Action.TRACE)
@require_GET
def look_back(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """One look-back: what it is of, how far it is judged, the customers behind it, every mounting."""
    return _one(request, look_back_for(id, reach_of(request, Action.TRACE)))


def _one(request: HttpRequest, row: LookBack, error: str = "") -> HttpResponse:
    columns, rows = lists.touched_columns(row), lists.touched(row)
    answer = exported(request, columns, rows, f"look-back-{row.id}")
    if answer is not None:
        return answer
    context = {
        "page": one_page(row),
        "listing": listing(request, columns, rows),
        "title": gettext("Mountings"),
        "may_end": is_open(row) and may(request, Action.LOOK_BACK),
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
        "reason": request.POST.get("reason", ""),
        "error": error,
        **HERE,
    }
    return render(request, "look_backs/one.html", context, status=422 if error else 200)


@door(Action.TRACE)
@require_GET
def look_back_mounting(request: HttpRequest, id: uuid.UUID, mounting: uuid.UUID) -> HttpResponse:
    """One mounting of a look-back: what is found otherwise, and what is done about it."""
    return _mounting(request, *_both(request, id, mounting))


def _both(request: HttpRequest, id: uuid.UUID, mounting: uuid.UUID) -> tuple[LookBack, uuid.UUID]:
    row = look_back_for(id, reach_of(request, Action.TRACE))
    found = mounting_for(person_of(request), mounting, Action.TRACE, datetime.now(UTC))
    return row, found.id


def _mounting(
    request: HttpRequest, row: LookBack, id: uuid.UUID, errors: Mapping[str, str] | None = None
) -> HttpResponse:
    found = mounting_for(person_of(request), id, Action.TRACE, datetime.now(UTC))
    page = mounting_page(row, found)
    if page is None:
        raise Http404
    refuse_sealed(request, found, page.case)
    given = {name: request.POST.get(name, "") for name in ("owner", "due", "what", "how")}
    asks = _action_asks(row)
    context = {
        "page": page,
        "fields": asked(asks, given if errors else None, errors),
        "may_give": is_open(row) and may(request, Action.LOOK_BACK),
        "may_answer": is_open(row) and may(request, Action.ANSWER_DOUBT),
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
        "errors": errors or {},
        "how": given["how"],
        **HERE,
    }
    return render(request, "look_backs/mounting.html", context, status=422 if errors else 200)


def _action_asks(row: LookBack) -> list[Ask]:
    people = [("", gettext("choose")), *people_at(row.site)]
    return [
        Ask("owner", gettext("who"), "select", people, required=True),
        Ask("due", gettext("until"), "date", required=True),
        Ask("what", gettext("what is to be done"), required=True),
    ]


@door(Action.LOOK_BACK)
@require_POST
def look_back_action(request: HttpRequest, id: uuid.UUID, mounting: uuid.UUID) -> HttpResponse:
    """Give the mounting to somebody, until a day."""
    row, found = _both(request, id, mounting)
    reading = Reading({name: request.POST.get(name, "").strip() for name in ("owner", "due", "what")})
    owner = reading.one_of("owner", [person for person, _name in people_at(row.site)])
    due, what = reading.day("due"), reading.text("what", 400)
    if reading.errors or due is None:
        return _mounting(request, row, found, reading.errors)
    try:
        acts.give_to(
            acting=acting_of(request),
            look_back=row,
            mounting=mounting_for(person_of(request), found, Action.TRACE, datetime.now(UTC)),
            action_id=entry_id_of(request),
            owner=Person.objects.get(id=owner),
            due=due,
            what=what,
        )
    except RegisterFieldError as error:
        field = {"reason": "what"}.get(error.field, error.field)
        return _mounting(request, row, found, {field: wrong(error.value, error.allowed)})
    messages.info(request, gettext("Recorded."))
    return redirect("look-back-mounting", id=row.id, mounting=found)


@door(Action.ANSWER_DOUBT)
@require_POST
def look_back_answer(request: HttpRequest, id: uuid.UUID, mounting: uuid.UUID) -> HttpResponse:
    """Close the newest action on a mounting, saying how, with one's own password."""
    row, found = _both(request, id, mounting)
    actions = LookBackAction.objects.select_related("look_back").filter(look_back=row, mounting=found)
    action = actions.order_by("-at", "-id").first()
    if action is None:
        raise Http404
    try:
        acts.answer(
            acting=acting_of(request),
            action=action,
            answer_id=entry_id_of(request),
            how=request.POST.get("how", ""),
        )
    except RegisterFieldError as error:
        return _mounting(request, row, found, {"reason": wrong(error.value, error.allowed)})
    except (ProveAgainError, UnknownPersonError):
        return _mounting(request, row, found, {"password": gettext("This is not your password.")})
    messages.info(request, gettext("Recorded."))
    return redirect("look-back-mounting", id=row.id, mounting=found)


@door(Action.LOOK_BACK)
@require_POST
def look_back_end(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Close the look-back, saying what it came to."""
    row = look_back_for(id, reach_of(request, Action.TRACE))
    try:
        acts.end_look_back(
            acting=acting_of(request),
            look_back=row,
            entry_id=entry_id_of(request),
            reason=request.POST.get("reason", ""),
        )
    except RegisterFieldError as error:
        return _one(request, row, wrong(error.value, error.allowed))
    except RefusedError as error:
        return _one(request, row, refused_words(error))
    messages.info(request, gettext("The look-back is closed."))
    return redirect("look-back", id=row.id)


@door(Action.LOOK_BACK)
@require_http_methods(GET_POST)
def look_back_new(request: HttpRequest) -> HttpResponse:
    """Open a look-back: first of what; then between when, and with which error. What it touches is shown
    before it is opened."""
    subject = request.GET.get("subject", "")
    if subject not in SUBJECTS:
        return _choose(request)
    piece = _piece(request) if subject == PIECE else None
    if subject == PIECE and piece is None:
        return _choose(request)
    found, site_asks = site_ask(request, Action.LOOK_BACK)
    here = [site for site in found if piece is None or site.id == piece.site]
    site_asks = site_asks if piece is None else []
    people = [("", gettext("choose")), *(pair for site in here for pair in people_at(site.id))]
    since = last_good(piece, datetime.now(UTC)) if piece else None
    asks = [
        *site_asks,
        *form.of_asks(subject, people),
        *form.window_asks(since.date() if since else None, datetime.now(UTC).date()),
    ]
    shown = _New(request, subject, piece, asks, here)
    if request.method == "GET":
        return shown.page({})
    return shown.sent()


def _choose(request: HttpRequest) -> HttpResponse:
    pieces = Equipment.objects.order_by("kind", "mark")
    where = reach_of(request, Action.LOOK_BACK)
    rows = pieces if where.everywhere else pieces.filter(site__in=where.sites)
    others = [(subject, gettext(SUBJECT_WORDS[subject])) for subject in SUBJECTS if subject != PIECE]
    return render(request, "look_backs/choose.html", {"pieces": rows, "others": others, **HERE})


def _piece(request: HttpRequest) -> Equipment | None:
    try:
        id = uuid.UUID(request.GET.get("of", ""))
    except ValueError:
        return None
    return equipment_for(id, reach_of(request, Action.LOOK_BACK))


class _New:
    """The form of a new look-back as one request shows and answers it."""

    def __init__(
        self,
        request: HttpRequest,
        subject: str,
        piece: Equipment | None,
        asks: list[Ask],
        sites: list[Site],
    ) -> None:
        self.request, self.subject, self.piece, self.asks, self.sites = request, subject, piece, asks, sites

    def page(
        self, given: Mapping[str, str], errors: Mapping[str, str] | None = None, **more: Any
    ) -> HttpResponse:
        found = self._found()
        context = {
            "subject": self.subject,
            "subject_words": gettext(SUBJECT_WORDS[self.subject]),
            "piece": self.piece,
            "points": form.points_asked(self.piece, given, found) if self.piece else [],
            "units": form.units_of(self.piece) if self.piece else (),
            "fields": asked(self.asks, given or None, errors),
            "errors": errors or {},
            "entry_id": self.request.POST.get("entry_id", "") or str(new_id()),
            **more,
            **HERE,
        }
        return render(self.request, "look_backs/new.html", context, status=422 if errors else 200)

    def _found(self) -> list[dict[str, int]]:
        """What the newest calibration found, if it says so by size."""
        newest = self.piece.versions.order_by("-valid_from", "-id").first() if self.piece else None
        points = (newest.document.get("found_points") if newest else None) or []
        return [{**point, "u": -(-point["expanded_u"] // 2)} for point in points]

    def sent(self) -> HttpResponse:
        given = typed(self.request, self.asks)
        for number in range(form.ROWS):
            names = (f"{name}-{number}" for name in ("size", "error", "u"))
            given |= {name: self.request.POST.get(name, "").strip()[:40] for name in names}
        reading = Reading(given)
        try:
            site = self.sites[0] if self.piece else site_of(self.sites, given)
            document = form.read_document(self.subject, self.piece, given, reading, site)
            reading.text("why", 400)
            reading.done()
            read = read_look_back(document)
            known_here(read, site.id)
            if self.request.POST.get("way") != "open":
                return self.page(given, preview=preview(read, site.id))
            row = open_look_back(
                acting=acting_of(self.request),
                site=site.id,
                look_back_id=entry_id_of(self.request),
                document=document,
                why=given["why"],
            )
        except WrongFields as error:
            return self.page(given, error.errors)
        except DocumentError as error:
            return self.page(given, {error.field: error.why})
        except RegisterFieldError as error:
            field = {"of": form.OF.get(self.subject, "of"), "reason": "why"}.get(error.field, error.field)
            return self.page(given, {field: wrong(error.value, error.allowed)})
        messages.info(self.request, gettext("Opened. What it touches is being judged again."))
        return redirect("look-back", id=row.id)
