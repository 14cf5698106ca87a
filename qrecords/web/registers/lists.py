"""The columns of each register, and the rows behind them. Every list is a count and one query."""

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from typing import Any
from urllib.parse import urlencode

from django.db.models import Count, F, QuerySet
from django.urls import reverse
from django.utils.translation import gettext

from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import open_findings
from qrecords.people.queries import Reach
from qrecords.signoff.rebuild_queries import with_standing
from qrecords.steps.gear import IN_USE, KINDS, STATUSES
from qrecords.steps.rebuild import RebuildState
from qrecords.steps.transitions import CLOSED, State
from qrecords.web.listing.table import Choice, Column, Columns
from qrecords.web.moments import calendar_day, day
from qrecords.workshop.actions import SCHEMES
from qrecords.workshop.care_actions import ON_MASTER
from qrecords.workshop.models import Bearing, Equipment, Machine, Rebuild
from qrecords.workshop.queries import within

SOON = timedelta(days=30)
Href = Callable[[Any], str] | None


def _words(values: Iterable[str]) -> list[tuple[str, str]]:
    return [(value, gettext(value)) for value in values]


def machines(reach: Reach) -> "QuerySet[Machine]":
    return within(Machine.objects.annotate(overhauls=Count("rebuilds")), reach)


def machine_columns() -> Columns:
    def mountings_of(machine: Machine) -> str:
        return f"{reverse('all-mountings')}?q={machine.mark}"

    def rebuilds_of(machine: Machine) -> str:
        return f"{reverse('rebuilds')}?q={machine.mark}"

    return Columns(
        columns=(
            Column(gettext("machine"), lambda m: m.name, "name", href=mountings_of, strong=True),
            Column(gettext("owner"), lambda m: m.owner, "owner"),
            Column(gettext("workshop mark"), lambda m: m.mark, "mark"),
            Column(gettext("scheme"), lambda m: gettext(m.scheme), "scheme"),
            Column(
                gettext("rebuilds"), lambda m: str(m.overhauls), "overhauls", number=True, href=rebuilds_of
            ),
        ),
        searched=("name", "owner", "mark"),
        default=("owner", "name", "id"),
        choices=(Choice("scheme", gettext("scheme"), "scheme", _words(SCHEMES)),),
    )


def rebuilds(reach: Reach) -> "QuerySet[Rebuild]":
    rows = Rebuild.objects.select_related("machine").annotate(count=Count("mountings"))
    return with_standing(within(rows, reach))


def rebuild_columns(zone: str) -> Columns:
    def order(rebuild: Rebuild) -> str:
        return reverse("rebuild", args=[rebuild.id])

    def mountings(rebuild: Rebuild) -> str:
        return f"{reverse('all-mountings')}?{urlencode({'q': rebuild.work_order})}"

    return Columns(
        columns=(
            Column(gettext("work order"), lambda r: r.work_order, "work_order", strong=True, href=order),
            Column(gettext("machine"), lambda r: r.machine.name, "machine__name"),
            Column(gettext("owner"), lambda r: r.machine.owner, "machine__owner"),
            Column(gettext("opened"), lambda r: day(r.opened_at, zone), "opened_at", filed=_opened),
            Column(gettext("mountings"), lambda r: str(r.count), "count", number=True, href=mountings),
            Column(gettext("state"), lambda r: gettext(r.standing), "standing"),
            Column(gettext("signed off"), lambda r: str(r.signed), "signed", number=True),
            Column(gettext("still open"), lambda r: str(r.live), "live", number=True),
            Column(gettext("places without a signed mounting"), lambda r: str(r.empty), "empty", number=True),
        ),
        searched=("work_order", "machine__name", "machine__owner", "machine__mark"),
        default=("-opened_at", "id"),
        choices=(
            Choice("state", gettext("state"), "standing", _words(state.value for state in RebuildState)),
        ),
    )


def bearings(reach: Reach) -> "QuerySet[Bearing]":
    return within(Bearing.objects.annotate(count=Count("mountings")), reach)


def bearing_columns() -> Columns:
    def page(bearing: Bearing) -> str:
        return reverse("bearing", args=[bearing.id])

    return Columns(
        columns=(
            Column(gettext("designation"), lambda b: b.designation, "designation", href=page, strong=True),
            Column(gettext("serial"), lambda b: b.serial, "serial"),
            Column(gettext("lot"), lambda b: b.lot, "lot"),
            Column(gettext("date code"), lambda b: b.date_code, "date_code"),
            Column(gettext("delivery"), lambda b: b.delivery, "delivery"),
            Column(gettext("mountings"), lambda b: str(b.count), "count", number=True),
        ),
        searched=("designation", "serial", "lot", "date_code", "delivery"),
        default=("designation", "id"),
    )


def _opened(row: Any) -> str:
    return str(row.opened_at.isoformat())


def due_words(due: date | None, today: date) -> str:
    """`31 Jan 2027`, `20 Nov 2026, 5 days over`, `1 Dec 2026, in 6 days`."""
    if due is None:
        return gettext("none given")
    days = (due - today).days
    if days < 0:
        return gettext("%(due)s, %(n)s days over") % {"due": calendar_day(due), "n": -days}
    if days <= SOON.days:
        return gettext("%(due)s, in %(n)s days") % {"due": calendar_day(due), "n": days}
    return calendar_day(due)


def due_mark(due: date | None, today: date) -> str:
    if due is None or due > today + SOON:
        return ""
    return "late" if due < today else "soon"


def due_columns(today: date) -> Columns:
    """The due list: what is due first stands first."""
    return Columns(
        columns=(
            Column(gettext("mark"), lambda e: e.mark, "mark", strong=True),
            Column(gettext("kind"), lambda e: gettext(e.kind), "kind"),
            Column(
                gettext("due"),
                lambda e: due_words(e.due, today),
                "due",
                mark=lambda e: due_mark(e.due, today),
                filed=lambda e: e.due.isoformat() if e.due else "",
            ),
            Column(gettext("every, months"), lambda e: e.interval or "", number=True),
            Column(gettext("laboratory"), lambda e: e.laboratory or "", "laboratory"),
            Column(gettext("kept at"), lambda e: e.kept_at or "", "kept_at"),
        ),
        searched=("mark", "kind", "laboratory", "kept_at"),
        default=(F("due").asc(nulls_last=True), "mark", "id"),
        choices=(Choice("kind", gettext("kind"), "kind", _words(KINDS)),),
    )


def equipment_columns(today: date, *, traces: bool, equips: bool, checks: bool, damages: bool) -> Columns:
    """What is due first stands first; equipment without a due day last."""

    def uses(piece: Equipment) -> str:
        return reverse("equipment-uses", args=[piece.id])

    def calibrate(piece: Equipment) -> str:
        return reverse("calibration-new", args=[piece.id])

    def check(piece: Equipment) -> str:
        return reverse("gauge-check", args=[piece.id]) if piece.kind in ON_MASTER else ""

    def damage(piece: Equipment) -> str:
        return reverse("gauge-damage", args=[piece.id])

    def in_use(piece: Any) -> bool:
        return piece.status in (None, IN_USE)

    columns = [
        Column(gettext("mark"), lambda e: e.mark, "mark", href=uses if traces else None, strong=True),
        Column(gettext("kind"), lambda e: gettext(e.kind), "kind"),
        Column(
            gettext("due"),
            lambda e: due_words(e.due, today),
            "due",
            mark=lambda e: due_mark(e.due, today) if in_use(e) else "",
            filed=lambda e: e.due.isoformat() if e.due else "",
        ),
        Column(gettext("status"), lambda e: gettext(e.status or IN_USE), "status"),
    ]
    if checks:
        columns.append(Column(gettext("on its master"), _checked, href=check))
    if damages:
        columns.append(Column(gettext("dropped, damaged"), lambda e: gettext("say so"), href=damage))
    if equips:
        columns.append(Column(gettext("calibration"), lambda e: gettext("new version"), href=calibrate))
    return Columns(
        columns=columns,
        searched=("mark", "kind"),
        default=(F("due").asc(nulls_last=True), "mark", "id"),
        choices=(
            Choice("kind", gettext("kind"), "kind", _words(KINDS)),
            Choice("status", gettext("status"), "status", _words(STATUSES)),
        ),
    )


def _checked(piece: Equipment) -> str:
    return gettext("read it") if piece.kind in ON_MASTER else ""


def mountings(rows: "QuerySet[Mounting]") -> "QuerySet[Any]":
    return open_findings(rows)


def _open(row: Any) -> str:
    """`2 out, 1 missing`; nothing where nothing is open, or the mounting is closed."""
    if State(row.state) in CLOSED:
        return ""
    counts = (
        (row.out, gettext("out")),
        (row.close, gettext("too close")),
        (row.missing, gettext("missing")),
        (row.queries, gettext("to look at")),
    )
    return ", ".join(f"{count} {word}" for count, word in counts if count)


def mounting_columns(zone: str, *, traces: bool) -> Columns:
    page = "mounting-trace" if traces else "mounting"

    def record(mounting: Mounting) -> str:
        return reverse(page, args=[mounting.id])

    return Columns(
        columns=(
            Column(gettext("mounting"), lambda m: m.number, "number", href=record, strong=True),
            Column(gettext("bearing"), lambda m: m.bearing.designation, "bearing__designation"),
            Column(gettext("owner"), lambda m: m.journal.machine.owner, "journal__machine__owner"),
            Column(gettext("machine"), lambda m: m.journal.machine.name, "journal__machine__name"),
            Column(gettext("place"), lambda m: m.journal.position, "journal__position"),
            Column(gettext("work order"), lambda m: m.rebuild.work_order, "rebuild__work_order"),
            Column(gettext("opened"), lambda m: day(m.opened_at, zone), "opened_at", filed=_opened),
            Column(gettext("state"), lambda m: gettext(m.state), "state"),
            Column(gettext("open findings"), _open),
        ),
        searched=(
            "number",
            "bearing__designation",
            "journal__machine__name",
            "journal__machine__owner",
            "journal__machine__mark",
            "rebuild__work_order",
        ),
        default=("-opened_at", "-id"),
        choices=(Choice("state", gettext("state"), "state", _words(state.value for state in State)),),
    )
