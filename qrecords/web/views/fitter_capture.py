"""The five screens: show a part, take what was typed, ask back, go on."""

import uuid
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.ledger.errors import DifferentContentError
from qrecords.mountings.errors import FieldsError, NeedsReasonError
from qrecords.mountings.judging import Judged, judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.steps.transitions import CLOSED, LIVE, State
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter import gaps, readings, saying
from qrecords.web.fitter.contexts import part_context, said_before
from qrecords.web.fitter.following import with_what_follows
from qrecords.web.fitter.holding import NotReleased
from qrecords.web.fitter.page import frame, moment_of
from qrecords.web.fitter.paper import entering, from_paper
from qrecords.web.fitter.questions import Questions, questions
from qrecords.web.fitter.screens import (
    SCREENS,
    Part,
    Screen,
    first_part,
    heats_next,
    lacking,
    part_after,
    waits_to_cool,
)
from qrecords.web.fitter.sent import Sent
from qrecords.web.names import name
from qrecords.web.views.fitter_photos import take_photos

GoOn = Callable[[HttpRequest, Mounting, Screen, Part, Sent, int], HttpResponse]
RECORDED = "recorded"
"""The cookie that names the form recorded last."""


@door(Action.RECORD)
@require_http_methods(["GET", "POST"])
def capture(request: HttpRequest, mounting_id: uuid.UUID, screen_name: str) -> HttpResponse:
    """One screen of one mounting. `?part=` names its page, `?try=1` only judges what is typed."""
    now = datetime.now(UTC)
    mounting = mounting_for(person_of(request), mounting_id, Action.RECORD, now)
    screen = SCREENS[screen_name]
    state = State(mounting.state)
    if state not in LIVE and (request.method == "GET" or request.GET.get("try")):
        return redirect("sheet", mounting.id)
    judged = judged_now(mounting)
    screen = screen.under(judged.case.procedure)
    if request.method == "GET" and not request.GET.get("part") and heats_next(judged, screen):
        return redirect(_heat_page(request, mounting, judged), mounting.id)
    part = screen.part(request.GET.get("part", "")) if request.GET.get("part") else first_part(judged, screen)
    if part is None:
        raise Http404(request.GET.get("part", ""))
    if request.method == "GET":
        return show(request, mounting, judged, screen, part, Sent())
    sent = Sent({key: value for key, value in request.POST.items() if isinstance(value, str)})
    if request.GET.get("try"):
        return _try(request, mounting, judged, screen, part, sent)
    if state in CLOSED:
        return _too_late(request, mounting, judged, sent)
    return take(request, mounting, judged, screen, part, sent, _go_on)


def _heat_page(request: HttpRequest, mounting: Mounting, judged: Judged) -> str:
    """Where heat is recorded: by taps, or as it is written on the sheet that is entered."""
    paper = entering(request, mounting, person_of(request), judged.case)
    return "paper-taps" if paper else "hot"


def _too_late(request: HttpRequest, mounting: Mounting, judged: Judged, sent: Sent) -> HttpResponse:
    """A form sent after the record was closed: its photos are kept, its answers refused aloud by the action,
    unless it is a replay of a form that came in time."""
    take_photos(request, mounting)
    saying.say(
        acting=acting_of(request),
        mounting=mounting,
        entry_id=entry_id_of(request),
        given=with_what_follows(judged, sent).given(),
        reason=sent.reason,
        case=judged.case,
        paper=from_paper(request),
    )
    return redirect("sheet", mounting.id)


def _try(
    request: HttpRequest, mounting: Mounting, judged: Judged, screen: Screen, part: Part, sent: Sent
) -> HttpResponse:
    """The verdict at once: nothing is recorded."""
    found = saying.tried(judged, sent.given(), datetime.now(UTC))
    return show(request, mounting, found.judged, screen, part, sent, questions(found.errors))


def take(
    request: HttpRequest,
    mounting: Mounting,
    judged: Judged,
    screen: Screen,
    part: Part,
    sent: Sent,
    go_on: GoOn,
) -> HttpResponse:
    """Photos first, which cannot be typed again; then everything that is to be asked, on one page; then all
    fields or none; and once all is recorded `go_on`, with how many steps said something."""
    take_photos(request, mounting)
    if sent.fields.get("not_measured"):
        return show(request, mounting, judged, screen, part, sent)
    if part.name == "gap":
        which = gaps.which_angle(sent.fields)
        if which or sent.fields.get("blade") == gaps.MORE:
            return show(request, mounting, judged, screen, part, sent, which)
    sent = with_what_follows(judged, sent)
    asked = None
    if not saying.sent_before(judged.case, entry_id_of(request), sent.given()):
        found = saying.tried(judged, sent.given(), datetime.now(UTC))
        changed = () if sent.reason else found.changed
        asked = questions(found.errors, changed, _too_close(found, part, sent))
    if asked:
        judged = found.judged if asked.call else judged
        return show(request, mounting, judged, screen, part, sent, asked)
    try:
        said = saying.say(
            acting=acting_of(request),
            mounting=mounting,
            entry_id=entry_id_of(request),
            given=sent.given(),
            reason=sent.reason,
            case=judged.case,
            paper=from_paper(request),
        )
    except DifferentContentError:
        messages.info(
            request, gettext("This page was sent before with other answers. Look, and send it again.")
        )
        return show(request, mounting, judged_now(mounting), screen, part, sent, again=True)
    except FieldsError as error:
        return show(request, mounting, judged, screen, part, sent, questions(error.errors))
    except NeedsReasonError as error:
        step = next(step for step, keys in sent.given().items() if set(error.keys) <= set(keys))
        names = [f"{step}.{key}" for key in error.keys]
        return show(request, mounting, judged, screen, part, sent, questions({}, names))
    response = go_on(request, mounting, screen, part, sent, said)
    # Says to the device that it may forget its draft of this form; read by draft.js.
    response.set_cookie(RECORDED, str(entry_id_of(request)), samesite="Lax", secure=request.is_secure())
    return response


def _too_close(found: saying.Tried, part: Part, sent: Sent) -> readings.CloseCall | None:
    """A reading to be offered again before it is saved, unless that was answered already."""
    if part.name != "readings" or found.errors or sent.fields.get("keep_close"):
        return None
    call = readings.close_call(found.judged, sent)
    typed = call and any((sent.text(ask.name) or "").strip() for ask in call.again)
    return None if typed else call


def _go_on(
    request: HttpRequest, mounting: Mounting, screen: Screen, part: Part, sent: Sent, said: int
) -> HttpResponse:
    """To the next page of the work; on the same one while something of it is still to come."""
    judged = judged_now(mounting)
    left = lacking(judged, part)
    here = reverse(f"fit-{screen.name}", args=[mounting.id])
    if part.name == "gap" and ("blade" in sent.fields or left):
        return redirect(f"{here}?part=gap")
    if left and not sent.fields.get("leave"):
        words = ", ".join(dict.fromkeys(name(finding.characteristic) for finding in left))
        messages.info(request, gettext("Still to come: {what}.").format(what=words))
        return redirect(f"{here}?part={part.name}&left=1")
    if "photo_only" in sent.fields:
        return redirect(f"{here}?part={part.name}")
    if part.name == "temperatures" and waits_to_cool(judged):
        return redirect(f"{here}?part=temperatures")
    after, next_part = part_after(screen, part)
    if screen.name == "heat" and part.name == "set-up":
        return redirect(_heat_page(request, mounting, judged), mounting.id)
    if after.name == screen.name and next_part is None:
        return redirect(f"{here}?part={part.name}")
    target = reverse(f"fit-{after.name}", args=[mounting.id])
    onward = f"part={next_part.name}&" if next_part else ""
    return redirect(f"{target}?{onward}after={part.name}")


def show(
    request: HttpRequest,
    mounting: Mounting,
    judged: Judged,
    screen: Screen,
    part: Part,
    sent: Sent,
    asked: Questions | None = None,
    *,
    again: bool = False,
    not_released: NotReleased | None = None,
) -> HttpResponse:
    """One page; what was typed stays on it. `again`: its next sending is another entry. `not_released` says
    why the hold point shown there was not."""
    person, now = person_of(request), datetime.now(UTC)
    context: dict[str, Any] = frame(request, person, mounting, judged, screen, now)
    context |= part_context(request, mounting, judged, screen, part, sent, moment_of(request))
    asked_back = [question.name for question in asked.fields] if asked else ()
    if request.method == "GET" and request.GET.get("after", part.name) != part.name:
        context["before"] = said_before(judged, request.GET["after"])
    context |= {
        "paper": entering(request, mounting, person, judged.case),
        "questions": asked,
        "call": asked and asked.call,
        "carried": sent.carried(asked_back),
        "sent": sent,
        "not_released": not_released,
        "draft": f"{person.id}/{mounting.id}/{screen.name}/{part.name}",
    }
    if part.name == "readings":
        context["repeated"] = readings.repeated(judged, sent, asked.call if asked else None)
    if not again:
        context["entry_id"] = request.POST.get("entry_id") or context["entry_id"]
    asks_back = asked and (asked.fields or asked.changed) and not request.GET.get("try")
    refused = asks_back or not_released
    status = 409 if again else 422 if refused else 200
    return render(request, f"fitter/{context['template']}.html", context, status=status)
