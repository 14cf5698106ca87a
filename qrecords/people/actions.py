"""The only writers of people, roles, competence and tokens. Each act is one transaction with its entry."""

import hashlib
import secrets
import uuid
from datetime import date, datetime, timedelta
from decimal import Decimal

from django.contrib.auth.hashers import make_password

from qrecords.ledger.append import atomic
from qrecords.ledger.queries import home_site
from qrecords.people.acting import Acting, require
from qrecords.people.errors import NameTakenError, PersonFieldError
from qrecords.people.models import Competence, Person, PersonVersion, RoleGrant, Token
from qrecords.people.permissions import NEVER_BY_TOKEN, Action, Role
from qrecords.people.stating import state
from qrecords.proof.canonical import canonical_bytes

LONGEST_NAME, SHORTEST_PASSWORD = 80, 10
TOKEN_LIFE = timedelta(days=30)


def name_hash(name: str, salt: bytes) -> str:
    """SHA-256 over a 32-byte salt and the canonical person data: unguessable without the salt."""
    return hashlib.sha256(salt + canonical_bytes({"name": name})).hexdigest()


def _add_person(person_id: uuid.UUID, sign_in: str, name: str, password: str, at: datetime) -> Person:
    if Person.objects.filter(sign_in=sign_in).exists():
        raise NameTakenError(sign_in)
    if not 1 <= len(name.strip()) <= LONGEST_NAME or not name.isprintable():
        raise PersonFieldError("name", name, f"1 to {LONGEST_NAME} characters in one line")
    if len(password) < SHORTEST_PASSWORD:
        raise PersonFieldError("password", "", f"at least {SHORTEST_PASSWORD} characters")
    person = Person.objects.create(id=person_id, sign_in=sign_in, password=make_password(password))
    salt = secrets.token_bytes(32)
    PersonVersion.objects.create(
        id=person_id, person=person, name=name, salt=salt, hash=name_hash(name, salt), valid_from=at
    )
    return person


@atomic()
def enrol(
    *, acting: Acting, site: uuid.UUID, person_id: uuid.UUID, sign_in: str, name: str, password: str
) -> Person:
    """Make a person known to this installation. The ledger gets the salted hash of the name."""
    require(acting, Action.PEOPLE, site)
    person = _add_person(person_id, sign_in, name, password, acting.now)
    stamp = {"person": str(person_id), "hash": person.versions.get().hash}
    state(acting, "person", id=person_id, site=site, about=("person", person_id), said=stamp)
    return person


@atomic()
def enrol_first_administrator(
    *, now: datetime, site: uuid.UUID, person_id: uuid.UUID, sign_in: str, name: str, password: str
) -> Person:
    """The person an installation begins with, when nobody could grant anything yet. Refused later."""
    if Person.objects.exists():
        raise NameTakenError(sign_in)
    person = _add_person(person_id, sign_in, name, password, now)
    acting = Acting(author=person, now=now, identity="proved")
    stamp = {"person": str(person_id), "hash": person.versions.get().hash}
    state(acting, "person", id=person_id, site=site, about=("person", person_id), said=stamp)
    _grant(acting, site, uuid.uuid5(person_id, "first grant"), person, Role.ADMINISTRATOR, None)
    return person


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
    return _grant(acting, site, grant_id, person, role, valid_from)


@atomic()
def end_role(*, acting: Acting, entry_id: uuid.UUID, grant: RoleGrant) -> None:
    """Take a role back from now on; what was done under it stays done."""
    require(acting, Action.PEOPLE, grant.site)
    said = {"grant": str(grant.id), "to": acting.now.isoformat()}
    state(acting, "role end", id=entry_id, site=grant.site, about=("person", grant.person_id), said=said)
    RoleGrant.objects.filter(id=grant.id, valid_to__isnull=True).update(valid_to=acting.now)


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
) -> Competence:
    """Record that somebody assessed a person's competence for a task, a size range and a time."""
    require(acting, Action.ASSESS, site)
    said = {
        "person": str(person.id),
        "task": task,
        "basis": basis,
        "assessor": str(assessor.id),
        "from_mm": str(from_mm),
        "to_mm": str(to_mm),
        "valid_from": valid_from.isoformat(),
        "valid_to": valid_to.isoformat(),
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
        },
    )
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
            id=uuid.uuid5(token.id, "end"),
            site=site,
            about=("person", acting.author.id),
            said={"token": str(token.id)},
        )


@atomic()
def close_account(*, acting: Acting, entry_id: uuid.UUID, site: uuid.UUID, person: Person) -> None:
    """Close an account: no sign-in, no token, no act from now on. What was done under it stays."""
    require(acting, Action.PEOPLE, site)
    state(acting, "account end", id=entry_id, site=site, about=("person", person.id), said={"open": "no"})
    Person.objects.filter(id=person.id).update(is_active=False)
    Token.objects.filter(person=person, revoked_at__isnull=True).update(revoked_at=acting.now)
