"""One table says which HTTP status a refusal has; pages and API read it, nobody keeps another."""

import re
from pathlib import Path

from qrecords.api.problems import document_of
from qrecords.people.errors import ProveAgainError
from qrecords.people.permissions import Action
from qrecords.refusals import ASKED_BACK, STATUS, status_of

SOURCE = Path(__file__).parent.parent / "qrecords"


def test_no_other_file_gives_statuses_to_codes() -> None:
    rows = re.compile(f'"({"|".join(STATUS)})": [1-5][0-9][0-9]')
    holding = [file.name for file in SOURCE.rglob("*.py") if rows.search(file.read_text(encoding="utf-8"))]
    assert holding == ["refusals.py"]


def test_the_api_answers_with_the_status_of_the_table() -> None:
    error = ProveAgainError(Action.SIGN)
    assert document_of(error)["status"] == status_of(error) == STATUS["prove-again"]


def test_a_code_without_a_row_is_asked_back() -> None:
    assert status_of(ValueError()) == ASKED_BACK
