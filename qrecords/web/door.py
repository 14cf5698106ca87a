"""The door of every page: who comes in, for which action, and as which act.

Every view is wrapped in `door(Action.…)`; a test fails on an address without one. Errors of the actions are
shown by `refused`, in one place.
"""

import uuid
from collections.abc import Callable
from datetime import MAXYEAR, MINYEAR, UTC, datetime
from functools import partial, wraps
from typing import Any, cast
from urllib.parse import urlencode

from django.conf import settings
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.dateparse import parse_datetime
from django.utils.http import url_has_allowed_host_and_scheme

from qrecords.ledger.envelope import Known
from qrecords.ledger.errors import DifferentContentError, NotRecordedError, PayloadTooLongError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import known_leaf, leaf_at
from qrecords.mountings.errors import MountingError, UnknownMountingError
from qrecords.people.acting import Acting
from qrecords.people.bounds import known_zone
from qrecords.people.errors import NotAllowedError, PeopleError
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.proving import prove_again
from qrecords.people.queries import Rights, rights_of
from qrecords.proof.errors import CanonicalError, IdentifierError
from qrecords.proof.identifiers import checked
from qrecords.refusals import status_of
from qrecords.signoff.errors import SignoffError
from qrecords.steps.errors import StepError
from qrecords.steps.shown import DIGITS, Extent, read_extent
from qrecords.web.refused import refused_words
from qrecords.workshop.errors import UnknownObjectError, WorkshopError

KNOWN = "known"
View = Callable[..., HttpResponse]
# Of the ledger's only what a person can cause; a hole in the log or a lost key is a fault and stays one.
ACTION_ERRORS = (
    MountingError,
    SignoffError,
    PeopleError,
    WorkshopError,
    StepError,
    DifferentContentError,
    NotRecordedError,
    PayloadTooLongError,
    CanonicalError,
    IdentifierError,
)


def door(action: Action, *, under_first_password: bool = False, open_by: str = "") -> Callable[[View], View]:
    """Let in only whom the table of rights lets do this action somewhere; the actions check site and own.
    Who still has a first password comes no further than to choosing an own one. `open_by` names the setting
    by which the operator opens the page to everybody."""

    def wrap(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            if action != Action.PUBLIC and not (open_by and getattr(settings, open_by)):
                if not request.user.is_authenticated:
                    return cast(HttpResponse, redirect_to_login(request.get_full_path()))
                if person_of(request).first_password and not under_first_password:
                    return _to_own_password(request)
                if action != Action.SIGNED_IN and not may(request, action):
                    return refused(request, NotAllowedError(action, None))
            try:
                return _remembering(request, partial(view, request, *args, **kwargs))
            except (UnknownMountingError, UnknownObjectError) as error:
                raise Http404(str(error)) from error
            except ACTION_ERRORS as error:
                return refused(request, error)

        guarded.action = action  # type: ignore[attr-defined]  # read by the test that walks every address
        return guarded

    return wrap


def _to_own_password(request: HttpRequest) -> HttpResponse:
    wanted = request.get_full_path() if request.method == "GET" else "/"
    return redirect(f"{reverse('own-password')}?{urlencode({'next': wanted})}")


def _remembering(request: HttpRequest, answer: Callable[[], HttpResponse]) -> HttpResponse:
    """Let the browser keep which leaf was the newest before the page was made: what is sent from it names
    that leaf as known. A page made meanwhile shows no less."""
    if request.method != "GET":
        return answer()
    newest = known_leaf()
    response = answer()
    if newest is not None and response.headers.get("Content-Type", "").startswith("text/html"):
        kept = f"{newest.index}:{newest.hash}"
        response.set_cookie(KNOWN, kept, httponly=True, samesite="Lax", secure=request.is_secure())
    return response


def may(request: HttpRequest, action: Action) -> bool:
    """Whether some role of the signed-in person, at some site, gives this action."""
    person = person_of(request)
    known: dict[uuid.UUID, Rights] = vars(request).setdefault("rights_of", {})
    if person.id not in known:  # once a page, which offers what its reader may at one moment
        known[person.id] = rights_of(person.id, datetime.now(UTC))
    return known[person.id].somewhere(action)


def person_of(request: HttpRequest) -> Person:
    assert isinstance(request.user, Person)  # noqa: S101 - door() let only signed-in people in
    return request.user


def acting_of(request: HttpRequest, proof: str = "password") -> Acting:
    """The act of the signed-in person, with the device's clock if the page told it. A password, in the field
    `proof`, proves identity at the act; a wrong one raises UnknownPersonError."""
    person = person_of(request)
    acting = Acting(
        author=person,
        now=datetime.now(UTC),
        at_device=_device_time(request),
        zone=known_zone(request.COOKIES.get("zone", ""), settings.TIME_ZONE),
        known=_known(request),
    )
    password = request.POST.get(proof, "")
    if password:
        prove_again(request, person, password)
        return acting.proved()
    return acting


def _known(request: HttpRequest) -> Known | None:
    """The newest leaf this browser was shown, if the log really holds it."""
    index, _, digest = request.COOKIES.get(KNOWN, "").partition(":")
    if not index.isdecimal() or len(index) > DIGITS:
        return None
    return leaf_at(int(index), digest)


def _device_time(request: HttpRequest) -> datetime | None:
    """The device's clock; a day that no calendar has, or one at the ends of what can be reckoned with, is not
    told: no act is lost for it."""
    try:
        told = parse_datetime(request.POST.get("at_device", ""))
    except ValueError:
        return None
    if told is None or told.tzinfo is None or not MINYEAR < told.year < MAXYEAR:
        return None
    return told


def entry_id_of(request: HttpRequest, field: str = "entry_id") -> uuid.UUID:
    """The id the form carries in this field, so that a double submit is a replay; a new one if it carries
    none. IdentifierError for one that is not of version 7."""
    try:
        told = uuid.UUID(request.POST.get(field, ""))
    except ValueError:
        return new_id()
    return checked(told)


def shown_of(request: HttpRequest) -> Extent:
    """How much of the record the form's page showed; nothing where it carries none."""
    return read_extent(request.POST.get("shown", ""))


def refused(request: HttpRequest, error: Exception) -> HttpResponse:
    """The page that says what was refused and what would be right; nothing recorded is lost."""
    context = {"words": refused_words(error), "back": _came_from(request)}
    return render(request, "refused.html", context, status=status_of(error))


def _came_from(request: HttpRequest) -> str:
    """The page of ours that led here; the beginning for who comes from elsewhere."""
    told = request.headers.get("Referer", "")
    ours = url_has_allowed_host_and_scheme(told, {request.get_host()}, require_https=request.is_secure())
    return told if ours else "/"
