"""`manage.py judge CASE.json`: findings and computed values of a case, without a database.

Exit 0 judged, whatever the findings say; 2 the case cannot be read; 1 the answer cannot be written.
"""

import json
import os
import sys
from argparse import ArgumentParser
from io import TextIOWrapper
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from qrecords.ledger.envelope import APP_VERSION
from qrecords.steps.interchange.answer import fault_document, judgement
from qrecords.steps.interchange.answer_form import answer_schema
from qrecords.steps.interchange.faults import CaseFaultsError, Fault
from qrecords.steps.interchange.form import case_schema
from qrecords.steps.interchange.json_text import MOST_BYTES
from qrecords.steps.interchange.reading import read_case

NOT_WRITTEN, CANNOT_READ = 1, 2
SCHEMAS = {"case": case_schema, "answer": answer_schema}


class Command(BaseCommand):
    help = (
        "Judge a mounting case (docs/mounting-case.md) and print findings and computed values as JSON. Opens "
        "no database. Exit 0 judged, whatever the findings say; 2 the case cannot be read."
    )
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("case", nargs="?", metavar="CASE.json", help="the case; - is standard input")
        parser.add_argument("--schema", choices=sorted(SCHEMAS), help="print a JSON Schema and judge nothing")

    def handle(self, *_: Any, case: str | None, schema: str | None, **__: Any) -> None:
        if schema is not None:
            self._print(SCHEMAS[schema]())
            return
        try:
            read = read_case(_bytes(case))
            answer = judgement(read, APP_VERSION)
        except CaseFaultsError as error:
            self._cannot_read(error)
        for doubt in read.doubts:
            self.stderr.write(f"Look at {doubt}")
        self._print(answer)

    def _print(self, document: dict[str, Any]) -> None:
        """JSON is UTF-8 (RFC 8259), whatever the terminal would have; who reads it may go before its end."""
        if isinstance(sys.stdout, TextIOWrapper):
            sys.stdout.reconfigure(encoding="utf-8")
        try:
            self.stdout.write(json.dumps(document, ensure_ascii=False, indent=2))
            self.stdout.flush()
        except OSError as error:
            self.stderr.write(f"The answer cannot be written: {error.strerror}")
            os._exit(NOT_WRITTEN)  # nothing is left to be flushed

    def _cannot_read(self, error: CaseFaultsError) -> None:
        faults = [fault_document(fault) for fault in error.faults]
        self._print({"form": "faults of a mounting case", "version": 1, "faults": faults, "more": error.more})
        for fault in error.faults:
            self.stderr.write(f"Cannot read {fault}")
        if error.more:
            self.stderr.write("There are more faults; mend these first.")
        sys.exit(CANNOT_READ)


def _bytes(case: str | None) -> bytes:
    """The whole text of a case, or one byte more than is read."""
    if case is None:
        raise _fault("names no case", "CASE.json, or - for standard input")
    if case == "-":
        return sys.stdin.buffer.read(MOST_BYTES + 1)
    try:
        with Path(case).open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise _fault(f"{case[:200]}: {why}", "a file that can be read") from None


def _fault(why: str, allowed: str) -> CaseFaultsError:
    return CaseFaultsError([Fault("", "file", "", "", allowed, why)])
