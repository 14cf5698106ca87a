"""`manage.py load_demo`: the demonstration, told through the actions people use; again, only the sign-ins."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from qrecords.demo.darkroom import Darkroom
from qrecords.demo.hall import CODE, MEMBERS, NAME, PASSWORD, open_hall
from qrecords.demo.scenarios import STORIES, pictures
from qrecords.ledger.append import atomic
from qrecords.ledger.queries import home_site
from qrecords.outbox.jobs import drain
from qrecords.people.models import Person
from qrecords.people.permissions import Role
from qrecords.workshop.models import Site


class Command(BaseCommand):
    help = "Load the demonstration into an empty installation, and print who can sign in."
    requires_system_checks = []

    def handle(self, *_: Any, **__: Any) -> None:
        if not Site.objects.filter(code=CODE, name=NAME).exists():
            self._load()
        drain()
        self._say_who()

    def _load(self) -> None:
        site = home_site()
        if site is None:
            raise CommandError("The log is not open yet: run `manage.py install` first.")
        if Person.objects.exists():
            raise CommandError(
                "People are known here already: the demonstration is for an empty installation."
            )
        with Darkroom() as darkroom, atomic():
            darkroom.expect(pictures())
            hall = open_hall(site, darkroom)
            for tell in STORIES:
                tell(hall)

    def _say_who(self) -> None:
        widths = [max(len(row[column]) for row in ROWS) for column in range(3)]
        self.stdout.write(f"\n{NAME}. Everybody signs in with the password {PASSWORD}\n\n")
        for row in ROWS:
            cells = [text.ljust(width) for text, width in zip(row, widths, strict=False)]
            self.stdout.write("  ".join((*cells, row[3])).rstrip())
        self.stdout.write("")


ROWS = (
    ("name", "sign-in", "role", "where to begin"),
    *((member.name, member.sign_in, member.role.value, member.begins) for member in MEMBERS),
    *((m.name, m.sign_in, Role.STAND_IN.value, m.stands_in) for m in MEMBERS if m.stands_in),
)
