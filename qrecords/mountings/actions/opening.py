"""Opening a mounting: one bearing, one journal, one procedure, pinned."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.mountings.errors import BarredBearingError
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting, NumberSeries
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.steps.transitions import State
from qrecords.workshop.models import Bearing, Journal, Rebuild
from qrecords.workshop.queries import procedure_at, requirement_at


def _next_number(site: uuid.UUID, year: int) -> str:
    series, _ = NumberSeries.objects.select_for_update().get_or_create(site=site, year=year)
    series.last += 1
    series.save(update_fields=["last"])
    return f"{year % 100:02d}-{series.last:04d}"


@atomic()
def open_mounting(
    *, acting: Acting, mounting_id: uuid.UUID, journal: Journal, bearing: Bearing, rebuild: Rebuild
) -> Mounting:
    """Begin one mounting. The requirement and the procedure in force are pinned; a second mounting of a
    journal in the same rebuild is linked to the one before. Raises BarredBearingError for a scrapped bearing.
    """
    require(acting, Action.OPEN, journal.site)
    known = Mounting.objects.filter(id=mounting_id).first()
    if known is not None:
        return known
    scrapped = Mounting.objects.filter(bearing=bearing, state=State.SCRAPPED.value).first()
    if scrapped is not None:
        raise BarredBearingError(scrapped.number)
    procedure = procedure_at(journal.site, acting.now)
    requirement = requirement_at(journal.id, acting.now)
    earlier = Mounting.objects.filter(journal=journal, rebuild=rebuild).order_by("-opened_at", "-id").first()
    number = _next_number(journal.site, acting.act_time.year)
    said = {
        "journal": str(journal.id),
        "bearing": str(bearing.id),
        "rebuild": str(rebuild.id),
        "attempt_of": str(earlier.id) if earlier else "",
    }
    seen = {
        "number": number,
        "requirement": requirement.document,
        "requirement_entry": str(requirement.id),
        "bearing": {
            "designation": bearing.designation,
            "serial": bearing.serial,
            "lot": bearing.lot,
            "date_code": bearing.date_code,
        },
    }
    state(
        acting,
        "mounting",
        id=mounting_id,
        site=journal.site,
        mounting=mounting_id,
        said=said,
        seen=seen,
        procedure=procedure.digest,
    )
    mounting = Mounting.objects.create(
        id=mounting_id,
        site=journal.site,
        number=number,
        journal=journal,
        bearing=bearing,
        rebuild=rebuild,
        attempt_of=earlier,
        procedure_digest=procedure.digest,
        opened_at=acting.act_time,
        opened_by=acting.author.id,
    )
    judge(mounting)
    return mounting
