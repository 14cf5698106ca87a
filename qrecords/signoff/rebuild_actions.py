"""The release of a rebuild: the inspector says that all its mountings are signed off. An act of authority
over exactly what was shown; the machine's statutory release is another one, by whom its scheme names."""

import uuid
from collections.abc import Mapping
from dataclasses import replace

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import ChangedMeanwhileError, RefusedError
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import Told, state, stated_before
from qrecords.signoff.errors import ReasonNeededError
from qrecords.signoff.models import RebuildRelease
from qrecords.signoff.rebuild_queries import Whole, entries_beyond, whole_of
from qrecords.steps.rebuild import refuse_rebuild_release
from qrecords.steps.shown import Extent
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Bearing, Machine, Rebuild

LONGEST_REASON = 400


@atomic()
def release_rebuild(
    *,
    acting: Acting,
    rebuild: Rebuild,
    entry_id: uuid.UUID,
    shown: Extent,
    left_out: Mapping[uuid.UUID, str],
    remark: str = "",
) -> Entry:
    """Release one machine of a work order. `left_out`: the places where nothing was mounted, each with why.
    RefusedError while a mounting is open or a place has none, or to anybody who worked on one of them;
    ChangedMeanwhileError if anything came since `shown`."""
    require(acting, Action.RELEASE_REBUILD, rebuild.site)
    reasons = {str(journal): _reason("left_out", reason) for journal, reason in left_out.items()}
    said = {
        "shown": shown.document(),
        "left_out": [{"journal": journal, "reason": reasons[journal]} for journal in sorted(reasons)],
        "remark": _reason("remark", remark) if remark.strip() else "",
    }
    # The server's time alone, as every act of authority.
    acting = replace(acting, at_device=None)
    told: Told = {"id": entry_id, "site": rebuild.site, "about": ("rebuild", rebuild.id), "said": said}
    known = stated_before(acting, "rebuild release", **told)
    if known is not None:
        return known
    _lock(rebuild)
    whole = whole_of(rebuild)
    new = entries_beyond(rebuild, shown)
    if new:
        raise ChangedMeanwhileError([str(id) for id in new])
    released = RebuildRelease.objects.filter(rebuild=rebuild).exists()
    refusal = refuse_rebuild_release(whole.places, reasons, str(acting.author.id), released=released)
    if refusal is not None:
        raise RefusedError("release of the rebuild", refusal)
    entry = state(acting, "rebuild release", **told | {"seen": _frozen(rebuild, whole, acting.zone)})
    RebuildRelease.objects.create(entry=entry, rebuild=rebuild)
    return entry


def _reason(field: str, reason: str) -> str:
    text = reason.strip()
    if not text:
        raise ReasonNeededError("release of the rebuild")
    if len(text) > LONGEST_REASON or not text.isprintable():
        raise RegisterFieldError(field, text, f"1 to {LONGEST_REASON} characters in one line")
    return text


def _lock(rebuild: Rebuild) -> None:
    """The machine, then the bearings and mountings under this order: what is said of them stands still until
    this ends."""
    Machine.objects.select_for_update().get(id=rebuild.machine_id)
    mounted = Mounting.objects.filter(rebuild=rebuild).values("bearing")
    list(Bearing.objects.select_for_update().filter(id__in=mounted).order_by("id").values_list("id"))
    list(Mounting.objects.select_for_update().filter(rebuild=rebuild).order_by("id").values_list("id"))


def _frozen(rebuild: Rebuild, whole: Whole, zone: str) -> dict[str, object]:
    """What the release rests on, for a reader who has only this entry: machine, order, and of every place the
    mounting that carries it with the leaf of its signature."""
    machine = rebuild.machine
    return {
        "work_order": rebuild.work_order,
        "machine": {
            "id": str(machine.id),
            "name": machine.name,
            "owner": machine.owner,
            "mark": machine.mark,
            "scheme": machine.scheme,
        },
        "places": [_place(whole, place.journal) for place in whole.places],
        "certificate": {
            "language": "en",
            "units": "metric",
            "zone": zone,
            "template": "rebuild certificate/1",
        },
    }


def _place(whole: Whole, journal: str) -> dict[str, object]:
    place = next(each for each in whole.places if each.journal == journal)
    row, standing = whole.journals[journal], place.standing
    signed = whole.signed.get(standing.mounting) if standing else None
    return {
        "journal": journal,
        "shaft": row.shaft,
        "position": row.position,
        "mounting": standing.mounting if standing else "",
        "number": standing.number if standing else "",
        "signature": signed or "",
        "attempts": [attempt.number for attempt in place.attempts],
    }
