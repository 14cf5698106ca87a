"""Whatever the document allows, and much that it does not, is answered as the document says: never a 500, and
every answer in the form that is written down for it.

Bodies and queries are generated from the OpenAPI document, valid and spoiled ones. They are sent by somebody
with every role, at ids that exist, so that they come as far into the program as they can.
"""

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from django.conf import settings as django_settings
from django.core import signals
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections
from django.test import Client
from hypothesis import HealthCheck, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from qrecords.api.views.document import openapi
from qrecords.ledger.identifiers import new_id
from qrecords.people.models import RoleGrant
from qrecords.people.permissions import Role
from qrecords.steps.standard import STEPS
from tests.api.two_sites import ids_of
from tests.cast import PASSWORD, Job, Workshop, start

EXAMPLES = 6
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
CSRF = "a" * 32


def unguarded(paths: dict[str, Any]) -> dict[str, Any]:
    """The same operations without their security."""
    return {
        path: {method: {k: v for k, v in said.items() if k != "security"} for method, said in at.items()}
        for path, at in paths.items()
    }


# Who asks is put in below; generated tokens would only be turned away at the door, over and over.
SCHEMA = schemathesis.openapi.from_dict({**openapi(), "paths": unguarded(openapi()["paths"])})
SCHEMA.app = get_wsgi_application()


@pytest.fixture
def connected() -> Iterator[None]:
    """The end of a request must not close the connection that holds the test's transaction."""
    for signal in (signals.request_started, signals.request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (signals.request_started, signals.request_finished):
        signal.connect(close_old_connections)


@pytest.fixture
def everybody(shop: Workshop, connected: None) -> dict[str, str]:
    """The cookies of somebody who holds every role here, which no administrator could bring about."""
    person = shop.people["fitter"]
    for role in Role:
        RoleGrant.objects.create(
            id=new_id(), person=person, role=role.value, site=shop.site, valid_from=shop.clock
        )
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    session = client.cookies[django_settings.SESSION_COOKIE_NAME].value
    return {django_settings.SESSION_COOKIE_NAME: session, django_settings.CSRF_COOKIE_NAME: CSRF}


@pytest.fixture
def job(shop: Workshop) -> Job:
    """A job by other hands, as far as the heat."""
    made = start(shop)
    made.say("identification", who="second_fitter", marking="6212 C3", package="intact")
    made.tap("heater on", who="second_fitter")
    return made


def placed(case: Any, job: Job) -> None:
    """Put ids that exist into the places of the address."""
    register = case.operation.path.removeprefix("/api/v1/").split("/")[0]
    ids = ids_of(job, digest=job.mounting.procedure_digest, entry=job.mounting.id, sha256="0" * 64)
    real = {**ids, "id": ids.get(register, job.mounting.id)}
    steps = sorted(STEPS)
    for name in case.path_parameters or {}:
        if name == "step":
            case.path_parameters[name] = steps[len(str(case.body)) % len(steps)]
        elif name in real:
            case.path_parameters[name] = str(real[name])


def keys_of(step: str) -> list[str]:
    """A key of each field of a step, at a place that is one."""
    places = {"journal": "A.60", "bore": "A.60"}
    return [
        f"{field.id}.{places.get(field.id, '90')}" if field.many else field.id for field in STEPS[step].fields
    ]


def made_real(said: Any, job: Job, step: str) -> Any:
    """The body as generated, but for what no generator hits on: ids that exist, a finding that stands, what
    was shown, the names of fields. One body of four, and what is of another kind, stays as it came."""
    if not isinstance(said, dict) or len(str(said)) % 4 == 0:
        return said
    findings: list[str] = []
    if said.keys() & {"digest", "digests"}:
        findings = [finding.digest for finding in job.findings().values()]
    there = {
        "journal": job.journal.id, "bearing": job.bearing.id, "rebuild": job.rebuild.id,
        "machine": job.machine.id, "site": job.shop.site, "entry_id": new_id(), "password": PASSWORD,
        "digest": "".join(findings[:1]), "shown": job.shown() if "shown" in said else "",
    }  # fmt: skip
    real: dict[str, Any] = {}
    for name, value in said.items():
        if name in there and isinstance(value, str):
            real[name] = str(there[name])
        elif name == "digests" and isinstance(value, list):
            real[name] = [findings[len(each) % len(findings)] for each in value if isinstance(each, str)]
        elif name == "fields" and isinstance(value, dict):
            real[name] = dict(zip(keys_of(step), value.values(), strict=False))
        else:
            real[name] = value
    return real


@SCHEMA.parametrize()
@settings(max_examples=EXAMPLES, derandomize=True, suppress_health_check=list(HealthCheck))
def test_any_input_is_answered_as_the_document_says(case: Any, everybody: dict[str, str], job: Job) -> None:
    placed(case, job)
    case.body = made_real(case.body, job, (case.path_parameters or {}).get("step", "identification"))
    case.call_and_validate(
        checks=CHECKS, cookies=everybody, headers={"X-CSRFToken": CSRF, "Referer": "http://localhost/"}
    )
