"""`manage.py serve`: the web server and, without a broker, the worker of jobs, in one process."""

import os
import socket
from argparse import ArgumentParser
from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.core.wsgi import get_wsgi_application
from django.db import connections
from gunicorn.app.base import BaseApplication

from qrecords.outbox.starting import REFUSAL, found_at_start
from qrecords.outbox.worker import Worker

THREADS = 8  # slow uploads hold a thread each; eight leave room for pages


class Command(BaseCommand):
    help = "Serve the program; PORT and --bind choose where. Jobs run here unless a broker is set."
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--bind", default="127.0.0.1", help="address to listen on (default: this machine only)"
        )
        parser.add_argument(
            "--port", type=int, default=None, help="default: PORT from the environment, else 8000"
        )

    def handle(self, *_: Any, bind: str, port: int | None, **__: Any) -> None:
        self._check()
        connections.close_all()  # a connection must not be shared across the fork
        address = f"{bind}:{_free(bind, port or _port())}"
        self.stdout.write(f"Serving at http://{address.replace('127.0.0.1', 'localhost')}/ until Ctrl-C.")
        _Server(address).run()

    def _check(self) -> None:
        lines, forbidden = found_at_start()
        for line in lines:
            self.stderr.write(line)
        if forbidden:
            raise CommandError(REFUSAL)


def _port() -> int:
    text = os.environ.get("PORT", "8000")
    if not text.isdigit() or not 0 < int(text) < 65_536:
        raise CommandError(f"PORT is {text!r}: it must be a number from 1 to 65535")
    return int(text)


def _free(bind: str, port: int) -> int:
    """The port, if nobody listens there; said in one line before the server would try again and again."""
    with socket.socket(socket.AF_INET6 if ":" in bind else socket.AF_INET) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((bind.strip("[]"), port))
        except OSError as error:
            raise CommandError(
                f"Port {port} cannot be had ({error.strerror}): choose another with PORT"
            ) from None
    return port


class _Server(BaseApplication):  # type: ignore[misc]  # gunicorn publishes no types
    def __init__(self, address: str) -> None:
        self._address = address
        self._worker: Worker | None = None
        super().__init__()

    def load_config(self) -> None:
        chosen = {
            "bind": self._address,
            "workers": 1,
            "threads": THREADS,
            # Nobody steers it; the socket would land in somebody's home.
            "control_socket_disable": True,
            "loglevel": "warning",
            "worker_class": "gthread",
            "post_worker_init": self._start_jobs,
            "worker_exit": self._stop_jobs,
        }
        for name, value in chosen.items():
            self.cfg.set(name, value)

    def load(self) -> Callable[..., Any]:
        return get_wsgi_application()

    def _start_jobs(self, _: object) -> None:
        if not settings.BROKER_URL:
            self._worker = Worker()
            self._worker.start()

    def _stop_jobs(self, _: object, __: object) -> None:
        if self._worker is not None:
            self._worker.stop()
