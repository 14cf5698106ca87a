"""`manage.py first_administrator`: the person and the site that an installation begins with. Works once."""

import getpass
import os
import sys
from argparse import ArgumentParser
from datetime import UTC, datetime
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from qrecords.ledger.append import atomic
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import home_site
from qrecords.people.acting import PROVED, Acting
from qrecords.people.actions import enrol_first_administrator
from qrecords.people.errors import PeopleError
from qrecords.people.passwords import seal
from qrecords.workshop.actions import open_site
from qrecords.workshop.errors import WorkshopError


class Command(BaseCommand):
    help = "Enrol the first administrator and open his site. The password is asked, or QRECORDS_PASSWORD."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("sign_in", help="the name to sign in with")
        parser.add_argument("name", help="the name as printed")
        parser.add_argument("--site", required=True, help="the workshop's name")
        parser.add_argument("--code", required=True, help="its code, up to 8 characters")

    def handle(self, *_: Any, sign_in: str, name: str, site: str, code: str, **__: Any) -> None:
        here = home_site()
        if here is None:
            raise CommandError("The log is not open yet: run `manage.py install` first.")
        now = datetime.now(UTC)
        try:
            password = seal(_password())
            with atomic():
                person = enrol_first_administrator(
                    now=now, site=here, person_id=new_id(), sign_in=sign_in, name=name, password=password
                )
                acting = Acting(author=person, now=now, identity=PROVED)
                open_site(acting=acting, site_id=here, code=code, name=site, zone=settings.TIME_ZONE)
        except (PeopleError, WorkshopError) as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"{name} administers {site}. Further people are enrolled on the page People.")


def _password() -> str:
    given = os.environ.get("QRECORDS_PASSWORD")
    if given is not None:
        return given
    if not sys.stdin.isatty():
        raise CommandError("no terminal to ask for the password: set QRECORDS_PASSWORD")
    return getpass.getpass("Password, at least 10 characters: ")
