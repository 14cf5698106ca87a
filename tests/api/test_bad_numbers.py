"""Text that yields no quantity, and slips of the keyboard: field, value, unit and range come back."""

from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from tests.api.caller import Answered, Caller, typed
from tests.cast import Job, Workshop, start

NO_QUANTITY = {
    "letters": "sixty",
    "empty": "",
    "comma and point": "60.009,5",
    "two points": "60.0.9",
    "NaN": "NaN",
    "infinity": "Infinity",
    "an exponent": "6e1",
    "a billion digits": "9" * 1_000_000,
    "another unit": "60 kg",
}
SLIPS = {
    "10 times": ("600.18", "mm", "60.018 mm"),
    "10 times less": ("6.0018", "mm", "60.018 mm"),
    "25.4 times": ("2.3629", "mm", "2.3629 in"),
    "1000 times": ("60018", "mm", "60018 um"),
    "negative": ("-60.018", "mm", "60.018 mm"),
}


@pytest.fixture
def job(shop: Workshop) -> Job:
    return start(shop)


def say(fitter: Caller, job: Job, **fields: Any) -> Answered:
    address = f"mountings/{job.mounting.id}/captures/measurement/"
    return fitter.post(address, entry_id=new_id(), fields=typed(**fields))


@pytest.mark.parametrize("text", NO_QUANTITY.values(), ids=NO_QUANTITY)
def test_what_is_no_quantity_is_asked_back_and_nothing_is_recorded(
    fitter: Caller, job: Job, text: str
) -> None:
    before = Entry.objects.count()
    answered = say(fitter, job, journal__A__0=(text, "mm"), journal__A__60=("60.017", "mm"))
    assert (answered.status, answered.code) == (422, "fields")
    (fault,) = answered.document["fields"]
    assert fault["field"] == "journal.A.0"
    assert fault["typed"] == text[:60]
    assert fault["unit"] == "mm"
    assert fault["allowed"] == "59.973…60.068 mm"
    assert len(answered.response.content) < 2000
    assert Entry.objects.count() == before


@pytest.mark.parametrize(("text", "unit", "meant"), SLIPS.values(), ids=SLIPS)
def test_a_slip_is_asked_back_once_with_what_was_probably_meant(
    fitter: Caller, job: Job, text: str, unit: str, meant: str
) -> None:
    answered = say(fitter, job, journal__A__0=(text, unit))
    (fault,) = answered.document["fields"]
    assert (fault["code"], fault["typed"], fault["unit"]) == ("slip", text, unit)
    assert f"{fault['meant']} {fault['meant_unit']}" == meant
    assert fault["allowed"] == "59.973…60.068 mm"


def test_fahrenheit_typed_as_celsius_is_asked_back(fitter: Caller, job: Job) -> None:
    (fault,) = say(fitter, job, shaft=("68", "°C")).document["fields"]
    assert (fault["field"], fault["code"], fault["unit"]) == ("shaft", "slip", "°C")
    assert (fault["meant"], fault["meant_unit"]) == ("68", "°F"), "the figures of the display stay"


def test_a_comma_is_a_point(fitter: Caller, job: Job) -> None:
    assert say(fitter, job, journal__A__0=("60,018", "mm")).status == 201
    said = fitter.get(f"mountings/{job.mounting.id}/").document["answers"]["measurement"]["journal.A.0"]
    assert (said["typed"], said["value"]) == ("60,018", 60_018_000)


def test_a_doubt_that_was_confirmed_is_recorded_as_typed(fitter: Caller, job: Job) -> None:
    fields = {"shaft": {"typed": "68", "unit": "°C", "sure": True}}
    address = f"mountings/{job.mounting.id}/captures/measurement/"
    assert fitter.post(address, entry_id=new_id(), fields=fields).status == 201


def test_every_field_that_gave_none_is_listed(fitter: Caller, job: Job) -> None:
    answered = say(fitter, job, journal__A__0=("x", "mm"), shaft=("warm", "°C"), gauge="no-such-gauge")
    assert [fault["field"] for fault in answered.document["fields"]] == ["journal.A.0", "shaft"]


def test_a_gauge_that_is_none_is_asked_back(fitter: Caller, job: Job) -> None:
    (fault,) = say(fitter, job, gauge="no-such-gauge").document["fields"]
    assert (fault["field"], fault["typed"]) == ("gauge", "no-such-gauge")


def test_a_true_but_bad_fact_is_recorded_and_flagged(fitter: Caller, job: Job) -> None:
    address = f"mountings/{job.mounting.id}/"
    fitter.act(f"{address}captures/heating/", fields=typed(peak=("131", "°C")))
    assert fitter.get(address).document["answers"]["heating"]["peak"]["value"] == 131_000


@pytest.mark.parametrize("key", ["journal", "journal.A", "journal.A.x", "journal.A.0.1.2", "nothing", "."])
def test_a_place_that_is_none_is_refused(fitter: Caller, job: Job, key: str) -> None:
    address = f"mountings/{job.mounting.id}/captures/measurement/"
    fields = {key: {"typed": "60.018", "unit": "mm"}}
    answered = fitter.post(address, entry_id=new_id(), fields=fields)
    assert (answered.status, answered.code) == (422, "unknown-field")


@pytest.mark.parametrize(
    "field",
    [
        {"typed": 60.018, "unit": "mm"},
        {"typed": None, "unit": "mm"},
        {"unit": "mm"},
        {"state": "not done"},
        {"state": "forgotten", "reason": "x"},
        {"typed": "60", "state": "not done", "reason": "x"},
        {"typed": "60", "unit": "mm", "value": 60},
        "60.018",
        None,
    ],
)
def test_a_field_in_another_form_is_malformed(fitter: Caller, job: Job, field: Any) -> None:
    address = f"mountings/{job.mounting.id}/captures/measurement/"
    answered = fitter.post(address, entry_id=new_id(), fields={"shaft": field})
    assert (answered.status, answered.code) == (400, "malformed")
    assert answered.document["fields"][0]["field"].startswith("fields.shaft")


def test_not_done_is_an_answer_with_its_reason(fitter: Caller, job: Job) -> None:
    address = f"mountings/{job.mounting.id}/"
    fields = {"air": {"state": "not done", "reason": "thermometer broke"}}
    fitter.act(f"{address}captures/measurement/", fields=fields)
    said = fitter.get(address).document["answers"]["measurement"]["air"]
    assert (said["state"], said["reason"]) == ("not done", "thermometer broke")


REQUIREMENT_FAULTS = {
    "a size outside the tables": ("nominal_mm", "3150"),
    "a class that is none": ("shaft_class", "q6"),
    "an outside smaller than the bore": ("outside_mm", "50"),
    "a group of letters": ("nominal_mm", "sixty"),
    "not a number": ("mass_kg", "NaN"),
    "a kind that is none": ("kinds", ["square"]),
    "two separators": ("form_um", "2,5.1"),
    "limits ten times off": ("limits_um", ["-600", "300"]),
    "an interference ten times off": ("interference_um", ["110", "450"]),
    "a form ten times off": ("form_um", "65"),
}


@pytest.mark.parametrize(("field", "value"), REQUIREMENT_FAULTS.values(), ids=REQUIREMENT_FAULTS)
def test_a_drawing_that_cannot_be_used_names_its_field(
    fitter: Caller, job: Job, field: str, value: Any
) -> None:
    from tests.cast import REQUIREMENT

    answered = fitter.post(
        f"journals/{job.journal.id}/requirements/", entry_id=new_id(), document={**REQUIREMENT, field: value}
    )
    assert answered.status in (400, 422)
    assert field in str(answered.document)


@pytest.mark.parametrize(
    ("field", "value", "source"),
    [
        ("limits_um", ["-600", "300"], "limits_source"),
        ("interference_um", ["110", "450"], "interference_source"),
        ("form_um", "65", "form_source"),
    ],
)
def test_limits_far_from_those_of_seats_are_taken_once_they_say_where_they_are_written(
    fitter: Caller, job: Job, field: str, value: Any, source: str
) -> None:
    from tests.cast import REQUIREMENT

    address = f"journals/{job.journal.id}/requirements/"
    document = {**REQUIREMENT, field: value}
    asked = fitter.post(address, entry_id=new_id(), document=document)
    assert (asked.status, asked.document["facts"]["field"]) == (422, field)
    assert "where seats of 60 mm lie" in asked.document["facts"]["why"]
    written = document | {source: "drawing TH-4410 C, note 7"}
    assert fitter.post(address, entry_id=new_id(), document=written).status == 201


def test_a_class_that_is_none_says_which_there_are(fitter: Caller, job: Job) -> None:
    from tests.cast import REQUIREMENT

    answered = fitter.post(
        f"journals/{job.journal.id}/requirements/", entry_id=new_id(),
        document={**REQUIREMENT, "shaft_class": "q6"},
    )  # fmt: skip
    assert "m6" in answered.document["detail"]
