"""The only writers of people, roles, competence and tokens. Each act is one transaction with its entry."""

import hashlib
import secrets
import uuid
from datetime import date, datetime, timedelta
from decimal import Decimal

from django.db.models import Q

from qrecords.ledger.append import atomic
from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import home_site
from qrecords.people.acting import PROVED, Acting, require
from qrecords.people.competence import EVERYTHING, Range
from qrecords.people.errors import (
    HoldsElsewhereError,
    LastAdministratorError,
    NameTakenError,
    NotAllowedError,
    NotForOneselfError,
    PeopleThereError,
    PersonFieldError,
    ProveAgainError,
    RoleHeldError,
    RolesApartError,
)
from qrecords.people.models import Competence, Eyesight, Person, PersonVersion, RoleGrant, Token
from qrecords.people.passwords import Sealed
from qrecords.people.permissions import NEVER_BY_TOKEN, Action, Role, apart
from qrecords.people.stating import state
from qrecords.proof.canonical import canonical_bytes

LONGEST_NAME = 80
TOKEN_LIFE = timedelta(days=30)


def name_hash(name: str, salt: bytes) -> str:
    """SHA-256 over a 32-byte salt and the canonical person data: unguessable without the salt."""
    return hashlib.sha256(salt + canonical_bytes({"name": name})).hexdigest()


def _add_person(
    person_id: uuid.UUID, sign_in: str, name: str, password: Sealed, at: datetime, *, first: bool
) -> PersonVersion:
    """The person with the first version of the name; the same person again if this is a replay."""
    before = PersonVersion.objects.filter(id=person_id, person_id=person_id).select_related("person").first()
    if before is not None:
        if before.person.sign_in != sign_in or name_hash(name, bytes(before.salt)) != before.hash:
            raise DifferentContentError(person_id)
        return before
    if Person.objects.filter(sign_in=sign_in).exists():
        raise NameTakenError(sign_in)
    if not 1 <= len(name.strip()) <= LONGEST_NAME or not name.isprintable():
        raise PersonFieldError("name", name, f"1 to {LONGEST_NAME} characters in one line")
    person = Person.objects.create(
        id=person_id, sign_in=sign_in, password=password.hash, first_password=first
    )
    salt = secrets.token_bytes(32)
    return PersonVersion.objects.create(
        id=person_id, person=person, name=name, salt=salt, hash=name_hash(name, salt), valid_from=at
    )


def _state_person(acting: Acting, site: uuid.UUID, version: PersonVersion) -> None:
    stamp = {"person": str(version.person_id), "hash": version.hash}
    state(acting, "person", id=version.id, site=site, about=("person", version.person_id), said=stamp)


@atomic()
def enrol(
    *, acting: Acting, site: uuid.UUID, person_id: uuid.UUID, sign_in: str, name: str, password: Sealed
) -> Person:
    """Make a person known to this installation. The ledger gets the salted hash of the name.

    Whoever enrols knows this first password, so its owner has to choose another before doing anything.
    """
    require(acting, Action.PEOPLE, site)
    version = _add_person(person_id, sign_in, name, password, acting.now, first=True)
    _state_person(acting, site, version)
    return version.person


@atomic()
def enrol_first_administrator(
    *, now: datetime, site: uuid.UUID, person_id: uuid.UUID, sign_in: str, name: str, password: Sealed
) -> Person:
    """The person an installation begins with, when nobody could grant anything yet. Refused later."""
    if Person.objects.exists():
        raise PeopleThereError
    version = _add_person(person_id, sign_in, name, password, now, first=False)
    acting = Acting(author=version.person, now=now, identity=PROVED)
    _state_person(acting, site, version)
    _grant(acting, site, new_id(), version.person, Role.ADMINISTRATOR, None)
    return version.person


@atomic()
def choose_password(*, acting: Acting, entry_id: uuid.UUID, password: Sealed) -> None:
    """One's own new password, by who proves to know the old one. The ledger learns only that it happened."""
    if acting.token_actions is not None:
        raise NotAllowedError(Action.SIGNED_IN, None)
    if acting.identity != PROVED:
        raise ProveAgainError(Action.SIGNED_IN)
    _set_password(acting, "own password", entry_id, acting.author, password, first=False)


@atomic()
def give_first_password(
    *, acting: Acting, entry_id: uuid.UUID, site: uuid.UUID, person: Person, password: Sealed
) -> None:
    """A first password anew for who forgot the own one: it opens nothing but the choice of another."""
    require(acting, Action.PEOPLE, site)
    if person.id == acting.author.id:
        raise NotForOneselfError(Action.PEOPLE)
    _require_everywhere(acting, person)
    _set_password(acting, "first password", entry_id, person, password, first=True)


def _require_everywhere(acting: Acting, person: Person) -> None:
    """An account is one for all sites: PEOPLE at every site where its owner holds a role now or later."""
    standing = RoleGrant.objects.filter(Q(valid_to__isnull=True) | Q(valid_to__gt=acting.now), person=person)
    for site in sorted(set(standing.values_list("site", flat=True)), key=str):
        try:
            require(acting, Action.PEOPLE, site)
        except NotAllowedError as error:
            raise HoldsElsewhereError(site) from error


def _set_password(
    acting: Acting, kind: str, entry_id: uuid.UUID, person: Person, password: Sealed, *, first: bool
) -> None:
    site = home_site()
    if site is None:
        raise NotAllowedError(Action.SIGNED_IN, None)
    new = not Entry.objects.filter(id=entry_id).exists()
    state(acting, kind, id=entry_id, site=site, about=("person", person.id), said={"person": str(person.id)})
    if new:  # sent twice: a password chosen since then stays
        Person.objects.filter(id=person.id).update(password=password.hash, first_password=first)
        _stop_tokens(person, acting.now)


def _stop_tokens(person: Person, now: datetime) -> None:
    """No token outlives the password that it was made under."""
    Token.objects.filter(person=person, revoked_at__isnull=True).update(revoked_at=now)


def _grant(
    acting: Acting,
    site: uuid.UUID,
    grant_id: uuid.UUID,
    person: Person,
    role: Role,
    valid_from: datetime | None,
) -> RoleGrant:
    # A moment that nobody named is the server's, and no part of what was said: a replay says the same.
    said = {"person": str(person.id), "role": role.value, "from": _named(valid_from)}
    state(acting, "role grant", id=grant_id, site=site, about=("person", person.id), said=said)
    row, _ = RoleGrant.objects.get_or_create(
        id=grant_id,
        defaults={"person": person, "role": role.value, "site": site, "valid_from": valid_from or acting.now},
    )
    return row


def _named(moment: datetime | None) -> str:
    return moment.isoformat() if moment else ""


def _may_hold(acting: Acting, site: uuid.UUID, person: Person, role: Role, start: datetime) -> None:
    """Nobody raises himself; a role is held once; who keeps people and roles neither signs nor records."""
    if person.id == acting.author.id:
        raise NotForOneselfError(Action.PEOPLE)
    Person.objects.select_for_update().get(id=person.id)  # two grants at once would not see each other
    standing = RoleGrant.objects.filter(Q(valid_to__isnull=True) | Q(valid_to__gt=start), person=person)
    held = [(Role(grant.role), grant.site) for grant in standing]
    if (role, site) in held:
        raise RoleHeldError(role)
    others = [other for other, _ in held if apart(role, other)]
    if others:
        raise RolesApartError(role, others[0])


@atomic()
def grant_role(
    *,
    acting: Acting,
    site: uuid.UUID,
    grant_id: uuid.UUID,
    person: Person,
    role: Role,
    valid_from: datetime | None = None,
) -> RoleGrant:
    """Give a role at a site, from now or a named moment on."""
    require(acting, Action.PEOPLE, site)
    if not RoleGrant.objects.filter(id=grant_id).exists():
        _may_hold(acting, site, person, role, valid_from or acting.now)
    return _grant(acting, site, grant_id, person, role, valid_from)


@atomic()
def end_role(*, acting: Acting, entry_id: uuid.UUID, grant: RoleGrant) -> None:
    """Take a role back from now on; what was done under it stays done. One that ended stays ended."""
    require(acting, Action.PEOPLE, grant.site)
    ended = RoleGrant.objects.select_for_update().get(id=grant.id).valid_to is not None
    if ended and not Entry.objects.filter(id=entry_id).exists():
        return
    if not ended and grant.role == Role.ADMINISTRATOR:
        _refuse_the_last(acting.now, Q(id=grant.id))
    # The moment is the server's, which the envelope bears: a replay says the same.
    said = {"grant": str(grant.id), "to": ""}
    state(acting, "role end", id=entry_id, site=grant.site, about=("person", grant.person_id), said=said)
    RoleGrant.objects.filter(id=grant.id, valid_to__isnull=True).update(valid_to=acting.now)


def _refuse_the_last(now: datetime, ending: Q) -> None:
    """Somebody stays who gives roles. Locks the grants, so that two administrators cannot end each other."""
    standing = RoleGrant.objects.filter(
        Q(valid_to__isnull=True) | Q(valid_to__gt=now),
        role=Role.ADMINISTRATOR.value,
        person__is_active=True,
        valid_from__lte=now,
    )
    locked = list(standing.select_for_update(of=("self",)).order_by("id"))
    if locked and not standing.exclude(ending).exists():
        raise LastAdministratorError


@atomic()
def assess(
    *,
    acting: Acting,
    site: uuid.UUID,
    competence_id: uuid.UUID,
    person: Person,
    task: str,
    basis: str,
    assessor: Person,
    from_mm: Decimal,
    to_mm: Decimal,
    valid_from: date,
    valid_to: date,
    range: Range = EVERYTHING,
) -> Competence:
    """Record that somebody assessed a person's competence for a task, a size and type range and a time.

    Neither who assesses nor who records it does so of himself.
    """
    require(acting, Action.ASSESS, site)
    if person.id in (acting.author.id, assessor.id):
        raise NotForOneselfError(Action.ASSESS)
    said = {
        "person": str(person.id),
        "task": task,
        "basis": basis,
        "assessor": str(assessor.id),
        "from_mm": str(from_mm),
        "to_mm": str(to_mm),
        "valid_from": valid_from.isoformat(),
        "valid_to": valid_to.isoformat(),
        **range.said(),
    }
    state(acting, "competence", id=competence_id, site=site, about=("person", person.id), said=said)
    row, _ = Competence.objects.get_or_create(
        id=competence_id,
        defaults={
            "person": person,
            "site": site,
            "task": task,
            "basis": basis,
            "assessor": assessor.id,
            "from_mm": from_mm,
            "to_mm": to_mm,
            "valid_from": valid_from,
            "valid_to": valid_to,
            "kinds": list(range.kinds),
            "positions": list(range.positions),
            "jobs": range.jobs,
            "recorded_at": acting.now,
        },
    )
    return row


@atomic()
def record_eyesight(
    *,
    acting: Acting,
    site: uuid.UUID,
    eyesight_id: uuid.UUID,
    person: Person,
    tested_on: date,
    valid_to: date,
) -> Eyesight:
    """Record that eyesight was tested to the employer's requirement, and until when that holds: nothing of
    what was found. Nobody records it of himself."""
    require(acting, Action.ASSESS, site)
    if person.id == acting.author.id:
        raise NotForOneselfError(Action.ASSESS)
    said = {
        "person": str(person.id),
        "tested_on": tested_on.isoformat(),
        "valid_to": valid_to.isoformat(),
    }
    state(acting, "eyesight", id=eyesight_id, site=site, about=("person", person.id), said=said)
    days = {"tested_on": tested_on, "valid_to": valid_to}
    row, _ = Eyesight.objects.get_or_create(id=eyesight_id, defaults={"person": person, "site": site, **days})
    return row


@atomic()
def make_token(
    *, acting: Acting, site: uuid.UUID, token_id: uuid.UUID, label: str, actions: frozenset[Action]
) -> tuple[Token, str]:
    """A token for one's own work; the secret is shown once. Acts of authority are never among its actions."""
    require(acting, Action.TOKENS, site, own=True)
    secret = secrets.token_urlsafe(32)
    allowed = sorted(action.value for action in actions - NEVER_BY_TOKEN)
    row = Token.objects.create(
        id=token_id,
        person=acting.author,
        label=label,
        secret_hash=hashlib.sha256(secret.encode()).hexdigest(),
        actions=allowed,
        made_at=acting.now,
        valid_to=acting.now + TOKEN_LIFE,
    )
    said = {"label": label, "actions": allowed, "to": row.valid_to.isoformat()}
    state(acting, "token", id=token_id, site=site, about=("person", acting.author.id), said=said)
    return row, secret


@atomic()
def revoke_token(*, acting: Acting, token: Token) -> None:
    """Stop a token at once. Only its owner's; a lost device is closed the same way."""
    mine = Token.objects.filter(id=token.id, person=acting.author, revoked_at__isnull=True)
    site = home_site()
    if mine.update(revoked_at=acting.now) and site is not None:
        state(
            acting,
            "token end",
            id=new_id(),
            site=site,
            about=("person", acting.author.id),
            said={"token": str(token.id)},
        )


@atomic()
def close_account(*, acting: Acting, entry_id: uuid.UUID, site: uuid.UUID, person: Person) -> None:
    """Close an account: no sign-in, no token, no act from now on. What was done under it stays."""
    require(acting, Action.PEOPLE, site)
    _require_everywhere(acting, person)
    if person.is_active:
        _refuse_the_last(acting.now, Q(person=person))
    state(acting, "account end", id=entry_id, site=site, about=("person", person.id), said={"open": "no"})
    Person.objects.filter(id=person.id).update(is_active=False)
    _stop_tokens(person, acting.now)
