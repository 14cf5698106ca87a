"""`manage.py import_sheet KIND FILE --site CODE`: what each row would do; with --write it is done."""

import getpass
import os
import sys
from argparse import ArgumentParser
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from qrecords.ledger.identifiers import new_id
from qrecords.people.acting import PROVED, Acting
from qrecords.people.errors import PeopleError
from qrecords.people.models import Person
from qrecords.workshop.errors import WorkshopError
from qrecords.workshop.importing.fates import Fate
from qrecords.workshop.importing.taking_in import KINDS, Told, dry_run, take_in
from qrecords.workshop.importing.text import MOST_BYTES
from qrecords.workshop.models import Site


class Command(BaseCommand):
    help = (
        "Tell what each row of a sheet would do. With --write and the file's SHA-256 what is new is written."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("kind", choices=[name.replace(" ", "-") for name in KINDS])
        parser.add_argument("file", type=Path)
        parser.add_argument("--site", required=True, metavar="CODE")
        parser.add_argument("--write", metavar="SHA256", help="the hash that the dry run told")
        parser.add_argument("--as", dest="sign_in", metavar="NAME", help="who takes it in; asked to prove it")

    def handle(self, *_: Any, kind: str, file: Path, site: str, **how: Any) -> None:
        here = Site.objects.filter(code=site).first()
        if here is None:
            raise CommandError(f"no site {site}")
        of = KINDS[kind.replace("-", " ")]
        with file.open("rb") as sheet:
            raw = sheet.read(MOST_BYTES + 1)
        try:
            if not how["write"]:
                self._say(dry_run(of, raw, here.id))
                return
            acting = _acting(how["sign_in"])
            self._say(
                take_in(
                    acting=acting, kind=of, site=here.id, import_id=new_id(), raw=raw, sha256=how["write"]
                )
            )
        except (WorkshopError, PeopleError) as error:
            raise CommandError(str(error)) from error

    def _say(self, told: Told) -> None:
        for fate in told.fates:
            self.stdout.write(f"line {fate.row.line}: {fate.what}{_why(fate)}")
        self.stdout.write(", ".join(f"{n} {what}" for what, n in told.counts.items()))
        self.stdout.write(f"SHA-256 {told.sheet.sha256}")


def _why(fate: Fate) -> str:
    said = [f"{w.field} {w.value!r} {w.unit} allowed: {w.allowed}".replace("  ", " ") for w in fate.wrong]
    said += [f"{d.field}: {d.here!r} here, {d.file!r} in the file" for d in fate.differs]
    said += [f"as line {fate.first}"] if fate.first else []
    return f" ({'; '.join(said)})" if said else ""


def _acting(sign_in: str | None) -> Acting:
    """The person who takes it in, by the own password."""
    person = Person.objects.filter(sign_in=sign_in or "").first()
    if person is None:
        raise CommandError("say who takes it in: --as SIGN_IN_NAME")
    given = os.environ.get("QRECORDS_PASSWORD")
    if given is None:
        if not sys.stdin.isatty():
            raise CommandError("no terminal to ask for the password: set QRECORDS_PASSWORD")
        given = getpass.getpass(f"Password of {person.sign_in}: ")
    if not person.is_active or not person.check_password(given):
        raise CommandError("this is not the password of that person")
    return Acting(author=person, now=datetime.now(UTC), identity=PROVED)
