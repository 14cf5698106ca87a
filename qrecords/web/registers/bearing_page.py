"""One bearing of the register: what it is, where it is now, where it came from, what became of it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.ledger.queries import entries_of
from qrecords.people.permissions import Action
from qrecords.steps.bearing_life import KINDS, Where
from qrecords.tracing.lives import Life, Origin
from qrecords.tracing.record import lines_of
from qrecords.web.auditor.saying import saying
from qrecords.web.moments import calendar_day, moment
from qrecords.web.registers.asking import Ask
from qrecords.workshop.models import Bearing, Move


@dataclass(frozen=True)
class Told:
    """One thing that became of it, with the entry that says so."""

    at: str
    who: str
    what: str
    told: str
    href: str


@dataclass(frozen=True)
class Link:
    words: str
    href: str


@dataclass(frozen=True)
class BearingPage:
    facts: tuple[tuple[str, str, str], ...]
    where: str
    where_href: str
    told: tuple[Told, ...]
    moves: tuple[str, ...]
    links: tuple[Link, ...]


ACTS: Mapping[str, tuple[Action, str]] = {
    "removal": (Action.REGISTER, "bearing-event"),
    "failure": (Action.REGISTER, "bearing-event"),
    "quarantine": (Action.REGISTER, "bearing-event"),
    "delivery": (Action.REGISTER, "bearing-event"),
    "clear": (Action.ACCEPT, "bearing-clear"),
    "scrap": (Action.SCRAP, "bearing-scrap"),
}
"""What can be said of a bearing: the right it takes, and its page."""


def titles() -> Mapping[str, str]:
    return {
        "removal": gettext("It came off"),
        "failure": gettext("It failed"),
        "quarantine": gettext("Set it aside: quarantine"),
        "delivery": gettext("It came with this delivery"),
        "clear": gettext("End the quarantine"),
        "scrap": gettext("Scrap it"),
    }


def bearing_page(bearing: Bearing, life: Life, may: Iterable[Action], zone: str, traces: bool) -> BearingPage:
    rights = set(may)
    possible = _possible(life.now.where)
    kinds = set(KINDS.values())
    lines = lines_of([entry for entry in entries_of(bearing.id) if entry.kind in kinds])
    return BearingPage(
        facts=tuple(_facts(bearing, life.origins)),
        where=gettext(life.now.where.value),
        where_href=reverse("mounting", args=[life.now.mounting]) if life.now.mounting else "",
        told=tuple(_told(line, zone) for line in reversed(lines)),
        moves=tuple(moved_words(move) for move in life.moves),
        links=tuple(
            Link(titles()[what], _address(bearing, what, page))
            for what, (action, page) in ACTS.items()
            if action in rights and what in possible
        )
        + ((Link(gettext("its whole life"), reverse("bearing-life", args=[bearing.id])),) if traces else ()),
    )


def _possible(where: Where) -> set[str]:
    """Facts always; what is decided only where it can be."""
    found = {"removal", "failure", "quarantine", "delivery"}
    if where == Where.QUARANTINED:
        found |= {"clear"}
    if where in (Where.IN_STOCK, Where.REMOVED, Where.QUARANTINED):
        found |= {"scrap"}
    return found


def _address(bearing: Bearing, what: str, page: str) -> str:
    return reverse(page, args=[bearing.id, what] if page == "bearing-event" else [bearing.id])


def _facts(bearing: Bearing, origins: Iterable[Origin]) -> list[tuple[str, str, str]]:
    marks = (
        (gettext("serial"), bearing.serial),
        (gettext("lot"), bearing.lot),
        (gettext("date code"), bearing.date_code),
        (gettext("delivery"), bearing.delivery),
    )
    found = [(caption, value, "") for caption, value in marks if value]
    return found + [origin_row(origin) for origin in origins]


def origin_row(origin: Origin) -> tuple[str, str, str]:
    """A delivery with supplier, day and order, and what about it does not fit."""
    row = origin.delivery
    words = [row.supplier, row.note, calendar_day(row.on)]
    words += [gettext("order {order}").format(order=row.order)] if row.order else []
    words += [] if origin.said else [gettext("by its number alone")]
    words += [] if origin.listed else [gettext("its note does not list this designation and lot")]
    return gettext("came with"), ", ".join(words), reverse("entry", args=[row.id])


def moved_words(move: Move) -> str:
    """`4 Jun 2026: shaft 1 of Hoist motor 2 into Spare drive (spare used)`."""
    if move.to_machine is not None:
        words = gettext("shaft {shaft} of {machine} into {other}").format(
            shaft=move.shaft, machine=move.machine.name, other=move.to_machine.name
        )
    else:
        owner = f", {move.to_owner}" if move.to_owner else ""
        words = gettext("{machine} to {place}").format(
            machine=move.machine.name, place=f"{move.to_place}{owner}"
        )
    reason = f" ({move.reason})" if move.reason else ""
    return f"{calendar_day(move.on)}: {words}{reason}"


def _told(line: Any, zone: str) -> Told:
    said = saying(line)
    told = "; ".join(f"{each.caption} {each.value}" for each in said.told)
    return Told(moment(line.at, zone), line.author, said.kind, told, reverse("entry", args=[line.entry.id]))


def day_ask(today: str) -> Ask:
    return Ask("on", gettext("on which day"), "date", required=True, value=today)
