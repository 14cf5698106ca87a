"""One's own tokens: made for a program or a device, with a few actions; the secret is shown once."""

import uuid
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from qrecords.ledger.identifiers import new_id
from qrecords.people import actions
from qrecords.people.models import Token
from qrecords.people.permissions import NEVER_BY_TOKEN, TABLE, Action
from qrecords.people.queries import rights_of
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.moments import day
from qrecords.web.registers.asking import wrong
from qrecords.web.views.registers import reach_of
from qrecords.web.views.registers_forms import GET_POST
from qrecords.workshop.queries import sites

LONGEST_LABEL = 80


def _offered(request: HttpRequest) -> list[Action]:
    """What the person may do that a token may do for them."""
    mine = rights_of(person_of(request).id, datetime.now(UTC))
    return [action for action in TABLE if mine.somewhere(action) and action not in NEVER_BY_TOKEN]


def _page(request: HttpRequest, status: int = 200, **more: Any) -> HttpResponse:
    rows = Token.objects.filter(person=person_of(request)).order_by("-made_at", "-id")
    now = datetime.now(UTC)
    tokens = [
        {
            "token": token,
            "made": day(token.made_at, "UTC"),
            "to": day(token.valid_to, "UTC"),
            "standing": token.revoked_at is None and token.valid_to > now,
            "revoked": day(token.revoked_at, "UTC") if token.revoked_at else "",
            "actions": ", ".join(gettext(action) for action in token.actions),
        }
        for token in rows[:100]
    ]
    context = {"tokens": tokens, "offered": _offered(request), "entry_id": str(new_id()), **more}
    return render(request, "registers/tokens.html", context, status=status)


@door(Action.TOKENS)
@require_http_methods(GET_POST)
def tokens(request: HttpRequest) -> HttpResponse:
    """The list of one's own; a POST makes one and shows its secret, this once."""
    if request.method == "GET":
        return _page(request)
    label = request.POST.get("label", "").strip()
    offered = _offered(request)
    chosen = [action for action in offered if action.value in request.POST.getlist("actions")]
    errors = _wrong(label, chosen)
    if errors:
        given = {"label": label[:200], "chosen": chosen, "errors": errors}
        return _page(request, status=422, **given)
    id = entry_id_of(request)
    if Token.objects.filter(id=id).exists():
        messages.info(request, gettext("This token was made already; its secret was shown once."))
        return redirect("tokens")
    site = sites(reach_of(request, Action.TOKENS))[0]
    token, secret = actions.make_token(
        acting=acting_of(request), site=site.id, token_id=id, label=label, actions=frozenset(chosen)
    )
    response = _page(request, made=token, secret=secret)
    response["Cache-Control"] = "no-store"  # shown once, and not again by going back
    return response


def _wrong(label: str, chosen: Sequence[Action]) -> dict[str, str]:
    errors = {}
    if not label or len(label) > LONGEST_LABEL or not label.isprintable():
        allowed = gettext("1 to %(n)s characters in one line") % {"n": LONGEST_LABEL}
        errors["label"] = wrong(label, allowed)
    if not chosen:
        errors["actions"] = gettext("Choose at least one: a token does nothing else.")
    return errors


@door(Action.TOKENS)
@require_POST
def token_revoke(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Stop one of one's own tokens at once."""
    token = get_object_or_404(Token, id=id, person=person_of(request))
    actions.revoke_token(acting=acting_of(request), token=token)
    messages.info(request, gettext("%(label)s is stopped.") % {"label": token.label})
    return redirect("tokens")
