"""`manage.py verify_ledger`: exit 0 the log holds, 1 something differs, 2 that cannot be told."""

import sys
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand
from django.db import DatabaseError, connection

from qrecords.ledger import keys
from qrecords.ledger.errors import KeyMissingError
from qrecords.ledger.verifying import Report, verify

HOLDS, DIFFERS, CANNOT_TELL = 0, 1, 2


class Command(BaseCommand):
    help = (
        "Read the whole log and say whether it is what was recorded. Exit 0 holds, 1 differs, 2 cannot tell."
    )
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--key", metavar="HEX", help="the public key to trust (default: the one in KEYS_DIR)"
        )
        parser.add_argument("--without-signatures", action="store_true", help="faster, and proves less")

    def handle(self, *_: Any, key: str | None, without_signatures: bool, **__: Any) -> None:
        try:
            report = verify(connection, _trusted(key), signatures=not without_signatures)
        except DatabaseError as error:
            self.stdout.write(f"Cannot tell: the database does not answer ({error}).".replace("\n", " "))
            sys.exit(CANNOT_TELL)
        sys.exit(self._say(report))

    def _say(self, report: Report) -> int:
        for difference in report.differences:
            self.stdout.write(f"Differs: {difference}.")
        for untold in report.untold:
            self.stdout.write(f"Cannot tell: {untold}.")
        self.stdout.write(f"{report.size} entries, root {report.root.hex()}.")
        if report.differences:
            return DIFFERS
        if report.untold:
            return CANNOT_TELL
        self.stdout.write("The log holds.")
        return HOLDS


def _trusted(key: str | None) -> bytes | None:
    if key is not None:
        return bytes.fromhex(key)
    try:
        return keys.public_key()
    except KeyMissingError:
        return None
