"""While hot: one tap at a time. Also the undo, and what happened besides."""

import uuid
from dataclasses import dataclass
from datetime import UTC, datetime

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.mountings.actions.tapping import tap, undo
from qrecords.mountings.errors import AlreadyTappedError, TooLateToUndoError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, mounting_for
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.proof.identifiers import following
from qrecords.steps.transitions import LIVE, State
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter import before_heat, fitting, hot
from qrecords.web.fitter.holding import hold
from qrecords.web.fitter.page import frame, moment_of, safety
from qrecords.web.fitter.paper import entering
from qrecords.web.fitter.screens import SCREENS

LONG_HOLD_S = 60
"""From here on a nut or clamp holds, not a person."""


@dataclass(frozen=True)
class Code:
    """The one-time code as it was typed, and what is asked back about it."""

    typed: str = ""
    doubt: str = ""


NO_CODE = Code()


@door(Action.TAP)
@require_http_methods(["GET", "POST"])
def hot_page(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """The big tap. GET shows it; POST is one tap or one undo, and shows the next."""
    now = datetime.now(UTC)
    mounting = mounting_for(person_of(request), mounting_id, Action.TAP, now)
    if request.method == "POST":  # in any state: what happened is recorded, or refused aloud
        return _tapped(request, mounting)
    if State(mounting.state) not in LIVE:
        return redirect("sheet", mounting.id)
    if entering(request, mounting, person_of(request), case_of(mounting)):
        return redirect("paper-taps", mounting.id)  # the ring is long cold: its times stand on the sheet
    return _show(request, mounting)


def _tapped(request: HttpRequest, mounting: Mounting) -> HttpResponse:
    acting = acting_of(request)
    if request.POST.get("undo"):
        _undo(request, acting, mounting)
        return redirect("hot", mounting.id)
    what = hot.tap_of(request.POST.get("tap", ""))
    code = request.POST.get("code", "").strip() if what == "heater on" else ""
    doubt = _doubt(request, mounting, code) if what == "heater on" else ""
    if doubt:
        return _show(request, mounting, Code(code, doubt))
    try:
        tap(
            acting=acting,
            mounting=mounting,
            entry_id=following(entry_id_of(request), what),  # a page gone back to may make another tap
            what=what,
            release=request.POST.get("release", "") if what == "heater on" else "",
            code=code,
            after=request.POST.get("after"),
        )
    except AlreadyTappedError as error:
        words = gettext("“{tap}” was tapped already, {at}, by {who}. It is recorded once.")
        who, at = names([error.author])[error.author], moment_of(request).seconds(error.at)
        messages.info(request, words.format(tap=gettext(what), at=at, who=who))
        return redirect("hot", mounting.id)
    if what == "let go":
        return redirect("after-heat", mounting.id)
    return redirect("hot", mounting.id)


def _doubt(request: HttpRequest, mounting: Mounting, code: str) -> str:
    asked, without = request.POST.get("asked_code", ""), "without" in request.GET
    return before_heat.code_doubt(case_of(mounting), code, asked, without=without)


def _undo(request: HttpRequest, acting: Acting, mounting: Mounting) -> None:
    try:
        struck = uuid.UUID(request.POST["undo"])
        undo(acting=acting, mounting=mounting, entry_id=entry_id_of(request), tap_id=struck)
    except (ValueError, TooLateToUndoError):
        messages.info(request, gettext("A tap can be taken back for ten seconds. It stays as it is."))


@door(Action.RECORD)
@require_http_methods(["GET"])
def after_heat(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """To the page on which peak and demagnetising cycle are typed, now that the ring is let go."""
    found = mounting_for(person_of(request), mounting_id, Action.RECORD, datetime.now(UTC))
    response = redirect("fit-heat", found.id)
    response["Location"] += "?part=after"
    return response


def _show(request: HttpRequest, mounting: Mounting, code: Code = NO_CODE) -> HttpResponse:
    person, now, moment = person_of(request), datetime.now(UTC), moment_of(request)
    judged = judged_now(mounting)
    context = frame(request, person, mounting, judged, SCREENS["heat"], now)
    context |= hot.context(judged.case, str(person.id), now, moment)
    plan = fitting.plan_of(judged.case)
    hot_now = hot.is_hot(judged.case)
    held = hold(judged, "fit", moment)
    by_code = bool(held.released) and before_heat.by_telephone(judged.case)
    context |= {
        "is_hot": hot_now,
        "hold": held,
        "named": "" if by_code else held.leaf,
        "waits": held.wanted and not held.released and not hot_now,
        "wants_code": by_code and hot.next_tap(judged.case) == "heater on",
        "code": code,
        **({} if hot_now else before_heat.context(mounting, judged)),
        "plan": fitting.plan_line(judged.case),
        "no_plan": fitting.no_plan(judged.case),
        "safety": safety(
            mounting,
            "hot",
            long_hold=bool(plan and plan.pressing_s and plan.pressing_s > LONG_HOLD_S),
            before_heat=not hot_now,
        ),
    }
    return render(request, "fitter/hot.html", context, status=422 if code.doubt else 200)
