"""`manage.py install`: what an installation needs once, besides its tables."""

from argparse import ArgumentParser
from typing import Any
from uuid import UUID

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from qrecords.ledger import queries
from qrecords.ledger.errors import KeyLostError
from qrecords.ledger.opening import open_log


class Command(BaseCommand):
    help = "Make the keys and the first entry of the log. Run after migrate; again, it changes nothing."
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--site", type=UUID, default=None, help="identifier of the first site (default: new)"
        )

    def handle(self, *_: Any, site: UUID | None, **__: Any) -> None:
        try:
            made = open_log(site)
        except KeyLostError as lost:
            raise CommandError(f"Put the key back; nothing was made in its place: {lost}.") from None
        for path in made:
            self.stdout.write(f"Made {path}. Keep a copy where the database is not.")
        self.stdout.write(f"The log {settings.LOG_NAME} is open, site {queries.home_site()}.")
