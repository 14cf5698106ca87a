"""The numbers of a heating log and of the heater that wrote it: rated power, which column, which
heating. Whatever is typed or sent, the answer names field, value, unit and range, and nothing is recorded."""

import html
import json
import re
from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from tests.api.caller import Caller
from tests.api.test_logs import hand_in
from tests.cast import Job, make_workshop, start
from tests.numbers.spoilt import NO_NUMBER, SHOWN
from tests.web.test_registers_pages import GAUGE, client_of

pytestmark = [pytest.mark.django_db, pytest.mark.asked_back]
POWER = "50…500000 W"
SINCE = "2026-03-02T07:00:00Z"


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


@pytest.mark.parametrize("calibration", [False, True], ids=["new", "calibrated"])
@pytest.mark.parametrize("power", [*NO_NUMBER.values(), 0, -1200, 1_200_000])
def test_the_api_asks_a_power_back_that_no_heater_has(job: Job, calibration: bool, power: object) -> None:
    before = Entry.objects.count()
    body: dict[str, Any] = {
        "document": {"heater_kind": "induction", "power_w": power}, "valid_from": SINCE,
        "entry_id": str(new_id()),
    }  # fmt: skip
    where = f"equipment/{job.shop.gear['heater'].id}/calibrations/" if calibration else "equipment/"
    if not calibration:
        body |= {"kind": "heater", "mark": "HTR-9"}
    answered = Caller.by_session(job.shop, "quality").post(where, **body)
    told = json.dumps(answered.document, ensure_ascii=False)
    assert answered.status == 422, told
    assert "power_w" in told and POWER in told and str(power)[:SHOWN] in told
    assert len(told) < 3_000 and Entry.objects.count() == before


@pytest.mark.parametrize("power", [*NO_NUMBER.values(), "0", "-1200", "1200000"])
def test_the_page_asks_a_power_back_that_no_heater_has(job: Job, power: str) -> None:
    before = Entry.objects.count()
    heater = {**GAUGE, "kind": "heater", "heater_kind": "induction", "power_w": power}
    answer = client_of(job.shop, "quality").post(
        "/registers/equipment/new/", {**heater, "entry_id": str(new_id())}
    )
    page = html.unescape(answer.content.decode())
    said = " ".join(
        re.sub("<[^>]*>", " ", each) for each in re.findall(r'id="a-power_w"[^>]*>(.*?)</p>', page, re.S)
    )
    assert answer.status_code == 422
    assert POWER in said and power[:SHOWN].lstrip("-") in said
    assert len(page) < 60_000 and Entry.objects.count() == before


@pytest.mark.parametrize("number", [*NO_NUMBER.values(), 0, -1, 10**6])
@pytest.mark.parametrize("field", ["heating", "columns"])
def test_the_api_asks_back_which_heating_and_which_column_a_log_is_of(
    job: Job, field: str, number: object
) -> None:
    before = Entry.objects.count()
    said = {"heating": number} if field == "heating" else {"columns": {"inner ring": number}}
    answered = hand_in(Caller.by_session(job.shop, "fitter"), job, log=said)
    told = json.dumps(answered.document, ensure_ascii=False)
    assert answered.status == 400, told
    assert field in told and "…" in told and str(number)[:SHOWN] in told
    assert len(told) < 3_000 and Entry.objects.count() == before
