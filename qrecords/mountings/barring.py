"""Which bearing may go on: neither one that was scrapped, nor one that another mounting is about as well.

Locks are taken in one order everywhere, and each act takes those it needs: Machine, Bearing, Mounting,
NumberSeries; the head of the ledger comes last, when the outermost transaction ends (`ledger.append`).
"""

import uuid

from django.db.models import Q, QuerySet

from qrecords.mountings.errors import BarredBearingError, BearingElsewhereError, BearingStateError
from qrecords.mountings.models import BearingEvent, FindingRow, Mounting
from qrecords.steps.bearing_life import Event, Where
from qrecords.steps.findings import Verdict
from qrecords.steps.transitions import CLOSED, State
from qrecords.workshop.models import Bearing, Journal, Rebuild


def lock_bearing(bearing: uuid.UUID) -> None:
    """One act after the other about this bearing, in whichever mounting: what its mountings say stands still
    until the transaction ends."""
    Bearing.objects.select_for_update().get(id=bearing)


def lock_with_bearing(mounting: Mounting) -> Mounting:
    """The mounting as it stands, under the locks that an act of authority takes."""
    lock_bearing(mounting.bearing_id)
    return Mounting.objects.select_for_update().get(id=mounting.id)


def refuse_barred(mounting: Mounting) -> None:
    """For an act of authority: BarredBearingError where the bearing was scrapped in another mounting,
    BearingStateError where it is set aside, BearingElsewhereError where another that is not closed is about
    it too. Under the lock of the bearing. An amendment says what was, whatever became of it since."""
    if mounting.amendments:
        return
    _refuse_by_its_life(mounting.bearing_id)
    _refuse(Mounting.objects.filter(bearing=mounting.bearing_id).exclude(id=mounting.id))


def _refuse_by_its_life(bearing: uuid.UUID) -> None:
    """BarredBearingError for a bearing that was scrapped after it came off; BearingStateError for one that is
    set aside: first a person with authority ends the quarantine. One query."""
    told = (Event.SCRAPPED, Event.QUARANTINED, Event.CLEARED)
    rows = BearingEvent.objects.filter(bearing=bearing, what__in=told).order_by("at", "id")
    events = list(rows.values_list("what", flat=True))
    if Event.SCRAPPED in events:
        raise BarredBearingError("")
    if events and events[-1] == Event.QUARANTINED:
        raise BearingStateError("mounted", Where.QUARANTINED.value, "")


def refuse_opening(bearing: Bearing, journal: Journal, rebuild: Rebuild) -> None:
    """The same for a new mounting. A ring that came off and goes onto the same journal again is a fact: its
    second attempt is begun, and waits with every act of authority until the first is closed."""
    _refuse_by_its_life(bearing.id)
    others = Mounting.objects.filter(bearing=bearing)
    _refuse(others.exclude(Q(journal=journal, rebuild=rebuild) & ~Q(state=State.SCRAPPED.value)))


def fell(bearing: uuid.UUID) -> bool:
    """Some record says that this bearing was dropped; one query."""
    fallen = FindingRow.objects.filter(mounting__bearing=bearing, rule="not-dropped")
    return fallen.filter(verdict=Verdict.NONCONFORMING.value).exists()


def _refuse(others: QuerySet[Mounting]) -> None:
    others = others.order_by("opened_at", "id")
    scrapped = others.filter(state=State.SCRAPPED.value).first()
    if scrapped is not None:
        raise BarredBearingError(scrapped.number)
    worked_on = others.exclude(state__in=[state.value for state in CLOSED])
    live = worked_on.filter(amendments=0).first()
    if live is not None:
        raise BearingElsewhereError(live.number)
