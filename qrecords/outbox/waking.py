"""Telling the worker that there is something to do. Losing a wake-up costs time, never a job.

Without a broker the worker is a thread of this process. With one, a message goes to it from a thread of its
own: a broker that is down or does not answer must neither delay nor fail the request that enqueued the job.
"""

import logging
import threading

from django.conf import settings

log = logging.getLogger(__name__)

DRAIN_TASK = "outbox.drain"

work_waits = threading.Event()
"""Set when this process has work for its own worker thread."""


def wake() -> None:
    """Called after the commit. Returns at once."""
    if settings.BROKER_URL:
        _messenger.send()
    else:
        work_waits.set()


class _Messenger:
    """Sends wake-ups to the broker, one at a time; those that pile up meanwhile become one."""

    def __init__(self) -> None:
        self._wanted = threading.Event()
        self._starting = threading.Lock()
        self._thread: threading.Thread | None = None

    def send(self) -> None:
        self._wanted.set()
        with self._starting:
            # Started here and not at import, because a thread does not survive the fork of a server's worker.
            if self._thread is None or not self._thread.is_alive():
                self._thread = threading.Thread(target=self._run, name="outbox-messenger", daemon=True)
                self._thread.start()

    def _run(self) -> None:
        while True:
            self._wanted.wait()
            self._wanted.clear()
            try:
                _publish()
            except Exception as error:
                log.warning("the broker did not take a wake-up (%s); the sweep will find the job", error)


def _publish() -> None:
    from qrecords.celery import app

    # A connection of its own for each message: a pooled one may have died with the broker's last restart.
    with app.connection_for_write(settings.BROKER_URL) as connection:
        app.send_task(DRAIN_TASK, connection=connection, retry=False, ignore_result=True)


_messenger = _Messenger()
