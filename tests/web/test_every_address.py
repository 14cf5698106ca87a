"""Every address has a door: who is not signed in goes to sign in, and each role comes in exactly where the
table of rights lets it. Looking changes nothing."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from http import HTTPStatus

import pytest
from django.apps import apps
from django.http import HttpResponse
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.people.models import Person
from qrecords.people.permissions import TABLE, Action, Role, Scope, best_cell
from qrecords.steps.procedure import STANDARD, procedure_digest
from tests.cast import Job, make_workshop, start

ROLES = {
    "fitter": Role.FITTER,
    "inspector": Role.INSPECTOR,
    "engineer": Role.ENGINEER,
    "quality": Role.QUALITY,
    "auditor": Role.AUDITOR,
    "administrator": Role.ADMINISTRATOR,
}
SIGN_IN = "/sign-in/"


@dataclass(frozen=True)
class Address:
    """One pattern of the pages: its name, the view behind it, and the names and kinds of its variables."""

    name: str
    pattern: URLPattern
    path: str

    @property
    def action(self) -> Action | None:
        return getattr(self.pattern.callback, "action", None)


def walk(patterns: list[URLPattern | URLResolver], before: str = "") -> Iterator[Address]:
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            yield from walk(pattern.url_patterns, before + str(pattern.pattern))
        else:
            yield Address(pattern.name or str(pattern.pattern), pattern, before + str(pattern.pattern))


PAGES = list(walk(get_resolver("qrecords.web.urls").url_patterns))
STEP = "identification"


def filled(address: Address, job: Job) -> str:
    """The address with something in each of its places: what exists where the test knows it."""
    entry = Entry.objects.filter(subject=job.mounting.id).order_by("leaf__index")[0]
    known = {
        "bearing-life": job.bearing.id,
        **dict.fromkeys(("bearing", "bearing-event", "bearing-clear", "bearing-scrap"), job.bearing.id),
        **dict.fromkeys(("mounting-damage", "suspects"), job.mounting.id),
        "mounting-trace": job.mounting.id,
        "entry": entry.id,
        "equipment-uses": job.shop.gear["micrometer"].id,
        "calibration-new": job.shop.gear["micrometer"].id,
        "rebuild": job.rebuild.id,
        "rebuild-release": job.rebuild.id,
        "rebuild-certificate": job.rebuild.id,
        "gauge-check": job.shop.gear["micrometer"].id,
        "gauge-damage": job.shop.gear["micrometer"].id,
        "person": job.shop.people["fitter"].id,
        "procedure-version": procedure_digest(STANDARD),
    }
    words = {"sha256": "0" * 64, "edge_px": 320, "size": "320", "hold": "fit", "step_id": STEP, "version": 0}
    words |= {"what": "removal" if address.name == "bearing-event" else "lot", "of": "L-1", "damage": "rust"}
    kwargs: dict[str, object] = {}
    for variable in address.pattern.pattern.regex.groupindex:
        if variable in ("mounting", "mounting_id"):
            kwargs[variable] = job.mounting.id
        else:
            kwargs[variable] = words.get(variable, known.get(address.name, new_id()))
    return reverse(address.name, kwargs=kwargs)


def names(addresses: list[Address]) -> list[str]:
    return [address.name for address in addresses]


def test_there_are_pages_and_no_two_have_one_name() -> None:
    assert {"start", "sign-in", "search", "waiting", "my-mountings", "people"} <= set(names(PAGES))
    assert len(set(names(PAGES))) == len(PAGES)


def test_every_address_names_its_action() -> None:
    assert [address.name for address in PAGES if not isinstance(address.action, Action)] == []


def test_only_the_entrance_is_open_to_everybody() -> None:
    assert {address.name for address in PAGES if address.action == Action.PUBLIC} <= {
        "sign-in",
        "healthz",
        "worker",
        "offline",
    }


@pytest.fixture
def job(own_database: str) -> Job:
    job = start(make_workshop())
    job.receive()
    job.measure()
    job.own_reading()  # what is kept back until then is refused, whatever the table says
    return job


def get(client: Client, path: str) -> HttpResponse:
    return client.get(path)  # type: ignore[return-value]


def test_who_is_not_signed_in_is_sent_to_sign_in(job: Job) -> None:
    let_in = []
    for address in PAGES:
        answer = get(Client(), filled(address, job))
        sent = answer.status_code == HTTPStatus.FOUND and answer["Location"].startswith(SIGN_IN)
        if sent == (address.action == Action.PUBLIC):
            let_in.append((address.name, answer.status_code))
    assert let_in == []


def test_each_role_comes_in_exactly_where_the_table_lets_it_and_looking_changes_nothing(job: Job) -> None:
    nobody = Person.objects.create(id=new_id(), sign_in="nobody")
    people = [(job.shop.people[name], [role]) for name, role in ROLES.items()] + [(nobody, [])]
    clients = [(signed_in(person), roles) for person, roles in people]
    wrong, changed, before = [], [], contents()
    for address in PAGES:
        path = filled(address, job)
        for client, roles in clients:
            answer = get(client, path)
            if address.name == "start" and not roles:
                assert b"No role yet" in answer.content  # the beginning says whom to ask for one
            elif (answer.status_code == HTTPStatus.FORBIDDEN) == lets_in(address.action, roles):
                wrong.append((address.name, roles, answer.status_code))
            if answer.status_code >= HTTPStatus.INTERNAL_SERVER_ERROR:
                wrong.append((address.name, roles, answer.status_code))
            answer.close()
        now = contents()
        changed += [(address.name, table) for table in now if now[table] != before[table]]
        before = now
    assert (wrong, changed) == ([], [])


def lets_in(action: Action | None, roles: list[Role]) -> bool:
    if action == Action.SIGNED_IN:
        return True
    return (action in TABLE and best_cell(roles, action).scope > Scope.NONE) or action == Action.PUBLIC


def signed_in(person: Person) -> Client:
    client = Client(raise_request_exception=False)
    client.force_login(person)
    return client


def contents() -> dict[str, str]:
    """A digest of every row of every table of ours."""
    found = {}
    for model in apps.get_models():
        if model.__module__.startswith("qrecords."):
            rows = sorted(map(repr, model._default_manager.values_list()))
            found[model._meta.db_table] = hashlib.sha256("\n".join(rows).encode()).hexdigest()
    return found
