"""Entries of registers about deliveries, parts, moves and bearings' lives, in words."""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from django.utils.translation import gettext

from qrecords.tracing.record import Line
from qrecords.web.auditor.told import Told
from qrecords.web.moments import calendar_day
from qrecords.wording.damage import DAMAGE_WORDS

Body = Mapping[str, Any]
Words = tuple[str, Iterable[Told]]


def damage_name(damage: str) -> str:
    return gettext(DAMAGE_WORDS[damage].name) if damage in DAMAGE_WORDS else damage


def _told(said: Body, *fields: tuple[str, str]) -> list[Told]:
    """What is not empty, in this order, each under its caption."""
    return [Told(caption, str(said[name])) for name, caption in fields if said.get(name)]


def _on(said: Body) -> list[Told]:
    return [Told(gettext("on"), calendar_day(date.fromisoformat(said["on"])))]


def _seen(said: Body) -> list[Told]:
    damage = [Told(gettext("damage"), damage_name(said["damage"]))] if said.get("damage") else []
    return damage + _told(said, ("looks", gettext("what is seen")))


def _delivery(line: Line) -> Words:
    said = line.said
    lines = "; ".join(_line(each) for each in said["lines"])
    fields = (
        ("supplier", gettext("supplier")),
        ("note", gettext("delivery note")),
        ("order", gettext("order")),
    )
    return gettext("delivery"), [*_on(said), *_told(said, *fields), Told(gettext("lines"), lines)]


def _line(line: Body) -> str:
    lot = f", {gettext('lot')} {line['lot']}" if line["lot"] else ""
    return f"{line['quantity']} × {line['designation']}{lot}"


def _part(line: Line) -> Words:
    said = line.said
    fields = (
        ("name", gettext("name")),
        ("lot", gettext("lot, heat, batch or job")),
        ("supplier", gettext("supplier")),
        ("delivery", gettext("delivery note")),
    )
    told = _told(said, *fields)
    if said["use_by"]:
        told.append(Told(gettext("use by"), calendar_day(date.fromisoformat(said["use_by"]))))
    return gettext("part: {kind}").format(kind=gettext(said["kind"])), told


def _part_used(line: Line) -> Words:
    seen = line.seen
    told = [Told(gettext("name"), seen["name"]), Told(gettext("lot, heat, batch or job"), seen["lot"])]
    kind = gettext("part used: {kind}").format(kind=gettext(seen["kind"]))
    return kind, told + _told(line.said, ("place", gettext("where")))


def _move(line: Line) -> Words:
    said = line.said
    fields = (
        ("shaft", gettext("shaft")),
        ("to_place", gettext("where to")),
        ("to_owner", gettext("new owner")),
        ("reason", gettext("why")),
    )
    kind = gettext("shaft went into another machine") if said["shaft"] else gettext("machine went elsewhere")
    return kind, [*_on(said), *_told(said, *fields)]


def _bearing_delivery(line: Line) -> Words:
    return gettext("came with a delivery"), _on(line.said)


def _removal(line: Line) -> Words:
    said = line.said
    fields = (
        ("why", gettext("why")),
        ("method", gettext("how it came off")),
        ("by", gettext("taken off by")),
        ("kept", gettext("where it is kept")),
    )
    said = {**said, "method": gettext(said["method"])}
    return gettext("removed"), [*_on(said), *_told(said, *fields), *_seen(said)]


def _failure(line: Line) -> Words:
    said = line.said
    fields = (
        ("what", gettext("what failed")),
        ("by", gettext("reported by")),
        ("ran", gettext("ran")),
    )
    then = [Told(gettext("it was then"), gettext(line.seen["where"]), quiet=True)]
    return gettext("failed"), [*_on(said), *_told(said, *fields), *_seen(said), *then]


def _aside(line: Line) -> Words:
    fields = (("why", gettext("why")), ("kept", gettext("where it is kept")))
    return gettext("set aside: quarantine"), [*_on(line.said), *_told(line.said, *fields)]


def _cleared(line: Line) -> Words:
    return gettext("quarantine ended"), [*_on(line.said), *_told(line.said, ("why", gettext("why")))]


def _scrapped(line: Line) -> Words:
    return gettext("scrapped"), [*_on(line.said), *_told(line.said, ("why", gettext("why")))]


LIVES: Mapping[str, Callable[[Line], Words]] = {
    "delivery": _delivery,
    "part": _part,
    "part used": _part_used,
    "move": _move,
    "bearing delivery": _bearing_delivery,
    "removal": _removal,
    "failure": _failure,
    "quarantine": _aside,
    "quarantine end": _cleared,
    "bearing scrap": _scrapped,
}
