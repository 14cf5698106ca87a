"""From one thing to every mounting that shares it: a lot, a part, a delivery, a person, a damage, a day."""

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from django.db.models import Count, Q, QuerySet

from qrecords.mountings.models import Mounting, NameRead
from qrecords.people.competence import year_after
from qrecords.steps.damage import BY_ID, UNKNOWN
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import Delivery


@dataclass(frozen=True)
class Touched:
    """How far something reaches: mountings, machines, owners."""

    mountings: int
    machines: int
    owners: int


NUMBER_OF_DELIVERY = Q(step="delivery", key="delivery_number")
"""Where a mounting's own record says with which delivery its bearing came."""


def _uuid(text: str) -> uuid.UUID:
    try:
        return uuid.UUID(text)
    except ValueError:
        raise UnknownObjectError("thing", text[:40]) from None


def _lot(text: str) -> Q:
    return Q(bearing__lot__iexact=text) | Q(lot_read__iexact=text)


def _delivery(text: str) -> Q:
    """Bearings said to have come with it; those whose number is that of its note and that are not said to
    have come with another; and mountings whose own step names the note."""
    row = Delivery.objects.filter(id=_uuid(text)).first()
    if row is None:
        raise UnknownObjectError("delivery", text)
    named = Q(bearing__events__delivery=row)
    alone = Q(site=row.site, bearing__delivery__iexact=row.note) & ~Q(bearing__events__delivery__isnull=False)
    told = NameRead.objects.filter(NUMBER_OF_DELIVERY, text__iexact=row.note).values("mounting")
    return named | alone | Q(site=row.site, id__in=told)


def _order(text: str) -> Q:
    notes = Delivery.objects.filter(order__iexact=text)
    return Q(bearing__events__delivery__in=notes) | Q(bearing__delivery__in=notes.values("note"))


def _part(text: str) -> Q:
    return Q(parts_used__part=_uuid(text))


def _batch(text: str) -> Q:
    """Written into a step in words of its own, or the number of a part that was used."""
    return Q(names_read__text__iexact=text) | Q(parts_used__part__lot__iexact=text)


def _person(text: str) -> Q:
    return Q(tasks_done__person=_uuid(text))


def _damage(text: str) -> Q:
    if text not in (*BY_ID, UNKNOWN):
        raise UnknownObjectError("damage", text)
    return Q(endings__damage=text)


def _day(text: str) -> Q:
    first, last = span_of(text)
    return Q(opened_at__gte=first, opened_at__lt=last)


def span_of(text: str) -> tuple[datetime, datetime]:
    """The day, month or year that a text names, as moments in UTC; UnknownObjectError for any other text."""
    try:
        match text.count("-"):
            case 2:
                first = date.fromisoformat(text)
                last = first + timedelta(days=1)
            case 1:
                first = date.fromisoformat(f"{text}-01")
                last = (first + timedelta(days=32)).replace(day=1)
            case _:
                first = date(int(text), 1, 1)
                last = year_after(first)
    except (ValueError, OverflowError):
        raise UnknownObjectError("day", text[:40]) from None
    return tuple(datetime.combine(day, time(), UTC) for day in (first, last))  # type: ignore[return-value]  # two days


SHARED: Mapping[str, Callable[[str], Q]] = {
    "lot": _lot,
    "delivery": _delivery,
    "order": _order,
    "part": _part,
    "batch": _batch,
    "person": _person,
    "damage": _damage,
    "day": _day,
}
"""Each kind of thing that mountings share → which mountings those are."""


def shared(rows: QuerySet[Mounting], what: str, of: str) -> QuerySet[Mounting]:
    """The mountings among `rows` that share it, none twice. UnknownObjectError for what there is not."""
    if what not in SHARED:
        raise UnknownObjectError("kind of thing", what[:40])
    return rows.filter(id__in=Mounting.objects.filter(SHARED[what](of)).values("id"))


def touched(rows: QuerySet[Mounting]) -> Touched:
    """How many mountings, machines and owners are behind it; one query."""
    counted = rows.aggregate(
        mountings=Count("id", distinct=True),
        machines=Count("journal__machine", distinct=True),
        owners=Count("journal__machine__owner", distinct=True),
    )
    return Touched(**counted)
