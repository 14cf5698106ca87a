"""`manage.py grant_application ROLE`: run by the owner of the tables after each migration (PostgreSQL)."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import connection, transaction

from qrecords.ledger.grants import statements


class Command(BaseCommand):
    help = "Give a role the rights the program needs: never to change or remove what was recorded."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("role")

    def handle(self, *_: Any, role: str, verbosity: int, **__: Any) -> None:
        if connection.vendor != "postgresql":
            raise CommandError("Only PostgreSQL knows roles.")
        with transaction.atomic(), connection.cursor() as cursor:
            for statement in list(statements(connection, role)):
                cursor.execute(statement)
        if verbosity:
            self.stdout.write(f"{role} may do the program's work and change nothing that was recorded.")
