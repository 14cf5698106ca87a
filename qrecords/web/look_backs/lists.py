"""The list of look-backs, and of one the mountings it touches: each a count and one query."""

from typing import Any

from django.db.models import Count, DateField, F, OuterRef, QuerySet, Subquery, Value
from django.db.models.fields import CharField
from django.db.models.functions import Coalesce
from django.urls import reverse
from django.utils.translation import gettext

from qrecords.mountings.look_backs import CLASSES, COUNTED, results
from qrecords.mountings.models import JudgedAgain
from qrecords.people.models import PersonVersion
from qrecords.steps.new_look_back import SUBJECTS
from qrecords.web.listing.table import Choice, Column, Columns
from qrecords.web.look_backs.words import CLASS_WORDS, SUBJECT_WORDS, is_open, subject_of, window_of
from qrecords.web.moments import calendar_day, day
from qrecords.web.names import name
from qrecords.workshop.models import LookBack, LookBackAction


def look_back_columns(zone: str) -> Columns:
    def page(look_back: LookBack) -> str:
        return reverse("look-back", args=[look_back.id])

    return Columns(
        columns=(
            Column(gettext("of"), subject_of, "of", href=page, strong=True),
            Column(gettext("kind"), lambda b: gettext(SUBJECT_WORDS[b.subject]), "subject"),
            Column(gettext("between"), lambda b: window_of(b, zone), "since"),
            Column(gettext("opened"), lambda b: day(b.opened_at, zone), "opened_at", filed=_opened),
            *(_count(verdict, column) for verdict, column in COUNTED.items()),
            Column(gettext("actions open"), lambda b: str(b.waiting), "waiting", number=True),
            Column(gettext("state"), _state),
        ),
        searched=("of", "why", "equipment__mark"),
        default=("-opened_at", "-id"),
        choices=(
            Choice(
                "subject",
                gettext("kind"),
                "subject",
                [(subject, gettext(SUBJECT_WORDS[subject])) for subject in SUBJECTS],
            ),
        ),
    )


def _count(verdict: str, column: str) -> Column:
    def count(row: Any) -> str:
        return str(getattr(row, column))

    return Column(gettext(CLASS_WORDS[verdict]), count, column, number=True)


def _opened(row: Any) -> str:
    return str(row.opened_at.isoformat())


def _state(look_back: LookBack) -> str:
    return gettext("open") if is_open(look_back) else gettext("closed")


def touched(look_back: LookBack) -> "QuerySet[Any]":
    """The mountings of a look-back, each with its newest action: what, by whom, until when, how closed."""
    newest = LookBackAction.objects.filter(look_back=look_back, mounting=OuterRef("mounting"))
    newest = newest.order_by("-at", "-id")
    owner = PersonVersion.objects.filter(person=OuterRef("owner_id")).order_by("-valid_from")
    return (
        results(look_back)
        .annotate(
            owner_id=Subquery(newest.values("owner")[:1]),
            what=Coalesce(Subquery(newest.values("what")[:1]), Value(""), output_field=CharField()),
            due=Subquery(newest.values("due")[:1], output_field=DateField()),
            how=Coalesce(Subquery(newest.values("answer__how")[:1]), Value(""), output_field=CharField()),
        )
        .annotate(owner_name=Coalesce(Subquery(owner.values("name")[:1]), Value("")))
    )


def touched_columns(look_back: LookBack) -> Columns:
    def page(row: JudgedAgain) -> str:
        return reverse("look-back-mounting", args=[look_back.id, row.mounting_id])

    return Columns(
        columns=(
            Column(
                gettext("mounting"), lambda r: r.mounting.number, "mounting__number", href=page, strong=True
            ),
            Column(gettext("class"), lambda r: gettext(CLASS_WORDS[r.verdict]), "verdict", mark=_mark),
            Column(
                gettext("owner"),
                lambda r: r.mounting.journal.machine.owner,
                "mounting__journal__machine__owner",
            ),
            Column(
                gettext("machine"),
                lambda r: r.mounting.journal.machine.name,
                "mounting__journal__machine__name",
            ),
            Column(gettext("place"), lambda r: r.mounting.journal.position, "mounting__journal__position"),
            Column(gettext("bearing"), lambda r: r.mounting.bearing.designation),
            Column(gettext("found otherwise"), found_otherwise),
            Column(gettext("who, until"), _owner, "due"),
            Column(gettext("action"), _action),
        ),
        searched=(
            "mounting__number",
            "mounting__journal__machine__owner",
            "mounting__journal__machine__name",
            "mounting__rebuild__work_order",
        ),
        default=(F("due").asc(nulls_last=True), "mounting__number", "id"),
        choices=(
            Choice(
                "class",
                gettext("class"),
                "verdict",
                [(verdict, gettext(CLASS_WORDS[verdict])) for verdict in CLASSES],
            ),
        ),
    )


def _mark(row: JudgedAgain) -> str:
    return {"nonconforming": "late", "not proven": "soon", "in doubt": "soon"}.get(row.verdict, "")


def found_otherwise(row: JudgedAgain) -> str:
    """The characteristics whose verdict is another."""
    other = [told for told in row.document if told["before"] != told["after"]]
    return "; ".join(name(told["key"].split("/", 1)[1]) for told in other)


def _owner(row: Any) -> str:
    if not row.owner_id:
        return ""
    return f"{row.owner_name}, {calendar_day(row.due)}"


def _action(row: Any) -> str:
    if row.how:
        return gettext("closed: %(how)s") % {"how": row.how}
    return str(row.what)


def by_owner(look_back: LookBack) -> list[dict[str, Any]]:
    """The customers behind it: owner, and how many mountings of each class; one query."""
    rows = results(look_back).order_by().values("mounting__journal__machine__owner", "verdict")
    found: dict[str, dict[str, Any]] = {}
    for row in rows.annotate(n=Count("id")):
        owner = row["mounting__journal__machine__owner"]
        found.setdefault(owner, {"owner": owner, **dict.fromkeys(COUNTED.values(), 0)})
        found[owner][COUNTED[row["verdict"]]] = row["n"]
    return [found[owner] for owner in sorted(found)]
