"""Rebuilds of the tests: some places of one machine, each as far as it is said."""

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.signoff.rebuild_actions import release_rebuild
from qrecords.signoff.rebuild_queries import shown_of_rebuild
from qrecords.steps.shown import Extent
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import Journal
from tests.cast import REQUIREMENT, Job, again, make_workshop, start


def signed_rebuild() -> Job:
    """One place, signed off: nothing left but the release."""
    job = start(make_workshop())
    job.whole()
    return job


def other_end(job: Job, position: str = "NDE") -> Job:
    """A second place of the same machine and order, opened."""
    return again(job.shop, job.machine, job.rebuild, position, REQUIREMENT)


def bare_place(job: Job, position: str = "middle") -> Journal:
    """A place of the machine that nobody works on."""
    return workshop.register_journal(
        acting=job.shop.acting("fitter"),
        journal_id=new_id(),
        machine=job.machine,
        shaft="1",
        position=position,
    )


def release(
    job: Job,
    who: str = "inspector",
    shown: Extent | None = None,
    left_out: dict[object, str] | None = None,
    entry_id: object = None,
    remark: str = "",
) -> Entry:
    return release_rebuild(
        acting=job.shop.proved(who),
        rebuild=job.rebuild,
        entry_id=entry_id or new_id(),  # type: ignore[arg-type]  # an id where the test names one
        shown=shown or shown_of_rebuild(job.rebuild),
        left_out=left_out or {},  # type: ignore[arg-type]  # by journal
        remark=remark,
    )
