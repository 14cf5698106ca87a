"""Checks against something outside the project, one file per source, the source named at its top."""

import csv
import json
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"


def lines(name: str) -> list[dict[str, str]]:
    """The lines of a check table."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def example(identity: str) -> dict[str, Any]:
    """One worked example, by its number."""
    cases = json.loads((DATA / "engineering_examples.json").read_text(encoding="utf-8"))["cases"]
    return next(case for case in cases if case["id"] == identity)
