"""The five screens: show a part, take what was typed, ask back, go on."""

import uuid
from dataclasses import replace
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
from qrecords.web.fitter import readings, saying
from qrecords.web.fitter.contexts import part_context
from qrecords.web.fitter.page import frame, moment_of
from qrecords.web.fitter.questions import Questions, about_changes, about_fields
from qrecords.web.fitter.screens import SCREENS, Part, Screen, first_part, lacking, part_after
from qrecords.web.fitter.sent import Sent
from qrecords.web.names import name
from qrecords.web.views.fitter_photos import take_photos


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
    return _take(request, mounting, judged, screen, part, sent)


def _too_late(request: HttpRequest, mounting: Mounting, judged: Judged, sent: Sent) -> HttpResponse:
    """A form sent after the record was closed: its photos are kept, its answers refused aloud by the action,
    unless it is a replay of a form that came in time."""
    take_photos(request, mounting)
    saying.say(
        acting=acting_of(request),
        mounting=mounting,
        entry_id=entry_id_of(request),
        given=_with_what_follows(judged, sent).given(),
        reason=sent.reason,
        case=judged.case,
    )
    return redirect("sheet", mounting.id)


def _try(
    request: HttpRequest, mounting: Mounting, judged: Judged, screen: Screen, part: Part, sent: Sent
) -> HttpResponse:
    """The verdict at once: nothing is recorded."""
    found = saying.tried(judged, sent.given(), datetime.now(UTC))
    return show(request, mounting, found.judged, screen, part, sent, about_fields(found.errors))


def _take(
    request: HttpRequest, mounting: Mounting, judged: Judged, screen: Screen, part: Part, sent: Sent
) -> HttpResponse:
    """Photos first, which cannot be typed again; then all fields or none."""
    take_photos(request, mounting)
    if sent.fields.get("not_measured"):
        return show(request, mounting, judged, screen, part, sent)
    sent = _with_what_follows(judged, sent)
    given = sent.given()
    if part.name == "readings" and not sent.fields.get("keep_close"):
        found = saying.tried(judged, given, datetime.now(UTC))
        call = None if found.errors else readings.close_call(found.judged, sent)
        if call is not None and not _repeated(sent, call):
            return show(request, mounting, found.judged, screen, part, sent, call=call)
    try:
        said = saying.say(
            acting=acting_of(request),
            mounting=mounting,
            entry_id=entry_id_of(request),
            given=given,
            reason=sent.reason,
            case=judged.case,
        )
    except DifferentContentError:
        messages.info(
            request, gettext("This page was sent before with other answers. Look, and send it again.")
        )
        return show(request, mounting, judged_now(mounting), screen, part, sent, again=True)
    except FieldsError as error:
        return show(request, mounting, judged, screen, part, sent, about_fields(error.errors))
    except NeedsReasonError as error:
        step = next(step for step, keys in given.items() if set(error.keys) <= set(keys))
        questions = about_changes([f"{step}.{key}" for key in error.keys])
        return show(request, mounting, judged, screen, part, sent, questions)
    return _go_on(request, mounting, screen, part, sent, said)


def _repeated(sent: Sent, call: readings.CloseCall) -> bool:
    return any((sent.text(ask.name) or "").strip() for ask in call.again)


def _with_what_follows(judged: Judged, sent: Sent) -> Sent:
    """What a tap means besides itself: a blade at an angle, bore readings that say *measured*, a reason that
    holds for every place still empty."""
    fields = dict(sent.fields)
    blade, at = fields.get("blade"), fields.get("at", "")
    if blade == "cannot-reach":
        fields[f"absent:shoulder_gap.gap.{at}"] = "not possible|cannot reach"
    elif blade and blade != "more" and at:
        fields[f"shoulder_gap.gap.{at}"] = blade
    bores = [key for key, value in fields.items() if key.startswith("bore.bore.") and value.strip()]
    if bores and not fields.get("bore.source"):
        fields["bore.source"] = "measured"
    if fields.get("absent_rest"):
        said = next((value for key, value in fields.items() if key.startswith("absent:")), "")
        for place in readings.journal_surface(judged.case).names if said else ():
            key = place.partition(".")[2]
            if not fields.get(place, "").strip() and judged.case.said("measurement", key) is None:
                fields[f"absent:{place}"] = said
    return replace(sent, fields=fields)


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
    after, next_part = part_after(screen, part)
    if screen.name == "heat" and part.name == "set-up":
        return redirect("hot", mounting.id)
    if after.name == screen.name and next_part is None:
        return redirect(f"{here}?part={part.name}")
    target = reverse(f"fit-{after.name}", args=[mounting.id])
    return redirect(f"{target}?part={next_part.name}" if next_part else target)


def show(
    request: HttpRequest,
    mounting: Mounting,
    judged: Judged,
    screen: Screen,
    part: Part,
    sent: Sent,
    questions: Questions | None = None,
    call: readings.CloseCall | None = None,
    *,
    again: bool = False,
) -> HttpResponse:
    """One page; what was typed stays on it. `again`: its next sending is another entry."""
    person, now = person_of(request), datetime.now(UTC)
    context: dict[str, Any] = frame(request, person, mounting, judged, screen, now)
    context |= part_context(request, mounting, judged, screen, part, sent, moment_of(request))
    context |= {"questions": questions, "call": call, "sent": sent}
    if not again:
        context["entry_id"] = request.POST.get("entry_id") or context["entry_id"]
    status = 409 if again else 422 if questions and not request.GET.get("try") else 200
    return render(request, f"fitter/{context['template']}.html", context, status=status)
