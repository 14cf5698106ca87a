"""That a record was judged again with something put right, beside what was found of it: each characteristic
of which something else is found, as before and as it would be."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext

from qrecords.ledger.models import Entry
from qrecords.mountings.models import JudgedAgain, Mounting
from qrecords.proof.canonical import parse_canonical
from qrecords.web.lettered import UNITS
from qrecords.web.moments import moment
from qrecords.web.names import name
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import with_unit


@dataclass(frozen=True)
class Rejudged:
    """`rows` are (characteristic, as it stood, as it is found now)."""

    title: str
    note: str
    rows: tuple[tuple[str, str, str], ...]


def rejudged(mounting: Mounting, zone: str) -> tuple[Rejudged, ...]:
    """Every time, the oldest first; two queries."""
    rows = list(JudgedAgain.objects.filter(mounting=mounting).order_by("at", "id"))
    causes = Entry.objects.filter(id__in=[row.cause for row in rows], kind="drawing")
    payloads = {entry.id: parse_canonical(bytes(entry.payload)) for entry in causes}
    return tuple(_told(row, payloads.get(row.cause), zone) for row in rows)


def _told(row: JudgedAgain, drawing: Mapping[str, Any] | None, zone: str) -> Rejudged:
    title, note = gettext("Judged again, something was put right"), moment(row.at, zone)
    if drawing is not None:
        asked = drawing["body"]["seen"]["requirement"]
        facts = {key: asked[key] for key in ("drawing", "revision")}
        title = gettext("Judged again: drawing %(drawing)s rev. %(revision)s was the right one") % facts
        note = f"{note}: {drawing['reason']}"
    return Rejudged(title, note, tuple(_row(each) for each in row.document))


def _row(each: Mapping[str, Any]) -> tuple[str, str, str]:
    before, after = (
        _found(each[f"{when}"], each[f"value_{when}"], each["unit"]) for when in ("before", "after")
    )
    return name(str(each["key"]).partition("/")[2]), before, after


def _found(verdict: str, value: int | None, unit: str) -> str:
    words = gettext(verdict) if verdict else gettext("nothing was said")
    if value is None or unit not in UNITS:
        return words
    sign, per_unit, places = UNITS[unit]
    return f"{words}, {with_unit(FIGURES.plain(Decimal(value) / per_unit, places), sign)}"
