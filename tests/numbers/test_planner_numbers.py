"""Every number field of the planner, at its page and in the API: whatever is typed there, the answer names
the field, what was typed and the range, stays short, and keeps nothing."""

import html
import json
import re

import pytest
from django.test import Client

from qrecords.ledger.models import Entry
from qrecords.steps.planner.asked import NUMBERS
from qrecords.web.planner.lines_said import label as label_of_readings
from qrecords.web.planner.said import label
from qrecords.wording.figures import MINUS
from tests.api.caller import Caller
from tests.cast import make_workshop
from tests.numbers.planned import OF_READINGS, PLANNED, Planned
from tests.numbers.spoilt import NO_NUMBER, SHOWN
from tests.web.fitter_hand import signed_in

pytestmark = [pytest.mark.django_db, pytest.mark.asked_back]
LONGEST_ANSWER, LONGEST_PAGE = 3_000, 60_000
SOUND = {
    "bearing": "6213", "shaft_class": "m5", "ceiling": "110", "ceiling_source": "data sheet 4",
    "mass_from": "measured", "raceway_from": "drawing",
}  # fmt: skip
BY_SIZES = {"bearing": "", "nominal": "65", "outside": "120", "width": "23"}
SPOILT = [(name, typed) for name, row in PLANNED.items() for typed in (*NO_NUMBER.values(), *row.outside)]
NAMED = [f"{name} {typed[:12]}" for name, typed in SPOILT]


def question(name: str, typed: str) -> dict[str, str]:
    """Sound but for one number; the others of a pair are left out."""
    whole = {**SOUND, **(BY_SIZES if name in BY_SIZES else {})}
    return {**whole, name: typed}


def test_every_number_has_a_row() -> None:
    assert set(PLANNED) == set(NUMBERS)


@pytest.mark.parametrize("name", PLANNED)
def test_a_sound_number_is_answered(name: str) -> None:
    answered = Caller.by_session(make_workshop(), "fitter").post(
        "plan/", **question(name, PLANNED[name].sound)
    )
    assert answered.status == 200, answered


@pytest.mark.parametrize(("name", "typed"), SPOILT, ids=NAMED)
def test_the_api_asks_a_spoilt_number_back(name: str, typed: str) -> None:
    answered = Caller.by_session(make_workshop(), "fitter").post("plan/", **question(name, typed))
    assert (answered.status, answered.code) == (422, "fields")
    told = {each["field"]: each for each in answered.document["fields"]}[name]
    assert told["typed"] == typed[: len(told["typed"])] and len(told["typed"]) >= min(len(typed), SHOWN)
    assert told["allowed"] == PLANNED[name].allowed
    assert len(json.dumps(answered.document)) < LONGEST_ANSWER
    assert not Entry.objects.filter(kind="mounting").exists()


@pytest.mark.parametrize(("name", "typed"), [each for each in SPOILT if len(each[1]) < LONGEST_ANSWER])
def test_the_page_asks_a_spoilt_number_back(name: str, typed: str) -> None:
    client: Client = signed_in(make_workshop(), "fitter")
    asked_back_by_the_page(client, "/planner/", question(name, typed), name, label(name), PLANNED[name])


@pytest.mark.parametrize(("path", "name"), [(path, name) for path, of in OF_READINGS.items() for name in of])
def test_the_pages_of_readings_ask_a_spoilt_number_back(path: str, name: str) -> None:
    client, row = signed_in(make_workshop(), "fitter"), OF_READINGS[path][name]
    lines = "1 2\n1 3" if "series" in path else "A 1 2 3\nA 2 5 7\nB 1 2 4\nB 2 6 6"
    assert client.get(path, {"readings": lines, name: row.sound}).status_code == 200
    for typed in (*NO_NUMBER.values(), *row.outside):
        if len(typed) < LONGEST_ANSWER:
            spoilt = {"readings": lines, name: typed}
            asked_back_by_the_page(client, path, spoilt, name, label_of_readings(name), row)


def asked_back_by_the_page(
    client: Client, path: str, question: dict[str, str], name: str, label: str, row: Planned
) -> None:
    answer = client.get(path, question)
    page = html.unescape(answer.content.decode())
    told = re.sub("<[^>]*>", "", re.findall(rf'<p id="a-{name}">(.*?)</p>', page)[0])
    allowed = row.allowed.replace("um", "µm").replace("-", MINUS)
    assert answer.status_code == 422
    assert told.startswith(label) and question[name][:SHOWN] in told and allowed in told
    assert f'value="{question[name]}"' in page
    assert len(page) < LONGEST_PAGE
