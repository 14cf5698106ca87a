"""`manage.py export_everything FOLDER`: all that is kept, in open formats. Run again, it goes on."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from qrecords.tracing.everything.made import write_folder
from qrecords.workshop.models import Site


class Command(BaseCommand):
    help = "Write tables, entries and original files into a folder. Stopped in the middle, run it again."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path)
        parser.add_argument("--site", metavar="CODE", help="only what belongs to one site")

    def handle(self, *_: Any, folder: Path, site: str | None, **__: Any) -> None:
        sites = None
        if site is not None:
            found = Site.objects.filter(code=site).first()
            if found is None:
                raise CommandError(f"no site {site}; there are {', '.join(_codes())}")
            sites = [found.id]
        tally = write_folder(folder, sites)
        self.stdout.write(
            f"{len(tally.sums)} files in {folder}; {tally.kept} were there from an earlier run."
        )
        if tally.missing:
            self.stdout.write(f"{tally.missing} files that the record knows are not here: see not-here.csv.")


def _codes() -> list[str]:
    return list(Site.objects.order_by("code").values_list("code", flat=True))
