"""A hold point at the tablet: the inspector signs in right here. And the fitter's own *ready*."""

import uuid
from dataclasses import replace
from datetime import UTC, datetime

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_POST

from qrecords.mountings.actions.finishing import ready
from qrecords.mountings.errors import (
    ChangedMeanwhileError,
    FieldsError,
    NeedsReasonError,
    NothingSaidError,
    RefusedError,
)
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, mounting_for, shown_with_own
from qrecords.people.acting import PROVED
from qrecords.people.errors import NotAllowedError, ProveAgainError, UnknownPersonError
from qrecords.people.permissions import Action
from qrecords.people.proving import prove
from qrecords.proof.identifiers import following
from qrecords.signoff import actions as signoff
from qrecords.signoff.errors import NotCompetentError, ReasonNeededError
from qrecords.steps.transitions import LIVE, State
from qrecords.web.door import acting_of, door, entry_id_of, person_of, shown_of
from qrecords.web.fitter.holding import NotReleased, read_before
from qrecords.web.fitter.questions import asked_sentence
from qrecords.web.fitter.refusals import refusal_sentence
from qrecords.web.fitter.screens import SCREENS
from qrecords.web.fitter.sent import Sent
from qrecords.web.refused import refused_words
from qrecords.web.views.fitter_capture import show, take

CHANGED = gettext_noop("Something came since this page was shown. It is on the page now: look again.")
AT = {"fit": "fit", "cold": "hold"}
"""The part on which a hold is released."""
KEPT = ("sign_in", "marking", "marking_reason", "alone")
"""What a form that was not taken gives back: never the password."""
MARKING = gettext_noop("the marking, read off the ring by the inspector himself")
"""What he types on the page of a hold, by the name that stands there."""


@door(Action.RECORD)
@require_POST
def release_here(request: HttpRequest, mounting_id: uuid.UUID, hold: str) -> HttpResponse:
    """The inspector proves himself on the fitter's device: he is the author, the fitter the sender. What he
    reads off the ring comes with it."""
    if hold not in AT:
        raise Http404(hold)
    fitter = person_of(request)
    mounting = mounting_for(fitter, mounting_id, Action.RECORD, datetime.now(UTC))
    try:
        inspector = prove(
            request, request.POST.get("sign_in", ""), request.POST.get("inspector_password", "")
        )
        signoff.release_here(
            acting=replace(acting_of(request), author=inspector, sender=fitter, identity=PROVED),
            mounting=mounting,
            entry_id=entry_id_of(request),
            hold=hold,
            shown=shown_of(request),
            reading_id=entry_id_of(request, "reading_id"),
            marking=request.POST.get("marking", ""),
            marking_reason=request.POST.get("marking_reason", ""),
            alone=request.POST.get("alone", ""),
        )
    except UnknownPersonError:
        said = NotReleased(gettext("Name and password do not belong together. Or the account is closed."))
    except ChangedMeanwhileError:
        said = NotReleased(gettext(CHANGED))
    except FieldsError as error:
        words = [asked_sentence(gettext(MARKING), each) for each in error.errors.values()]
        said = NotReleased(" ".join(words), "marking")
    except (NeedsReasonError, NothingSaidError):
        said = read_before(judged_now(mounting), hold, request.POST.get("marking", ""))
    except (RefusedError, NotAllowedError) as error:
        said = NotReleased(refusal_sentence(error))
    except (NotCompetentError, ReasonNeededError) as error:
        said = NotReleased(refused_words(error))
    else:
        return redirect("fit-heat" if hold == "fit" else "fit-close", mounting.id)
    return _not_released(request, mounting, hold, said)


def _not_released(request: HttpRequest, mounting: Mounting, hold: str, said: NotReleased) -> HttpResponse:
    """The hold page once more: what he read and his name are kept, what is wrong stands beside it."""
    judged = judged_now(mounting)
    if State(mounting.state) not in LIVE:
        messages.error(request, said.words)
        return redirect("sheet", mounting.id)
    screen = next(screen for screen in SCREENS.values() if screen.hold == hold)
    screen = screen.under(judged.case.procedure)
    part = screen.part(AT[hold]) or screen.parts[-1]
    typed = Sent({key: request.POST.get(key, "") for key in KEPT})
    return show(request, mounting, judged, screen, part, typed, not_released=said)


@door(Action.READY)
@require_POST
def ready_here(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """The fitter's signature: performed as recorded. What stands on the page and is not saved yet is recorded
    first; while something of it is asked back, nothing is signed."""
    mounting = mounting_for(person_of(request), mounting_id, Action.READY, datetime.now(UTC))
    judged = judged_now(mounting)
    form = entry_id_of(request)
    if str(following(form, "ready")) in judged.case.leaves:
        return _with_the_inspector(request, mounting)
    screen = SCREENS["close"].under(judged.case.procedure)
    sent = Sent({key: value for key, value in request.POST.items() if isinstance(value, str)})
    return take(request, mounting, judged, screen, screen.parts[-1], sent, _sign_performed)


def _sign_performed(request: HttpRequest, mounting: Mounting, *_recorded: object) -> HttpResponse:
    """What he sent himself since the page was shown, from it or beside it, is no news to who signs."""
    person = person_of(request)
    try:
        ready(
            acting=acting_of(request, "own_password"),
            mounting=mounting,
            entry_id=following(entry_id_of(request), "ready"),
            shown=shown_with_own(person, case_of(mounting), shown_of(request)),
        )
    except (UnknownPersonError, ProveAgainError):
        messages.error(request, gettext("The password is not right. Give it again."))
    except ChangedMeanwhileError:
        messages.error(request, gettext(CHANGED))
    except RefusedError as error:
        messages.error(request, refusal_sentence(error))
    else:
        return _with_the_inspector(request, mounting)
    return redirect("fit-close", mounting.id)


def _with_the_inspector(request: HttpRequest, mounting: Mounting) -> HttpResponse:
    messages.success(request, gettext("{n}: with the inspector.").format(n=mounting.number))
    return redirect("my-mountings")
