"""`manage.py verify_originals`: exit 0 every original is there and unchanged, 1 one is missing or differs."""

import hashlib
import sys
from typing import Any

from django.core.management.base import BaseCommand

from qrecords.evidence import storage
from qrecords.evidence.models import StoredFile


class Command(BaseCommand):
    help = "Read every original that a row names and compare it with its digest. Exit 1 if one is not right."
    requires_system_checks = []

    def handle(self, *_: Any, **__: Any) -> None:
        count, wrong = 0, 0
        for sha256 in StoredFile.objects.order_by("sha256").values_list("sha256", flat=True).iterator():
            count += 1
            fault = _fault(sha256)
            if fault:
                wrong += 1
                self.stdout.write(f"{sha256}: {fault}.")
        self.stdout.write(f"{count} originals, {wrong} not right.")
        sys.exit(1 if wrong else 0)


def _fault(sha256: str) -> str | None:
    try:
        with storage.original(sha256).open("rb") as file:
            found = hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        return f"cannot be read ({error.strerror})"
    return None if found == sha256 else f"has changed, its digest is now {found}"
