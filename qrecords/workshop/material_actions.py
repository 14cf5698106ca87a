"""The only writers of what bearings come with and go with: deliveries, parts with a number, and moves."""

import uuid
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.people.acting import Acting, require
from qrecords.people.bounds import zone_of
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.lines import one_line, optional_line, past_day
from qrecords.workshop.models import Delivery, Journal, Machine, Move, Part

PART_KINDS = (
    "spacer",
    "sleeve",
    "nut",
    "lock washer",
    "plating job",
    "spray job",
    "lubricant",
    "other part",
)
MOST_LINES, MOST_PIECES = 60, 100_000


@atomic()
def deliver(
    *,
    acting: Acting,
    site: uuid.UUID,
    delivery_id: uuid.UUID,
    supplier: str,
    note: str,
    order: str,
    on: date,
    lines: Sequence[Mapping[str, Any]],
) -> Delivery:
    """What came on one delivery note: of each designation and lot how many. RegisterFieldError names the
    field, of a line with its number."""
    require(acting, Action.REGISTER, site)
    said = {
        "supplier": one_line("supplier", supplier, 80),
        "note": one_line("note", note, 60),
        "order": optional_line("order", order, 40),
        "on": past_day("on", on, acting.now, zone_of(acting.zone)).isoformat(),
        "lines": [_line(number, line) for number, line in enumerate(lines, start=1)],
    }
    if not 1 <= len(said["lines"]) <= MOST_LINES:
        raise RegisterFieldError("lines", str(len(lines)), f"1 to {MOST_LINES} lines")
    state(acting, "delivery", id=delivery_id, site=site, about=("delivery", delivery_id), said=said)
    row, _ = Delivery.objects.get_or_create(id=delivery_id, defaults={"site": site, **said, "on": on})
    return row


def _line(number: int, line: Mapping[str, Any]) -> dict[str, Any]:
    quantity = line["quantity"]
    if not isinstance(quantity, int) or not 1 <= quantity <= MOST_PIECES:
        raise RegisterFieldError(f"quantity.{number}", str(quantity), f"1 to {MOST_PIECES} pieces")
    return {
        "designation": one_line(f"designation.{number}", str(line["designation"]), 60),
        "lot": optional_line(f"lot.{number}", str(line.get("lot", "")), 40),
        "quantity": quantity,
    }


@atomic()
def register_part(
    *,
    acting: Acting,
    site: uuid.UUID,
    part_id: uuid.UUID,
    kind: str,
    name: str,
    lot: str,
    supplier: str = "",
    delivery: str = "",
    use_by: date | None = None,
) -> Part:
    """A spacer, sleeve, nut, plating job, lubricant … with the number by which it is found again."""
    require(acting, Action.REGISTER, site)
    if kind not in PART_KINDS:
        raise RegisterFieldError("kind", kind, ", ".join(PART_KINDS))
    said = {
        "kind": kind,
        "name": one_line("name", name, 80),
        "lot": one_line("lot", lot, 60),
        "supplier": optional_line("supplier", supplier, 80),
        "delivery": optional_line("delivery", delivery, 60),
    }
    told = {**said, "use_by": use_by.isoformat() if use_by else ""}
    state(acting, "part", id=part_id, site=site, about=("part", part_id), said=told)
    row, _ = Part.objects.get_or_create(id=part_id, defaults={"site": site, **said, "use_by": use_by})
    return row


@atomic()
def move_machine(
    *,
    acting: Acting,
    move_id: uuid.UUID,
    machine: Machine,
    on: date,
    to_place: str,
    to_owner: str = "",
    reason: str = "",
) -> Move:
    """A machine stands elsewhere now, or belongs to somebody else. What it was called stays in the register:
    a move is said beside it."""
    require(acting, Action.REGISTER, machine.site)
    said = {
        "machine": str(machine.id),
        "shaft": "",
        "to_machine": "",
        "to_place": one_line("to_place", to_place, 120),
        "to_owner": optional_line("to_owner", to_owner, 120),
        "on": past_day("on", on, acting.now, zone_of(acting.zone)).isoformat(),
        "reason": optional_line("reason", reason, 400),
    }
    return _moved(acting, move_id, machine, None, said)


@atomic()
def move_shaft(
    *,
    acting: Acting,
    move_id: uuid.UUID,
    machine: Machine,
    shaft: str,
    to_machine: Machine,
    on: date,
    reason: str = "",
) -> Move:
    """A shaft with all that sits on it went into another machine."""
    require(acting, Action.REGISTER, machine.site)
    if to_machine.site != machine.site or to_machine.id == machine.id:
        raise UnknownObjectError("other machine", to_machine.id)
    known = Journal.objects.filter(machine=machine).values_list("shaft", flat=True).distinct()
    if shaft not in set(known):
        raise RegisterFieldError("shaft", shaft, ", ".join(sorted(known)) or "a shaft of this machine")
    said = {
        "machine": str(machine.id),
        "shaft": shaft,
        "to_machine": str(to_machine.id),
        "to_place": "",
        "to_owner": "",
        "on": past_day("on", on, acting.now, zone_of(acting.zone)).isoformat(),
        "reason": optional_line("reason", reason, 400),
    }
    return _moved(acting, move_id, machine, to_machine, said)


def _moved(
    acting: Acting, move_id: uuid.UUID, machine: Machine, to_machine: Machine | None, said: Mapping[str, str]
) -> Move:
    state(acting, "move", id=move_id, site=machine.site, about=("move", move_id), said=said)
    named = {name: said[name] for name in ("shaft", "to_place", "to_owner", "reason")}
    on = date.fromisoformat(said["on"])
    fixed = {"site": machine.site, "machine": machine, "to_machine": to_machine, "on": on, "at": acting.now}
    row, _ = Move.objects.get_or_create(id=move_id, defaults={**named, **fixed})
    return row
