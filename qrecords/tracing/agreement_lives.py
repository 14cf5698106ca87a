"""What the rows of deliveries, parts, moves and bearings' lives have to say: as `agreement` asks it."""

from datetime import date
from typing import Any

from qrecords.mountings.models import BearingEvent, PartUse
from qrecords.steps.bearing_life import KINDS
from qrecords.tracing.registered import Content, Pairs, Register, moment_of, said_of, same_names, site_of
from qrecords.workshop.models import Delivery, Move, Part


def _delivery(row: Delivery, content: Content) -> Pairs:
    words = same_names("supplier", "note", "order", "on")(row, content)
    return words | {"lines": (row.lines, said_of(content)["lines"])}


def _part(row: Part, content: Content) -> Pairs:
    words = same_names("kind", "name", "lot", "supplier", "delivery")(row, content)
    return words | {"use_by": (_day(row.use_by), said_of(content)["use_by"])}


def _day(day: date | None) -> str:
    return day.isoformat() if day else ""


def _move(row: Move, content: Content) -> Pairs:
    said = said_of(content)
    return same_names("shaft", "to_owner", "to_place", "on", "reason")(row, content) | {
        "machine": (str(row.machine_id), said["machine"]),
        "to_machine": (str(row.to_machine_id or ""), said["to_machine"]),
        "at": (moment_of(row.at), content["at_server"]),
    }


def _part_use(row: PartUse, content: Content) -> Pairs:
    said = said_of(content)
    return {
        "mounting": (str(row.mounting_id), content["mounting"]),
        "part": (str(row.part_id), said["part"]),
        "place": (row.place, said["place"]),
    }


def _event(row: BearingEvent, content: Content) -> Pairs:
    said, seen = said_of(content), content["body"]["seen"]
    named: Any = {
        "mounting": seen.get("mounting", ""),
        **{name: said.get(name, "") for name in ("journal", "for_mounting", "delivery")},
    }
    return {
        "bearing": (str(row.bearing_id), content["object"]["id"]),
        **{name: (str(getattr(row, f"{name}_id") or ""), wanted) for name, wanted in named.items()},
        "on": (row.on.isoformat(), said["on"]),
        "at": (moment_of(row.at), content["at_server"]),
        "damage": (row.damage, said.get("damage", "")),
        "document": (row.document, dict(said)),
    } | site_of(row, content)


LIVES = (
    Register("delivery", "delivery", Delivery, _delivery),
    Register("part", "part", Part, _part),
    Register("move", "move", Move, _move),
    Register("part used", "part used", PartUse, _part_use),
    *(
        Register(f"life of a bearing, {what.value}", kind, BearingEvent, _event, {"what": what.value})
        for what, kind in KINDS.items()
    ),
)
