"""One's own password: chosen by who knows the standing one; asked for at the first sign-in."""

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.ledger.models import Entry
from qrecords.people.actions import choose_password
from qrecords.people.errors import PersonFieldError, ProveAgainError, UnknownPersonError
from qrecords.people.passwords import Sealed, seal
from qrecords.people.permissions import Action
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.registers.asking import Ask, WrongFields, typed
from qrecords.web.views.entrance import here_or_start
from qrecords.web.views.registers_forms import GET_POST, show_form


def _asks(first: bool) -> list[Ask]:
    standing = gettext("first password, as it was given to you") if first else gettext("password until now")
    hint = gettext("at least 10 characters, and none of the common ones")
    return [
        Ask("password", standing, "password", required=True),
        Ask("new_password", gettext("new password"), "password", required=True, hint=hint),
        Ask("new_again", gettext("the new one again"), "password", required=True),
    ]


@door(Action.SIGNED_IN, under_first_password=True)
@require_http_methods(GET_POST)
def own_password(request: HttpRequest) -> HttpResponse:
    """Choose an own password. Other sessions of the person end; this one goes on."""
    person = person_of(request)
    first, asks = person.first_password, _asks(person.first_password)
    title = gettext("Choose your own password") if first else gettext("Own password")
    more: dict[str, Any] = {"template": "own_password", "first": first, "next": request.GET.get("next", "")}
    if request.method == "GET":
        return show_form(request, title, asks, **more)
    target = here_or_start(request, request.GET.get("next", ""))
    if Entry.objects.filter(id=entry_id_of(request)).exists():  # sent twice: it is done
        return redirect(target)
    given = typed(request, asks)
    try:
        choose_password(password=_chosen(given), acting=acting_of(request), entry_id=entry_id_of(request))
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors, **more)
    except (UnknownPersonError, ProveAgainError):
        return show_form(request, title, asks, given, {"password": gettext("This is not it.")}, **more)
    person.refresh_from_db()
    update_session_auth_hash(request, person)
    messages.info(request, gettext("From now on only you know your password."))
    return redirect(target)


def _chosen(given: Mapping[str, str]) -> Sealed:
    """The new password, typed twice alike and not the one it replaces; WrongFields else."""
    if given["new_password"] == given["password"]:
        raise WrongFields({"new_password": gettext("Another one than until now.")})
    if given["new_password"] != given["new_again"]:
        raise WrongFields({"new_again": gettext("Not the same as above.")})
    try:
        return seal(given["new_password"], "new_password")
    except PersonFieldError as error:
        raise WrongFields({error.field: error.allowed}) from error
