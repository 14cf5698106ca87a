"""What stands beside a record: what was not done, what it shares with others, what changed since signing."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext, ngettext

from qrecords.mountings.models import BearingEvent, Mounting, PartUse
from qrecords.steps.transitions import CLOSED, State
from qrecords.tracing.equipment import shared_with
from qrecords.tracing.lives import came_off_for, parts_of
from qrecords.tracing.record import NotDone, Record, gear_used, not_done
from qrecords.web.auditor.saying import field_name, step_name
from qrecords.web.look_backs.beside import Beside, beside
from qrecords.web.moments import moment


@dataclass(frozen=True)
class Gap:
    what: str
    why: str


@dataclass(frozen=True)
class Shared:
    """A gauge, meter or heater of this mounting, and how many mountings used it."""

    mark: str
    kind: str
    href: str
    mountings: int


@dataclass(frozen=True)
class Link:
    text: str
    href: str


@dataclass(frozen=True)
class Panels:
    """What stands beside the sheet: what was not done, what is shared, what changed since signing."""

    gaps_heading: str
    gaps: tuple[Gap, ...]
    not_entered: str
    shared: tuple[Shared, ...]
    since_heading: str
    since: str
    changed: bool
    verify: str
    export: str
    damage: str
    parts: tuple[Link, ...]
    came_off: tuple[Link, ...]
    look_backs: tuple[Beside, ...] = ()


def panels_of(record: Record, rows: QuerySet[Mounting], zone: str) -> Panels:
    gaps = not_done(record.signed or record.case)
    heading, words, changed = _since(record, zone)
    return Panels(
        gaps_heading=gettext("Not done, and known at sign-off")
        if record.signed
        else gettext("Not done so far"),
        gaps=tuple(_gap(gap) for gap in gaps if gap.state != "not entered"),
        not_entered=_not_entered(gaps),
        shared=_shared(record, rows),
        since_heading=heading,
        since=words,
        changed=changed,
        verify=f"{reverse('verify')}?mounting={record.mounting.id}",
        export=f"{reverse('mounting-trace', args=[record.mounting.id])}?as=csv",
        look_backs=beside(record.mounting),
        damage=reverse("mounting-damage", args=[record.mounting.id]),
        parts=tuple(_part(use) for use in parts_of(record.mounting.id)),
        came_off=tuple(_old(event) for event in came_off_for(record.mounting.id)),
    )


def _part(use: PartUse) -> Link:
    place = f" ({use.place})" if use.place else ""
    text = f"{gettext(use.part.kind)}: {use.part.name}, {use.part.lot}{place}"
    return Link(text, reverse("shared", args=["part", use.part_id]))


def _old(event: BearingEvent) -> Link:
    """The bearing that came off, why, and where it is kept."""
    old, said = event.bearing, event.document
    marks = " ".join(filter(None, (old.designation, old.serial, old.lot)))
    return Link(
        ": ".join(filter(None, (marks, said["why"], said["kept"]))), reverse("bearing", args=[old.id])
    )


def _gap(gap: NotDone) -> Gap:
    return Gap(f"{step_name(gap.step)}, {field_name(gap.key)}", f"{gettext(gap.state)}: {gap.reason}")


def _not_entered(gaps: Sequence[NotDone]) -> str:
    """Fields without any answer, by step, in one sentence."""
    by_step: dict[str, list[str]] = {}
    for gap in gaps:
        if gap.state == "not entered":
            by_step.setdefault(gap.step, []).append(field_name(gap.key))
    return "; ".join(f"{step_name(step)}: {', '.join(keys)}" for step, keys in by_step.items())


def _shared(record: Record, rows: QuerySet[Mounting]) -> tuple[Shared, ...]:
    pieces = {use.gear.id: use.gear for use in gear_used(record.lines)}
    counts = shared_with([UUID(id) for id in pieces], rows)
    return tuple(
        Shared(gear.mark, gettext(gear.kind), reverse("equipment-uses", args=[id]), counts.get(UUID(id), 0))
        for id, gear in pieces.items()
    )


def _since(record: Record, zone: str) -> tuple[str, str, bool]:
    """(heading, sentence, whether something changed) of what came after the signature."""
    count = ngettext("%(n)s entry", "%(n)s entries", len(record.lines)) % {"n": len(record.lines)}
    if record.signature is None:
        closed = State(record.mounting.state) in CLOSED
        heading = gettext("Closed without a sign-off") if closed else gettext("Not signed yet")
        return heading, gettext("%(entries)s so far.") % {"entries": count}, False
    after = record.after_signature
    opened = len(record.case.amendments)
    if opened >= len(record.sign_offs):
        heading = gettext("Open for amendment %(number)s") % {"number": opened}
        return (
            heading,
            gettext("%(entries)s so far; what was signed before stands as it was.") % {"entries": count},
            True,
        )
    if not after:
        # Whether an entry was altered is for the proof to say, once somebody has it made.
        words = gettext("%(entries)s, none of them later than the signature.") % {"entries": count}
        return gettext("Signed"), words, False
    heading = ngettext("%(n)s entry since signing", "%(n)s entries since signing", len(after))
    newest = moment(after[-1].at, zone)
    words = gettext("%(entries)s, the newest of %(at)s.") % {"entries": count, "at": newest}
    return heading % {"n": len(after)}, words, True
