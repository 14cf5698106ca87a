"""A night of the cast: the second fitter stands in for the inspector."""

from datetime import date
from decimal import Decimal

from qrecords.ledger.identifiers import new_id
from qrecords.people import actions as people
from qrecords.people.permissions import Role
from qrecords.signoff import actions as signoff
from qrecords.steps.tasks import STAND_IN
from tests.cast import SEEN_BEFORE_HEAT, SEEN_COLD, Job, Workshop, make_workshop, start

WHY = "night shift, nobody on call"


def stand_in_for(shop: Workshop, who: str) -> None:
    """Role and competence to stand in."""
    people.grant_role(
        acting=shop.proved("administrator"), site=shop.site, grant_id=new_id(), person=shop.people[who],
        role=Role.STAND_IN,
    )  # fmt: skip
    people.assess(
        acting=shop.acting("quality"), site=shop.site, competence_id=new_id(), person=shop.people[who],
        task=STAND_IN, basis="ten inspections beside an inspector", assessor=shop.people["engineer"],
        from_mm=Decimal(10), to_mm=Decimal(400), valid_from=date(2026, 3, 1), valid_to=date(2028, 3, 1),
    )  # fmt: skip


def night() -> Job:
    """Measured; the second fitter may stand in."""
    job = start(make_workshop())
    stand_in_for(job.shop, "second_fitter")
    job.receive()
    job.measure()
    job.bore()
    return job


def release(job: Job, hold: str, who: str = "second_fitter", alone: str = WHY) -> str:
    released = signoff.release(
        acting=job.shop.acting(who), mounting=job.mounting, entry_id=new_id(), hold=hold, shown=job.shown(),
        alone=alone,
    )  # fmt: skip
    return job.leaf(released)


def to_sign() -> Job:
    """Ready for inspection; who stands in read the ring and released both holds."""
    job = night()
    job.own_reading("second_fitter")
    job.photograph(*SEEN_BEFORE_HEAT)
    job.heat(release=release(job, "fit"))
    job.check_cold()
    release(job, "cold")
    job.close()
    job.photograph(*SEEN_COLD)
    job.ready()
    return job


def stood_in() -> Job:
    """The same, signed by who stood in."""
    job = to_sign()
    signoff.sign(
        acting=job.shop.proved("second_fitter"), mounting=job.mounting, entry_id=new_id(), shown=job.shown(),
        alone=WHY,
    )  # fmt: skip
    return job
