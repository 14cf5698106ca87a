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
from qrecords.workshop import material_actions as materials
from qrecords.workshop.procedure_actions import put_in_force
from qrecords.workshop.shifts import start_shift
from tests.cast import GEAR, PASSWORD, ROLES, Job, Workshop, add_gear, own_password
from tests.tracing.coldbeck import opened
from tests.workshop.drafts import drafted


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


def all_ids_of(job: Job, **more: Any) -> dict[str, uuid.UUID | str]:
    """The same with one row of every other register that an address can name, all of the job's site."""
    shop, on = job.shop, job.shop.clock.date()
    fitter = shop.acting("fitter")
    shift = start_shift(
        acting=fitter, site=shop.site, shift_id=new_id(), gear=[shop.gear["micrometer"].id], climate={}
    )
    delivery = materials.deliver(
        acting=fitter, site=shop.site, delivery_id=new_id(), supplier="Corvane", note="LS-1", order="", on=on,
        lines=[{"designation": "6212 C3", "lot": "", "quantity": 2}],
    )  # fmt: skip
    part = materials.register_part(
        acting=fitter, site=shop.site, part_id=new_id(), kind="nut", name="KM 12", lot="heat 4"
    )
    move = materials.move_machine(
        acting=fitter, move_id=new_id(), machine=job.machine, on=on, to_place="north face"
    )
    made = {"shifts": shift, "deliveries": delivery, "parts": part, "moves": move,
            "look-backs": opened(shop), "procedures": drafted(shop)}  # fmt: skip
    return ids_of(job, **{name: row.id for name, row in made.items()}, **more)
