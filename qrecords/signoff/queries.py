"""Who waits for whom: hold points, records ready for inspection, findings for the engineer.

Every list holds a fixed number of queries, whatever it finds. It begins from rows within the asker's reach
and reads the indexes; what stands in entries alone (which release covers what) is read for the few rows left.
"""

import uuid
from collections.abc import Sequence

from django.db.models import Exists, OuterRef, Q, QuerySet

from qrecords.ledger.models import Entry
from qrecords.mountings.models import FindingRow, Mounting, Reading, TaskDone
from qrecords.mountings.queries import open_findings
from qrecords.people.models import Person, RoleGrant
from qrecords.people.permissions import Action, roles_with
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.findings import Verdict
from qrecords.steps.identification import OWN_READING
from qrecords.steps.standard import RULES
from qrecords.steps.tasks import STAND_IN
from qrecords.steps.transitions import LIVE, State


def waiting_for_release(rows: QuerySet[Mounting], hold: str) -> list[Mounting]:
    """Mountings being worked on of which a hold point waits for its release, or for a word about what
    does not conform cold."""
    live = rows.filter(state__in=[state.value for state in LIVE], waits__contains=hold)
    return _urgent_first(open_findings(live))


def ready_for_inspection(rows: QuerySet[Mounting]) -> list[Mounting]:
    """Records the fitter has signed as performed."""
    return _urgent_first(open_findings(rows.filter(state=State.READY.value)))


def for_the_engineer(rows: QuerySet[Mounting]) -> list[Mounting]:
    """Records with an undecided finding about which something is the engineer's alone to decide; what is
    merely still to come does not call anybody."""
    asks = _asking(Verdict.NONCONFORMING) | _asking(Verdict.NOT_PROVEN)
    asks |= _asking(Verdict.MISSING) & Q(document__message__endswith=".absent")
    undecided = FindingRow.objects.filter(asks, mounting=OuterRef("pk"), settled=False)
    states = [*(state.value for state in LIVE), State.READY.value]
    found = open_findings(rows.filter(state__in=states).filter(Exists(undecided)))
    return _urgent_first(found)


def to_look_at_again(rows: QuerySet[Mounting], person: Person) -> list[Mounting]:
    """What was signed with reduced independence and nobody independent looked at yet, the earliest due first;
    without what this person stood in for."""
    stood_in = TaskDone.objects.filter(mounting=OuterRef("pk"), person=person.id, task=STAND_IN)
    due = open_findings(rows.filter(~Exists(stood_in), review_due__isnull=False))
    return list(due.order_by("review_due", "opened_at", "id"))


def _asking(verdict: Verdict) -> Q:
    """Findings of a verdict about which the engineer may have to decide, by the rules that said them."""
    return Q(verdict=verdict.value, rule__in=[r.id for r in RULES.values() if r.asks_engineer(verdict)])


def _urgent_first(rows: QuerySet[Mounting]) -> list[Mounting]:
    """A ring that was heated and is still being worked on before a cold one, what waits for the reader alone
    before what is flagged, and among the like the oldest first."""
    heated = Reading.objects.filter(mounting=OuterRef("pk"), step="heating", key__startswith="heater on.")
    found = rows.annotate(heated=Exists(heated)).order_by("opened_at", "id")
    return sorted(found, key=lambda m: (not is_hot(m), flagged(m) > 0))


def is_hot(mounting: Mounting) -> bool:
    """Of the lists here: heated, and not yet said ready."""
    return bool(getattr(mounting, "heated", False)) and mounting.state in LIVE


def flagged(mounting: Mounting) -> int:
    """Of the lists here: how many findings keep it from being released or signed."""
    return int(getattr(mounting, "out", 0)) + int(getattr(mounting, "close", 0))


def marking_unread(mountings: Sequence[uuid.UUID]) -> set[uuid.UUID]:
    """Of these mountings those whose ring marking no inspector has read himself. One query."""
    missing = FindingRow.objects.filter(
        mounting__in=mountings, rule=OWN_READING, document__message__endswith=".not-entered"
    )
    return set(missing.values_list("mounting", flat=True))


def worked_on(person: Person, mountings: Sequence[uuid.UUID]) -> set[uuid.UUID]:
    """Of these mountings those where this person recorded work or tapped: left out of one's own list. Two
    queries; entries are read only of somebody who ever held the right to work."""
    ever = RoleGrant.objects.filter(person=person, role__in=roles_with(Action.RECORD))
    if not mountings or not ever.exists():
        return set()
    own = str(person.id).encode()
    entries = Entry.objects.filter(subject__in=mountings, kind__in=("capture", "tap"))
    mine = set()
    for subject, payload in entries.values_list("subject", "payload").iterator(chunk_size=500):
        if subject not in mine and own in bytes(payload):
            content = parse_canonical(bytes(payload))
            check = content["body"]["said"].get("role") == "check"
            if content["author"]["person"] == str(person.id) and not check:
                mine.add(subject)
    return mine
