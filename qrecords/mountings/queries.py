"""Reading mountings, within the asker's reach. Every list holds a fixed number of queries."""

import uuid
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django.db.models import Count, Exists, Max, Prefetch, Q, QuerySet, Subquery

from qrecords.engineering.tables import Tables
from qrecords.evidence.queries import seen_elsewhere
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of, entries_of_each
from qrecords.mountings.errors import UnknownMountingError
from qrecords.mountings.folded import folded
from qrecords.mountings.logs import log_bytes
from qrecords.mountings.models import EquipmentUse, FindingRow, Mounting, Reading
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.case import Case
from qrecords.steps.elsewhere import Elsewhere, ShiftCheck
from qrecords.steps.interchange.writing import case_document
from qrecords.steps.shown import NOTHING, Extent, not_shown, shown_now
from qrecords.steps.transitions import HELD_BY_THE_ENGINEER, State
from qrecords.workshop.models import MasterCheck
from qrecords.workshop.queries import procedure_by_digest, procedures_by_digest
from qrecords.workshop.tables import pinned


def for_person(person: Person, action: Action, at: datetime) -> QuerySet[Mounting]:
    """The mountings on which this person may do this action; every query begins here."""
    where = reach(person.id, action, at)
    rows = Mounting.objects.select_related("journal__machine", "bearing", "rebuild")
    return rows if where.everywhere else rows.filter(site__in=where.sites)


def mounting_for(person: Person, id: uuid.UUID, action: Action, at: datetime) -> Mounting:
    """One mounting, or UnknownMountingError as if it did not exist."""
    found = for_person(person, action, at).filter(id=id).first()
    if found is None:
        raise UnknownMountingError(id)
    return found


def receipt_of(mounting: uuid.UUID, sha256: str) -> Entry | None:
    """The entry that says this file was received for this mounting; one query."""
    received = Entry.objects.filter(subject=mounting, kind="file received")
    said = ((entry, parse_canonical(bytes(entry.payload))["body"]["said"]) for entry in received)
    return next((entry for entry, told in said if told["sha256"] == sha256), None)


def case_of(mounting: Mounting) -> Case:
    """The case as it stands; two queries, and one where the procedure is known."""
    entries, procedure = entries_of(mounting.id), procedure_by_digest(mounting.procedure_digest)
    return folded(entries, procedure, tables_for(mounting))


def cases_of(mountings: Sequence[Mounting]) -> dict[uuid.UUID, Case]:
    """The case of each, of entries that have their place in the log; two queries however many."""
    entries = entries_of_each(mounting.id for mounting in mountings)
    procedures = procedures_by_digest({mounting.procedure_digest for mounting in mountings})
    return {m.id: folded(entries[m.id], procedures[m.procedure_digest], tables_for(m)) for m in mountings}


def tables_for(mounting: Mounting) -> Tables:
    """The tables of the standards that judge it: those its opening pinned. No query for the built-in ones."""
    return pinned(mounting.tables_digest, mounting.site, mounting.opened_at)


def case_with_document(mounting: Mounting) -> tuple[Case, dict[str, Any]]:
    """The case, and its document: judged by whoever reads it, it gives the same findings; queries as of
    `case_of`."""
    entries, procedure = entries_of(mounting.id), procedure_by_digest(mounting.procedure_digest)
    case = folded(entries, procedure, tables_for(mounting))
    return case, case_document(entries, procedure, case.tables, log_bytes(entries))


def shown_with_own(person: Person, case: Case, shown: Extent) -> Extent:
    """The whole record as it stands, if all that came since `shown` is this person's own: nobody has to be
    shown what he said himself. Otherwise `shown` as it was. One query."""
    new = not_shown(case, shown)
    payloads = Entry.objects.filter(id__in=new).values_list("payload", flat=True)
    authors = {parse_canonical(bytes(payload))["author"]["person"] for payload in payloads}
    return shown_now(case) if shown != NOTHING and authors <= {str(person.id)} else shown


def open_findings(rows: QuerySet[Mounting]) -> QuerySet[Mounting]:
    """Mountings with how many findings of each open kind they have."""
    unsettled = Q(findings__settled=False)
    return rows.annotate(
        out=Count("findings", filter=unsettled & Q(findings__verdict="nonconforming")),
        close=Count("findings", filter=unsettled & Q(findings__verdict="not proven")),
        missing=Count("findings", filter=unsettled & Q(findings__verdict="missing")),
        queries=Count("findings", filter=unsettled & Q(findings__verdict="query")),
    )


def elsewhere_for(mounting: Mounting) -> Elsewhere:
    """Facts of other records: the other end's readings, earlier heatings of this bearing, photos seen before.

    The *other end* is another journal of the same shaft in the same rebuild. Six queries.
    """
    others = Mounting.objects.filter(
        rebuild=mounting.rebuild,
        journal__machine=mounting.journal.machine_id,
        journal__shaft=mounting.journal.shaft,
    ).exclude(Q(journal=mounting.journal_id) | Q(state=State.WITHDRAWN.value))
    other = others.order_by("-opened_at", "-id").first()
    ends: tuple[int, ...] | None = None
    if other is not None:
        rows = Reading.objects.filter(mounting=other, step="measurement", key__startswith="journal.")
        ends = tuple(rows.order_by("key").values_list("base", flat=True))
    return Elsewhere(
        other_end=ends or None,
        other_end_mounting=str(other.id) if other and ends else "",
        earlier_heatings=earlier_heatings(mounting),
        photos_seen_before=frozenset(seen_elsewhere(mounting.id)),
        shift_checks=shift_checks(mounting),
    )


def shift_checks(mounting: Mounting) -> tuple[ShiftCheck, ...]:
    """Of each piece used here its first check on a master after its last use here; two queries."""
    uses = EquipmentUse.objects.filter(mounting=mounting).order_by().values("equipment")
    last = {use["equipment"]: use["last"] for use in uses.annotate(last=Max("at"))}
    checks = MasterCheck.objects.filter(equipment__in=last).order_by("at", "id")
    found: dict[uuid.UUID, ShiftCheck] = {}
    for check in checks:
        if check.at >= last[check.equipment_id] and check.equipment_id not in found:
            told = (str(check.equipment_id), check.off, check.limit, str(check.id), check.at)
            found[check.equipment_id] = ShiftCheck(*told)
    return tuple(found.values())


def earlier_heatings(mounting: Mounting) -> int:
    """How often this bearing was heated in its other mountings."""
    earlier = Mounting.objects.filter(bearing=mounting.bearing_id).exclude(id=mounting.id)
    return Reading.objects.filter(mounting__in=earlier, step="heating", key__startswith="heater on.").count()


def uses_of(equipment: uuid.UUID, rows: QuerySet[Mounting]) -> QuerySet[EquipmentUse]:
    """Every capture that used a piece of equipment, newest first."""
    return (
        EquipmentUse.objects.filter(equipment_id=equipment, mounting__in=rows)
        .select_related("mounting__journal__machine", "mounting__bearing", "mounting__rebuild")
        .order_by("-at", "entry")
    )


def withdrawn_before(mounting: Mounting) -> QuerySet[Mounting]:
    """Attempts on this journal that were withdrawn since a mounting on it was last signed off, each with its
    findings that did not conform or were not proven. Two queries."""
    earlier = Mounting.objects.filter(journal=mounting.journal_id, opened_at__lte=mounting.opened_at)
    earlier = earlier.exclude(id=mounting.id)
    ever = earlier.filter(Q(state=State.SIGNED_OFF.value) | Q(amendments__gt=0))
    signed = ever.order_by("-opened_at").values("opened_at")[:1]
    since = Q(opened_at__gt=Subquery(signed)) | ~Exists(ever)
    flagged = FindingRow.objects.filter(verdict__in=[v.value for v in HELD_BY_THE_ENGINEER])
    rows = earlier.filter(since, state=State.WITHDRAWN.value).order_by("opened_at", "id")
    return rows.prefetch_related(Prefetch("findings", queryset=flagged))
