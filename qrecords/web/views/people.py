"""The administrator's pages: who is here, and which roles they hold from when to when."""

import uuid
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.db.models import OuterRef, Prefetch, Q, QuerySet, Subquery
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from qrecords.ledger.append import atomic
from qrecords.ledger.identifiers import new_id
from qrecords.people import actions
from qrecords.people.errors import (
    NameTakenError,
    NotForOneselfError,
    PersonFieldError,
    ProveAgainError,
    RoleHeldError,
    RolesApartError,
    UnknownPersonError,
)
from qrecords.people.models import Person, PersonVersion, RoleGrant
from qrecords.people.passwords import seal
from qrecords.people.permissions import Action, Role
from qrecords.people.queries import Reach
from qrecords.proof.identifiers import following
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.listing.table import Column, Columns, exported, listing
from qrecords.web.moments import day
from qrecords.web.registers.asking import Ask, Reading, WrongFields, typed, wrong
from qrecords.web.views.registers import reach_of
from qrecords.web.views.registers_forms import GET_POST, show_form, site_ask, site_of
from qrecords.workshop.models import Site


def _people(where: Reach) -> "QuerySet[Any]":
    """Everybody with a role at the administrator's sites, and whoever has none anywhere yet."""
    name = PersonVersion.objects.filter(person=OuterRef("pk")).order_by("-valid_from", "-id")
    rows = Person.objects.annotate(name=Subquery(name.values("name")[:1]))
    here = RoleGrant.objects.order_by("valid_from", "id")
    if not where.everywhere:
        here = here.filter(site__in=where.sites)
        rows = rows.filter(Q(grants__site__in=where.sites) | Q(grants__isnull=True)).distinct()
    return rows.prefetch_related(Prefetch("grants", queryset=here))


def _roles(person: Any) -> str:
    now = datetime.now(UTC)
    return ", ".join(dict.fromkeys(gettext(grant.role) for grant in person.grants.all() if grant.covers(now)))


def _columns() -> Columns:
    def page(person: Any) -> str:
        return reverse("person", args=[person.id])

    return Columns(
        columns=(
            Column(gettext("name"), lambda p: p.name or "", "name", href=page, strong=True),
            Column(gettext("sign-in name"), lambda p: p.sign_in, "sign_in"),
            Column(gettext("roles now"), lambda p: _roles(p) or gettext("none")),
            Column(gettext("account"), lambda p: gettext("open") if p.is_active else gettext("closed")),
        ),
        searched=("sign_in", "name"),
        default=("sign_in", "id"),
    )


@door(Action.PEOPLE)
@require_GET
def people(request: HttpRequest) -> HttpResponse:
    rows = _people(reach_of(request, Action.PEOPLE))
    answer = exported(request, _columns(), rows, "people")
    if answer is not None:
        return answer
    context = {
        "title": gettext("People"),
        "listing": listing(request, _columns(), rows),
        "new": "person-new",
        "sheet": "import-people",
    }
    return render(request, "registers/list.html", context)


REFUSALS = (
    WrongFields,
    NameTakenError,
    PersonFieldError,
    NotForOneselfError,
    RoleHeldError,
    RolesApartError,
    UnknownPersonError,
    ProveAgainError,
)


def at_fields(error: Exception, given: Mapping[str, str]) -> dict[str, str]:
    """What was refused, said at the field that has to change."""
    match error:
        case WrongFields():
            return error.errors
        case NameTakenError():
            return {"sign_in": wrong(given["sign_in"], gettext("a name that nobody has yet"))}
        case PersonFieldError():
            return {error.field: error.allowed}
        case NotForOneselfError():
            return {"role": gettext("Nobody gives himself a role: another administrator does.")}
        case RoleHeldError():
            return {"role": gettext("Held already at this site.")}
        case RolesApartError():
            words = gettext("%(held)s already: who keeps people and roles neither signs nor records.")
            return {"role": words % {"held": gettext(error.held)}}
    return {"password": gettext("This is not your password.")}


def _own_password() -> Ask:
    return Ask("password", gettext("your own password"), "password", required=True)


def _enrol_asks(site_asks: Sequence[Ask]) -> list[Ask]:
    roles = [("", gettext("none yet")), *((role.value, gettext(role.value)) for role in Role)]
    hint = gettext("at least 10 characters; the first sign-in asks for another, which only its owner knows")
    return [
        *site_asks,
        Ask("name", gettext("name as printed"), required=True),
        Ask("sign_in", gettext("sign-in name"), required=True, hint=gettext("letters, digits, . - _")),
        Ask("first_password", gettext("first password"), "password", required=True, hint=hint),
        Ask("role", gettext("role"), "select", roles),
        _own_password(),
    ]


@door(Action.PEOPLE)
@require_http_methods(GET_POST)
def person_new(request: HttpRequest) -> HttpResponse:
    """Enrol a person, with a first role if one is chosen: one transaction."""
    found, site_asks = site_ask(request, Action.PEOPLE)
    asks, title = _enrol_asks(site_asks), gettext("Enrol a person")
    if request.method == "GET":
        return show_form(request, title, asks)
    given = typed(request, asks)
    if Person.objects.filter(id=entry_id_of(request)).exists():  # sent twice: it is done
        return redirect("person", id=entry_id_of(request))
    try:
        person = _enrolled(request, found, given)
    except REFUSALS as error:
        return show_form(request, title, asks, given, at_fields(error, given))
    messages.info(request, gettext("%(name)s is enrolled.") % {"name": given["name"]})
    return redirect("person", id=person.id)


def _enrolled(request: HttpRequest, found: Sequence[Site], given: Mapping[str, str]) -> Person:
    site, reading = site_of(found, given), Reading(given)
    name = reading.text("name", 80)
    sign_in = reading.text("sign_in", 60)
    if sign_in and not all(sign.isalnum() or sign in ".-_" for sign in sign_in):
        reading.errors["sign_in"] = wrong(sign_in, gettext("letters, digits, . - _"))
    role = reading.one_of("role", ["", *Role]) if given["role"] else ""
    try:
        password = seal(given["first_password"], "first_password")
    except PersonFieldError as error:
        reading.errors["first_password"] = error.allowed
    reading.done()
    acting = acting_of(request)
    with atomic():
        person = actions.enrol(
            acting=acting,
            site=site.id,
            person_id=entry_id_of(request),
            sign_in=sign_in,
            name=name,
            password=password,
        )
        if role:
            grant_id = following(person.id, "first grant")
            actions.grant_role(acting=acting, site=site.id, grant_id=grant_id, person=person, role=Role(role))
    return person


def _person(request: HttpRequest, id: uuid.UUID) -> Any:
    found = _people(reach_of(request, Action.PEOPLE)).filter(id=id).first()
    if found is None:
        raise Http404(f"no person {id} here")
    return found


def _role_asks(site_asks: Sequence[Ask]) -> list[Ask]:
    roles = [(role.value, gettext(role.value)) for role in Role]
    return [*site_asks, Ask("role", gettext("role"), "select", roles, required=True), _own_password()]


@door(Action.PEOPLE)
@require_http_methods(GET_POST)
def person(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """One person: the roles held and when; a form that gives one more."""
    found, site_asks = site_ask(request, Action.PEOPLE)
    asks, shown = _role_asks(site_asks), _person(request, id)
    more: dict[str, Any] = {
        "person": shown,
        "grants": _grants(shown, found),
        "oneself": shown.id == person_of(request).id,
        "entry": new_id(),
        "template": "person",
    }
    if request.method == "GET":
        return show_form(request, gettext("Give a role"), asks, **more)
    given = typed(request, asks)
    if RoleGrant.objects.filter(id=entry_id_of(request)).exists():  # sent twice: it is done
        return redirect("person", id=id)
    reading = Reading(given)
    try:
        site, role = site_of(found, given), reading.one_of("role", list(Role))
        reading.done()
        actions.grant_role(
            acting=acting_of(request),
            site=site.id,
            grant_id=entry_id_of(request),
            person=shown,
            role=Role(role),
        )
    except REFUSALS as error:
        return show_form(request, gettext("Give a role"), asks, given, at_fields(error, given), **more)
    messages.info(request, gettext("%(name)s is %(role)s now.") % {"name": shown.name, "role": gettext(role)})
    return redirect("person", id=id)


def _grants(person: Any, found: Sequence[Site]) -> list[dict[str, Any]]:
    """The roles of a person, each with its site and time; `standing` if it can be ended."""
    sites = {site.id: site for site in found}
    return [
        {
            "id": grant.id,
            "role": gettext(grant.role),
            "site": sites[grant.site].name if grant.site in sites else "",
            "from": day(grant.valid_from, "UTC"),
            "to": day(grant.valid_to, "UTC") if grant.valid_to else "",
            "standing": grant.valid_to is None,
            "entry": new_id(),
        }
        for grant in person.grants.all()
    ]


@door(Action.PEOPLE)
@require_POST
def role_end(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Take a role back from now on."""
    grant = get_object_or_404(RoleGrant.objects.select_related("person"), id=id)
    _person(request, grant.person_id)
    if grant.valid_to is None:
        actions.end_role(acting=acting_of(request), entry_id=entry_id_of(request), grant=grant)
        messages.info(request, gettext("%(role)s ended.") % {"role": gettext(grant.role)})
    return redirect("person", id=grant.person_id)


@door(Action.PEOPLE)
@require_POST
def account_end(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Close an account from now on, with its tokens."""
    person = _person(request, id)
    site = min(reach_of(request, Action.PEOPLE).sites, key=str)
    if person.is_active:
        actions.close_account(
            acting=acting_of(request), entry_id=entry_id_of(request), site=site, person=person
        )
        messages.info(request, gettext("The account %(name)s is closed.") % {"name": person.sign_in})
    return redirect("person", id=id)


@door(Action.PEOPLE)
@require_http_methods(GET_POST)
def password_anew(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """A first password anew, for who forgot the own one; it opens nothing but the choice of another."""
    shown = _person(request, id)
    title = gettext("%(name)s: first password anew") % {"name": shown.name}
    hint = gettext("at least 10 characters; the next sign-in asks for another, which only its owner knows")
    asks = [Ask("first_password", gettext("first password"), "password", required=True, hint=hint)]
    asks.append(_own_password())
    if request.method == "GET":
        return show_form(request, title, asks)
    given = typed(request, asks)
    try:
        actions.give_first_password(
            password=seal(given["first_password"], "first_password"),
            acting=acting_of(request),
            entry_id=entry_id_of(request),
            site=min(reach_of(request, Action.PEOPLE).sites, key=str),
            person=shown,
        )
    except (PersonFieldError, UnknownPersonError, ProveAgainError) as error:
        return show_form(request, title, asks, given, at_fields(error, given))
    messages.info(request, gettext("%(name)s chooses a password at the next sign-in.") % {"name": shown.name})
    return redirect("person", id=id)
