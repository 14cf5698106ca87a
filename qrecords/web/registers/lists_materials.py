"""The columns of deliveries, parts and moves, and their rows. Each list is a count and one query."""

from datetime import date
from typing import Any

from django.db.models import Count, QuerySet
from django.urls import reverse
from django.utils.translation import gettext

from qrecords.people.queries import Reach
from qrecords.web.listing.table import Choice, Column, Columns
from qrecords.web.moments import calendar_day
from qrecords.web.registers.lists import due_mark, due_words
from qrecords.workshop.material_actions import PART_KINDS
from qrecords.workshop.models import Delivery, Move, Part


def _within(rows: "QuerySet[Any]", reach: Reach) -> "QuerySet[Any]":
    return rows if reach.everywhere else rows.filter(site__in=reach.sites)


def deliveries(reach: Reach) -> "QuerySet[Any]":
    return _within(Delivery.objects.all(), reach)


def delivery_columns(*, traces: bool) -> Columns:
    def found(row: Delivery) -> str:
        return reverse("shared", args=["delivery", row.id]) if traces else ""

    def lines(row: Delivery) -> str:
        return "; ".join(_line(line) for line in row.lines)

    return Columns(
        columns=(
            Column(gettext("delivery note"), lambda d: d.note, "note", href=found, strong=True),
            Column(gettext("supplier"), lambda d: d.supplier, "supplier"),
            Column(gettext("order"), lambda d: d.order, "order"),
            Column(gettext("on"), lambda d: calendar_day(d.on), "on", filed=lambda d: d.on.isoformat()),
            Column(gettext("what came"), lines),
        ),
        searched=("note", "supplier", "order"),
        default=("-on", "-id"),
    )


def _line(line: dict[str, Any]) -> str:
    lot = f", {gettext('lot')} {line['lot']}" if line["lot"] else ""
    return f"{line['quantity']} × {line['designation']}{lot}"


def parts(reach: Reach) -> "QuerySet[Any]":
    return _within(Part.objects.annotate(count=Count("uses__mounting", distinct=True)), reach)


def part_columns(today: date, *, traces: bool) -> Columns:
    def found(row: Part) -> str:
        return reverse("shared", args=["part", row.id]) if traces else ""

    return Columns(
        columns=(
            Column(gettext("lot, heat, batch or job"), lambda p: p.lot, "lot", href=found, strong=True),
            Column(gettext("kind"), lambda p: gettext(p.kind), "kind"),
            Column(gettext("name"), lambda p: p.name, "name"),
            Column(gettext("supplier"), lambda p: p.supplier, "supplier"),
            Column(gettext("delivery note"), lambda p: p.delivery, "delivery"),
            Column(
                gettext("use by"),
                lambda p: due_words(p.use_by, today) if p.use_by else "",
                "use_by",
                mark=lambda p: due_mark(p.use_by, today) if p.use_by else "",
                filed=lambda p: p.use_by.isoformat() if p.use_by else "",
            ),
            Column(gettext("mountings"), lambda p: str(p.count), "count", number=True),
        ),
        searched=("lot", "name", "supplier", "delivery"),
        default=("kind", "lot", "id"),
        choices=(Choice("kind", gettext("kind"), "kind", [(kind, gettext(kind)) for kind in PART_KINDS]),),
    )


def moves(reach: Reach) -> "QuerySet[Any]":
    return _within(Move.objects.select_related("machine", "to_machine"), reach)


def move_columns() -> Columns:
    def where(row: Move) -> str:
        if row.to_machine is not None:
            return row.to_machine.name
        return ", ".join(filter(None, (row.to_place, row.to_owner)))

    return Columns(
        columns=(
            Column(gettext("on"), lambda m: calendar_day(m.on), "on", filed=lambda m: m.on.isoformat()),
            Column(gettext("machine"), lambda m: m.machine.name, "machine__name", strong=True),
            Column(gettext("shaft"), lambda m: m.shaft or gettext("the whole machine"), "shaft"),
            Column(gettext("where to"), where),
            Column(gettext("why"), lambda m: m.reason),
        ),
        searched=("machine__name", "to_machine__name", "to_place", "to_owner", "shaft"),
        default=("-on", "-id"),
    )
