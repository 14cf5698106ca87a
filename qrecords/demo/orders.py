"""From a sheet to an open mounting: machine, rebuild, journal, drawing and bearing registered on the way."""

from dataclasses import dataclass
from typing import Self

from qrecords.demo.hall import Hall
from qrecords.demo.sheet import Sheet
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import Bearing, Journal, Rebuild


@dataclass(frozen=True)
class Place:
    """A journal in its rebuild, with the bearing that is to go on it."""

    rebuild: Rebuild
    journal: Journal
    bearing: Bearing

    @classmethod
    def of(cls, mounting: Mounting) -> Self:
        return cls(mounting.rebuild, mounting.journal, mounting.bearing)


def take_order(hall: Hall, acting: Acting, sheet: Sheet) -> Place:
    """Register what the order names."""
    named = sheet.machine
    machine = workshop.register_machine(
        acting=acting,
        site=hall.site,
        machine_id=new_id(),
        name=named.name,
        owner=named.owner,
        scheme=named.scheme,
    )
    rebuild = workshop.open_rebuild(
        acting=acting, rebuild_id=new_id(), machine=machine, work_order=named.order
    )
    return take_place(hall, acting, sheet, rebuild)


def take_place(hall: Hall, acting: Acting, sheet: Sheet, rebuild: Rebuild) -> Place:
    """Register one place of a machine that is there, with its drawing and its bearing."""
    named = sheet.machine
    journal = workshop.register_journal(
        acting=acting,
        journal_id=new_id(),
        machine=rebuild.machine,
        shaft=named.shaft,
        position=named.position,
    )
    workshop.require_of_journal(
        acting=acting, requirement_id=new_id(), journal=journal, document=sheet.requirement
    )
    return Place(rebuild, journal, take_delivery(hall, acting, sheet))


def take_delivery(hall: Hall, acting: Acting, sheet: Sheet) -> Bearing:
    """Register one more bearing of this sheet."""
    return workshop.register_bearing(
        acting=acting,
        site=hall.site,
        bearing_id=new_id(),
        designation=sheet.designation,
        serial=sheet.serial,
        lot=sheet.lot,
        date_code=sheet.date_code,
    )


def open_at(acting: Acting, place: Place, procedure: str = "") -> Mounting:
    return open_mounting(
        acting=acting,
        mounting_id=new_id(),
        journal=place.journal,
        bearing=place.bearing,
        rebuild=place.rebuild,
        procedure_name=procedure,
    )
