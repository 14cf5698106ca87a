"""Every number field of the planner, at its page and in the API: whatever is typed there, the answer names
the field, what was typed and the range, stays short, and keeps nothing."""

import html
import json
import re

import pytest
from django.test import Client

from qrecords.ledger.models import Entry
from qrecords.steps.planner.asked import NUMBERS
from qrecords.web.planner.said import label
from qrecords.wording.figures import MINUS
from tests.api.caller import Caller
from tests.cast import make_workshop
from tests.numbers.planned import PLANNED
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
    answer = client.get("/planner/", question(name, typed))
    page = html.unescape(answer.content.decode())
    told = re.sub("<[^>]*>", "", re.findall(rf'<p id="a-{name}">(.*?)</p>', page)[0])
    allowed = PLANNED[name].allowed.replace("um", "µm").replace("-", MINUS)
    assert answer.status_code == 422
    assert told.startswith(label(name)) and typed[:SHOWN] in told and allowed in told
    assert f'value="{typed}"' in page
    assert len(page) < LONGEST_PAGE
