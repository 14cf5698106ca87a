"""What another row of a table would change: the drawings of a site whose limits would be others."""

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from django.db.models import OuterRef, Subquery
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.tables import Tables
from qrecords.mountings.models import Mounting
from qrecords.steps.limits_asked import Span, changed
from qrecords.steps.transitions import CLOSED
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import with_unit
from qrecords.workshop.models import JournalRequirement

MOST_DRAWINGS = 300
"""So many drawings, the newest, are looked through for what a row would change."""


@dataclass(frozen=True)
class Effect:
    """One drawing whose limits another row would change for mountings opened from then on."""

    where: str
    drawing: str
    limits: tuple[tuple[str, str, str], ...]
    """What, as it is now, as it would be."""
    open: str
    """Mountings that are open there; they keep the tables they were opened under."""


LIMITS: Mapping[str, str] = {
    "journal": _("journal"),
    "bore": _("bore"),
    "clearance": _("clearance before"),
    "form": _("form, at most"),
    "sliding": _("to slide on: least, to aim for"),
}


def effects(site: UUID, now: Tables, then: Tables) -> list[Effect]:
    """What the drawings in force at a site would ask by other tables. Two queries."""
    newest = JournalRequirement.objects.filter(journal=OuterRef("journal")).order_by("-valid_from", "-id")
    rows = (
        JournalRequirement.objects.filter(journal__site=site, id=Subquery(newest.values("id")[:1]))
        .select_related("journal__machine")
        .order_by("-valid_from", "-id")[:MOST_DRAWINGS]
    )
    working: dict[UUID, list[str]] = {}
    here = Mounting.objects.filter(site=site).exclude(state__in=[state.value for state in CLOSED])
    for journal, number in here.order_by("number").values_list("journal_id", "number"):
        working.setdefault(journal, []).append(number)
    found = ((row, changed(row.document, now, then)) for row in rows)
    return [
        Effect(
            where=f"{row.journal.machine.name}, {row.journal.position}",
            drawing=f"{row.drawing} {gettext('rev.')} {row.revision}",
            limits=tuple((gettext(LIMITS[n]), _span(a), _span(b)) for n, (a, b) in differing.items()),
            open=", ".join(working.get(row.journal_id, ())),
        )
        for row, differing in found
        if differing
    ]


def _span(span: Span | None) -> str:
    if span is None:
        return gettext("none")
    low, high = span
    if low is not None and high is not None:
        return with_unit(FIGURES.span_um(low, high), "µm")
    return with_unit(FIGURES.um(high or low or 0), "µm")
