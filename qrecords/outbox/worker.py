"""The worker of the embedded default: one thread of the serving process."""

import logging
import threading

from django.db import close_old_connections, connections

from qrecords.outbox import jobs, waking

SWEEP_EVERY_S = 1.0

log = logging.getLogger(__name__)


class Worker:
    """Sweeps when woken and every second; `stop` lets the job in hand finish."""

    def __init__(self) -> None:
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=self._run, name="outbox-worker", daemon=True)

    def start(self) -> None:
        self._thread.start()

    def stop(self, patience_s: float = 10.0) -> None:
        self._stopping.set()
        waking.work_waits.set()
        self._thread.join(patience_s)

    def _run(self) -> None:
        while not self._stopping.is_set():
            waking.work_waits.wait(SWEEP_EVERY_S)
            waking.work_waits.clear()
            self._sweep()
        connections.close_all()

    def _sweep(self) -> None:
        close_old_connections()
        try:
            while not self._stopping.is_set() and jobs.drain(at_most=1):
                pass
        except Exception:
            # The database may be away for a moment; the next sweep tries again.
            log.exception("the sweep of jobs failed")
