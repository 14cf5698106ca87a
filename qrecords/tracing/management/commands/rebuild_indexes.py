"""`manage.py rebuild_indexes`: exit 0 everything was what the entries say, 1 something differed."""

import sys
from typing import Any

from django.core.management.base import BaseCommand

from qrecords.tracing.agreement import differences
from qrecords.tracing.rebuilding import rebuild

SAME, DIFFERED = 0, 1


class Command(BaseCommand):
    help = (
        "Make readings, uses, findings, states and the stored tree again from the entries, and compare; "
        "check that register rows say what their entries say. Exit 0 same, 1 differed (indexes are mended "
        "then, registers are only named)."
    )
    requires_system_checks = []

    def handle(self, *_: Any, **__: Any) -> None:
        rebuilt = rebuild()
        for name, count in sorted(rebuilt.differing.items()):
            if count:
                self.stdout.write(f"Differed: {count} {name}. Made again from the entries.")
        for what in rebuilt.unreadable:
            self.stdout.write(f"Cannot be judged: {what}.")
        named = 0
        for difference in differences():
            named += 1
            self.stdout.write(f"Differs: {difference}.")
        self.stdout.write(f"{rebuilt.mountings} mountings, {rebuilt.entries} entries.")
        if not rebuilt.same or named:
            sys.exit(DIFFERED)
        self.stdout.write("Every index and register says what the entries say.")
        sys.exit(SAME)
