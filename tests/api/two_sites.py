"""A second site in the same installation, with people of its own."""

import uuid
from datetime import timedelta
from typing import Any

from qrecords.ledger.identifiers import new_id
from qrecords.people import actions as people
from qrecords.people.models import RoleGrant
from qrecords.people.passwords import seal
from qrecords.people.permissions import Role
from qrecords.steps.procedure import STANDARD
from qrecords.workshop.procedure_actions import put_in_force
from tests.cast import GEAR, PASSWORD, ROLES, Job, Workshop, add_gear, own_password


def second_site(shop: Workshop) -> Workshop:
    """Site B: its people are enrolled by the administrator; their first grants come from the installation, as
    those of a first site do."""
    since = shop.clock
    other = Workshop(site=new_id(), clock=since)
    for name, role in ROLES.items():
        person = people.enrol(
            acting=shop.proved("administrator"), site=shop.site, person_id=new_id(), sign_in=f"{name}-b",
            name=f"{name.title()} Beta", password=seal(PASSWORD),
        )  # fmt: skip
        # The auditor's right reaches everywhere by the table of rights; B's people are of B alone.
        if role != Role.AUDITOR:
            RoleGrant.objects.create(
                id=new_id(), person=person, role=role.value, site=other.site, valid_from=since
            )
        other.people[name] = own_password(person)
    other.clock = shop.clock
    for key, (kind, document) in GEAR.items():
        add_gear(other, key, kind, document)
    put_in_force(
        acting=other.proved("quality"), procedure_id=new_id(), site=other.site,
        document={**STANDARD, "name": "HM-B"},
    )  # fmt: skip
    # The API reads the clock of the first workshop: it has to be past whatever the second one does.
    shop.clock = other.clock + timedelta(hours=1)
    return other


def ids_of(job: Job, **more: Any) -> dict[str, uuid.UUID | str]:
    """What addresses name, of one job's site."""
    return {
        "mounting": job.mounting.id,
        "machines": job.machine.id,
        "rebuilds": job.rebuild.id,
        "journals": job.journal.id,
        "bearings": job.bearing.id,
        "equipment": job.shop.gear["micrometer"].id,
        **more,
    }
