"""Every number field of the pages: whatever is typed there, the answer names the field, what was typed, the
unit and the range; what was typed stays; nothing is recorded of a form that is asked back."""

import html
import re
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import pytest
from django.db import transaction
from django.http import HttpResponse

from qrecords.ledger.models import Entry
from tests.cast import make_workshop
from tests.numbers.planned import OF_READINGS, PLANNED
from tests.numbers.spoilt import FAULTS, NO_NUMBER, SHOWN, SLIPS, spoilt
from tests.numbers.web_fields import DOORS, Door, Row, Scene, found, scene

pytestmark = [pytest.mark.django_db, pytest.mark.asked_back]
EVERY = [(name, field) for name, door in DOORS.items() for field in door.rows]
LONGEST_PAGE = 60_000
"""In characters: a page that asks about a hundred thousand digits is shorter than they are."""


@pytest.fixture
def at(evidence_dir: Path) -> Scene:
    return scene(make_workshop())


def test_every_number_field_that_is_found_by_walking_has_a_row(at: Scene) -> None:
    """Those of the planner and the pages beside it, which take no form, are walked in their own file."""
    elsewhere = {"power_w"}  # of a heater alone: test_log_numbers.py
    without_a_form = {*PLANNED, *(name for of in OF_READINGS.values() for name in of)}
    assert found(at) == {field for door in DOORS.values() for field in door.rows} | without_a_form | elsewhere


def said_of(door: Door, field: str, answer: HttpResponse) -> str:
    """What the page says of an input, as a reader sees it."""
    row = door.rows[field]
    told = []
    for name in (row.name or field, row.at):
        found_ = re.search(door.message.format(name=re.escape(name)), answer.content.decode(), re.S)
        told += [html.unescape(re.sub("<[^>]*>", " ", found_[1]))] if name and found_ else []
    return " ".join(told)


def fault_of(door: Door, field: str, fault: str, at: Scene, sound: Mapping[str, str]) -> str:
    """What is wrong with the answer to one spoilt number; '' if nothing is."""
    row, typed = door.rows[field], spoilt(door.rows[field].sound, fault)
    before = Entry.objects.count()
    answer = door.send(at, sound, field, typed)
    said, recorded = said_of(door, field, answer), Entry.objects.count() - before
    if answer.status_code == 302:
        may = fault in row.taken or fault == "empty"
        return "" if may else f"taken: {typed[:SHOWN]}"
    if fault in row.taken:
        return "" if answer.status_code == 409 else f"asked although {row.taken[fault]}: {said}"
    page = answer.content.decode()
    checks = {
        f"status {answer.status_code}": answer.status_code == 422,
        f"{said!r} does not name {row.label!r}": row.label in said,
        f"{said!r} does not give the value back": given_back(typed, fault, said, row),
        f"{said!r} does not say the range": row.allowed in said
        or (fault in SLIPS and row.likely != "" and any(each in said for each in row.likely.split("|"))),
        f"{recorded} recorded": recorded == 0,
        "what was typed beside it is gone": all(f'value="{o.sound}"' in page for o in _others(door, field)),
        f"{len(page)} long": len(page) < LONGEST_PAGE,
    }
    return "; ".join(words for words, holds in checks.items() if not holds)


def given_back(typed: str, fault: str, said: str, row: Row) -> bool:
    """The value as typed, or the same number; of sizes heard as deviations the page says the whole size."""
    if fault in NO_NUMBER or fault == "empty":
        return typed[:SHOWN] in said
    numbers = re.findall(r"-?[0-9]+(?:[.][0-9]+)?", said.replace("−", "-"))
    return Decimal(typed) in [Decimal(number) for number in numbers] or "is above the highest" in row.likely


def _others(door: Door, field: str) -> list[Row]:
    return [row for name, row in door.rows.items() if name != field]


@pytest.mark.parametrize(("name", "field"), EVERY, ids=[" ".join(each) for each in EVERY])
def test_a_spoilt_number_is_asked_back_in_words_or_may_be_true(at: Scene, name: str, field: str) -> None:
    door, faults = DOORS[name], {}
    sound = door.sound(at)
    for fault in FAULTS:
        if fault.startswith("°F") and "°C" not in door.rows[field].allowed:
            continue
        here = transaction.savepoint()
        if wrong := fault_of(door, field, fault, at, sound):
            faults[fault] = wrong
        transaction.savepoint_rollback(here)
    assert faults == {}
