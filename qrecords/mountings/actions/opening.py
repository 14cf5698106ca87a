"""Opening a mounting: one bearing, one journal, one procedure, pinned."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.ledger.errors import DifferentContentError
from qrecords.mountings.barring import lock_bearing, refuse_opening
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting, NumberSeries
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.proof.identifiers import following
from qrecords.workshop import actions as workshop
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.models import Bearing, Journal, JournalRequirement, Machine, ProcedureVersion, Rebuild
from qrecords.workshop.procedures import procedure_at
from qrecords.workshop.queries import requirement_at
from qrecords.workshop.tables import in_force


def _next_number(site: uuid.UUID, year: int) -> str:
    series, _ = NumberSeries.objects.select_for_update().get_or_create(site=site, year=year)
    series.last += 1
    series.save(update_fields=["last"])
    return f"{year % 100:02d}-{series.last:04d}"


def _seen(
    number: str, requirement: JournalRequirement, bearing: Bearing, earlier: Mounting | None
) -> dict[str, Any]:
    """What the server freezes at the opening: the number, the attempt it follows, the requirement and the
    bearing as they stood."""
    return {
        "attempt_of": str(earlier.id) if earlier else "",
        "number": number,
        "requirement": requirement.document,
        "requirement_entry": str(requirement.id),
        "bearing": {
            "designation": bearing.designation,
            "serial": bearing.serial,
            "lot": bearing.lot,
            "date_code": bearing.date_code,
        },
    }


def _procedure(site: uuid.UUID, at: datetime, name: str, earlier: Mounting | None) -> ProcedureVersion:
    """The one chosen by name; a second attempt goes on under the contract of the first while that stands;
    else the workshop's own."""
    before = None
    if earlier is not None and not name:
        before = ProcedureVersion.objects.filter(site=site, digest=earlier.procedure_digest).first()
    if before is not None and before.contract:
        try:
            return procedure_at(site, at, before.name)
        except UnknownObjectError:
            return procedure_at(site, at)
    return procedure_at(site, at, name)


@atomic()
def open_mounting(
    *,
    acting: Acting,
    mounting_id: uuid.UUID,
    journal: Journal,
    bearing: Bearing,
    rebuild: Rebuild,
    procedure_name: str = "",
) -> Mounting:
    """Begin one mounting. Requirement, procedure (the one of this name, or the workshop's own) and tables in
    force are pinned; a second mounting of a
    journal in the same rebuild is linked to the one before. It says which bearing is to go on, and
    records no fact of it: BarredBearingError for a scrapped one, BearingElsewhereError for one that stands in
    another place's mounting that is not closed."""
    require(acting, Action.OPEN, journal.site)
    if journal.machine_id != rebuild.machine_id or journal.site != bearing.site:
        raise UnknownObjectError("journal, rebuild and bearing of one machine and site", journal.id)
    lock_bearing(bearing.id)
    known = Mounting.objects.filter(id=mounting_id).first()
    if known is not None:
        if (known.journal_id, known.bearing_id, known.rebuild_id) != (journal.id, bearing.id, rebuild.id):
            raise DifferentContentError(mounting_id)
        return known
    refuse_opening(bearing, journal, rebuild)
    tables = in_force(journal.site)
    requirement = requirement_at(journal.id, acting.now)
    earlier = Mounting.objects.filter(journal=journal, rebuild=rebuild).order_by("-opened_at", "-id").first()
    procedure = _procedure(journal.site, acting.now, procedure_name, earlier)
    number = _next_number(journal.site, acting.act_time.year)
    said = {"journal": str(journal.id), "bearing": str(bearing.id), "rebuild": str(rebuild.id)}
    said |= {"procedure": procedure_name} if procedure_name else {}
    state(
        acting,
        "mounting",
        id=mounting_id,
        site=journal.site,
        mounting=mounting_id,
        said=said,
        seen=_seen(number, requirement, bearing, earlier),
        procedure=procedure.digest,
        tables=tables.digest,
    )
    mounting = Mounting.objects.create(
        id=mounting_id,
        site=journal.site,
        number=number,
        journal=journal,
        bearing=bearing,
        rebuild=rebuild,
        attempt_of=earlier,
        procedure_digest=procedure.digest,
        tables_digest=tables.digest,
        opened_at=acting.act_time,
        opened_by=acting.author.id,
    )
    judge(mounting)
    return mounting


@dataclass(frozen=True)
class Order:
    """What the work order and the drawing say of one mounting. `machine` is None for one not yet known here.
    `requirement` is the document of `steps.requirement`. A `bearing` that is known here is taken as it is;
    else serial, lot and date code make a new one."""

    machine: Machine | None
    work_order: str
    shaft: str
    position: str
    requirement: Mapping[str, Any]
    machine_name: str = ""
    owner: str = ""
    scheme: str = "none"
    serial: str = ""
    lot: str = ""
    date_code: str = ""
    bearing: Bearing | None = None
    procedure: str = ""
    """The name of the procedure that is chosen; the workshop's own where none is."""


@atomic()
def open_from_order(*, acting: Acting, site: uuid.UUID, mounting_id: uuid.UUID, order: Order) -> Mounting:
    """Register what of an order is not known yet (machine, rebuild, journal, drawing, bearing) and begin its
    mounting. Ids follow from the mounting's, so that sending it twice is a replay. A work order, shaft and
    position known at the machine are taken, never made twice."""
    known = _known(acting, mounting_id, order)
    if known is not None:
        return known

    def own(what: str) -> uuid.UUID:
        return following(mounting_id, what)

    _refuse_second_machine(site, order)
    machine = order.machine or workshop.register_machine(
        acting=acting,
        site=site,
        machine_id=own("machine"),
        name=order.machine_name,
        owner=order.owner,
        scheme=order.scheme,
    )
    # From here one order of a machine after the other, and asked again: it may have come by another tab.
    machine = Machine.objects.select_for_update().get(id=machine.id)
    known = _known(acting, mounting_id, order)
    if known is not None:
        return known
    rebuild = Rebuild.objects.filter(machine=machine, work_order=order.work_order).first()
    journal = Journal.objects.filter(machine=machine, shaft=order.shaft, position=order.position).first()
    if rebuild is None:
        rebuild = workshop.open_rebuild(
            acting=acting, rebuild_id=own("rebuild"), machine=machine, work_order=order.work_order
        )
    if journal is None:
        journal = workshop.register_journal(
            acting=acting,
            journal_id=own("journal"),
            machine=machine,
            shaft=order.shaft,
            position=order.position,
        )
    if not _already_required(journal, order, acting):
        workshop.require_of_journal(
            acting=acting, requirement_id=own("requirement"), journal=journal, document=order.requirement
        )
    bearing = order.bearing or workshop.register_bearing(
        acting=acting,
        site=machine.site,
        bearing_id=own("bearing"),
        designation=str(order.requirement["designation"]),
        serial=order.serial,
        lot=order.lot,
        date_code=order.date_code,
    )
    return open_mounting(
        acting=acting,
        mounting_id=mounting_id,
        journal=journal,
        bearing=bearing,
        rebuild=rebuild,
        procedure_name=order.procedure,
    )


def _refuse_second_machine(site: uuid.UUID, order: Order) -> None:
    """A machine that is registered already is chosen, not made again under another mark."""
    if order.machine is not None:
        return
    same = {"name__iexact": order.machine_name.strip(), "owner__iexact": order.owner.strip()}
    known = Machine.objects.filter(site=site, **same).first()
    if known is not None:
        allowed = f"the machine chosen that is known here, mark {known.mark}; or another name"
        raise RegisterFieldError("name", order.machine_name, allowed)


def _known(acting: Acting, mounting_id: uuid.UUID, order: Order) -> Mounting | None:
    """The mounting that this very order began; DifferentContentError where it began another one."""
    known = Mounting.objects.select_related("journal__machine", "bearing", "rebuild").filter(id=mounting_id)
    mounting = known.first()
    if mounting is None:
        return None
    require(acting, Action.OPEN, mounting.site)
    journal, bearing = mounting.journal, mounting.bearing
    begun = (journal.shaft, journal.position, mounting.rebuild.work_order, bearing.designation)
    asked = (order.shaft, order.position, order.work_order, str(order.requirement["designation"]).strip())
    machine = order.machine is None or order.machine.id == journal.machine_id
    ring = (bearing.serial, bearing.lot, bearing.date_code)
    same_ring = order.bearing.id == bearing.id if order.bearing else ring == _ring(order)
    if begun != asked or not machine or not same_ring:
        raise DifferentContentError(mounting_id)
    return mounting


def _ring(order: Order) -> tuple[str, str, str]:
    return order.serial.strip(), order.lot.strip(), order.date_code.strip()


def _already_required(journal: Journal, order: Order, acting: Acting) -> bool:
    """The drawing in force says exactly this."""
    try:
        return bool(requirement_at(journal.id, acting.now).document == dict(order.requirement))
    except UnknownObjectError:
        return False
