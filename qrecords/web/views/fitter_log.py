"""The heater's own log at the fitter's: handed in, asked what its text does not say, shown judged."""

import uuid
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.evidence import queries as evidence
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import TakenIn, take_in_log
from qrecords.mountings.actions.attaching import hand_in_log, receive_file
from qrecords.mountings.judging import Judged, judged_now
from qrecords.mountings.logs import log_here
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.proof.identifiers import following
from qrecords.steps.acts import LogSaid
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import LogTable
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter.log_form import LogForm, log_form
from qrecords.web.fitter.log_page import ask_context, logs_context
from qrecords.web.fitter.page import frame, moment_of
from qrecords.web.fitter.screens import SCREENS
from qrecords.web.fitter.words import REFUSED_LOG
from qrecords.web.taking_in import taken_in


@door(Action.ATTACH)
@require_http_methods(["GET", "POST"])
def heating_log(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """The logs of a mounting with picture and verdict, and the place to hand one in."""
    mounting = mounting_for(person_of(request), mounting_id, Action.ATTACH, datetime.now(UTC))
    if request.method == "POST":
        return _handed_in(request, mounting)
    judged = judged_now(mounting)
    return _shown(request, mounting, judged, logs_context(mounting, judged, moment_of(request)))


@door(Action.ATTACH)
@require_http_methods(["GET", "POST"])
def say_of_log(request: HttpRequest, mounting_id: uuid.UUID, sha256: str) -> HttpResponse:
    """What the text of one received log does not say: asked, then handed in with the answers."""
    mounting = mounting_for(person_of(request), mounting_id, Action.ATTACH, datetime.now(UTC))
    stored = evidence.of_mounting(mounting.id).get(sha256)
    table = log_here(sha256) if stored and stored.width_px == 0 else None
    if stored is None or not isinstance(table, LogTable):
        raise Http404(sha256)
    judged = judged_now(mounting)
    sent = {key: value for key, value in request.POST.items() if isinstance(value, str)}
    form = log_form(judged.case, table, sent)
    if request.method == "POST" and form.said is not None:
        instead = next((f.entry for f in form.others if f.entry == sent.get("instead_of")), "")
        if not instead or sent.get("reason", "").strip():
            taken = (sha256, stored.size, stored.media)
            return _record(request, mounting, entry_id_of(request), taken, form.said, instead, sent)
        messages.error(request, gettext("Say why it takes the place of the other log."))
    asked = ask_context(mounting, judged, moment_of(request), table, sha256, form, sent)
    return _shown(request, mounting, judged, asked)


def _shown(request: HttpRequest, mounting: Mounting, judged: Judged, more: dict[str, Any]) -> HttpResponse:
    person, screen = person_of(request), SCREENS["heat"]
    page = frame(request, person, mounting, judged, screen, datetime.now(UTC))
    return render(request, "fitter/heating_log.html", page | more)


def _handed_in(request: HttpRequest, mounting: Mounting) -> HttpResponse:
    """Take the bytes in; what needs no question is recorded at once, all else is asked on its own page."""
    file = request.FILES.get("log")
    if file is None:
        messages.info(request, gettext("Choose the file that the heater wrote."))
        return redirect("heating-log", mounting.id)
    taken = _taken_in(request, mounting, file)
    if taken is None:
        return redirect("heating-log", mounting.id)
    receive_file(acting=acting_of(request), mounting=mounting, taken=taken)
    table = log_here(taken.sha256)
    form = None if isinstance(table, LogUnreadableError) else log_form(judged_now(mounting).case, table, {})
    if form is not None and (form.said is None or form.others or _is_new_to_ask(form)):
        return redirect("say-of-log", mounting.id, taken.sha256)
    said = form.said if form and form.said else LogSaid({})
    entry_id = following(entry_id_of(request), f"heating log {taken.sha256}")
    return _record(request, mounting, entry_id, (taken.sha256, taken.size, taken.photo.media), said, "", {})


def _is_new_to_ask(form: LogForm) -> bool:
    """More than one column: which is which is confirmed by a person, whatever the words over them say."""
    return len(form.columns) > 1 or bool(form.heatings)


def _taken_in(request: HttpRequest, mounting: Mounting, file: "UploadedFile[Any]") -> TakenIn | None:
    try:
        return taken_in(request, mounting, file, take_in_log)
    except FileRefusedError as error:
        why = gettext(REFUSED_LOG.get(error.code, error.code))
        messages.error(request, gettext("The log was not kept: {why}").format(why=why))
        return None


def _record(
    request: HttpRequest,
    mounting: Mounting,
    entry_id: uuid.UUID,
    taken: tuple[str, int, str],
    said: LogSaid,
    instead: str,
    sent: dict[str, str],
) -> HttpResponse:
    sha256, size, media = taken
    hand_in_log(
        acting=acting_of(request),
        mounting=mounting,
        entry_id=entry_id,
        sha256=sha256,
        size=size,
        media=media,
        said=said,
        instead_of=uuid.UUID(instead) if instead else None,
        reason=sent.get("reason", "") if instead else "",
    )
    return redirect("heating-log", mounting.id)
