"""The jobs as one Celery task; used only where a broker is set."""

from celery import shared_task

from qrecords.outbox import jobs, waking


@shared_task(name=waking.DRAIN_TASK, ignore_result=True)  # type: ignore[untyped-decorator]  # no types there
def drain() -> int:
    """Do what is due. Sent after a commit, and by the clock for whatever no message came for."""
    return jobs.drain()
