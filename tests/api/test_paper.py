"""Paper, hand-over, marks and shift start at the API: the same as at the pages."""

import hashlib
from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.queries import case_of
from qrecords.workshop.models import ShiftStart
from tests.api.caller import Answered, Caller
from tests.cast import Job, make_workshop, start
from tests.drawing import small_jpeg

pytestmark = pytest.mark.django_db
DAY = "2026-03-02"
ARROW = {"kind": "arrow", "from": [100, 100], "to": [400, 500]}
CIRCLE = {"kind": "circle", "at": [500, 500], "radius": 80}
PICTURE = small_jpeg("sheet")


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


@pytest.fixture
def fitter(job: Job) -> Caller:
    return Caller.by_session(job.shop, "fitter")


def post(caller: Caller, job: Job, address: str, **body: Any) -> Answered:
    return caller.post(f"mountings/{job.mounting.id}/{address}", **({"entry_id": new_id()} | body))


def file_sheet(caller: Caller, job: Job, **changes: Any) -> Answered:
    photo = {"sha256": hashlib.sha256(PICTURE).hexdigest(), "size": len(PICTURE), "media": "image/jpeg"}
    told: dict[str, Any] = {"by": str(job.shop.people["second_fitter"].id), "day": DAY, "photos": [photo]}
    return post(caller, job, "paper-sheets/", **(told | changes))


def test_a_sheet_its_photo_and_what_stands_on_it_are_sent_and_read_back(fitter: Caller, job: Job) -> None:
    sheet = file_sheet(fitter, job).document["entry"]
    sha256 = hashlib.sha256(PICTURE).hexdigest()
    sent = fitter.send("PUT", f"mountings/{job.mounting.id}/photos/{sha256}/", PICTURE, "image/jpeg")
    assert sent.status == 201
    paper = {"sheet": sheet, "written": f"{DAY} 09:00"}
    fields = {"wiped": {"typed": "yes"}}
    assert post(fitter, job, "captures/preparation/", fields=fields, paper=paper).status == 201
    assert (
        post(fitter, job, "taps/", what="heater on", paper=paper | {"reference": "3f9a 12bc"}).status == 201
    )
    case = fitter.get(f"mountings/{job.mounting.id}/").document
    assert case["answers"]["preparation"]["wiped"]["paper"] == paper | {"reference": ""}
    assert case["taps"][0]["paper"]["reference"] == "3f9a 12bc"
    (told,) = case["sheets"]
    assert (told["by"], told["day"], told["photos"]) == (
        str(job.shop.people["second_fitter"].id), DAY, [sha256],
    )  # fmt: skip
    assert case["people"][told["by"]] == "Second_Fitter Person"
    found = {each["characteristic"]: each["message"] for each in case["findings"]}
    assert found["fit released before heat"] == "released-before-heat.paper-names-none"
    assert found["paper sheet 1"] == "paper-sheet-photo.conforming"


def test_what_came_from_a_tablet_names_no_paper(fitter: Caller, job: Job) -> None:
    post(fitter, job, "captures/preparation/", fields={"wiped": {"typed": "yes"}})
    post(fitter, job, "taps/", what="heater on")
    case = fitter.get(f"mountings/{job.mounting.id}/").document
    assert case["answers"]["preparation"]["wiped"]["paper"] is None
    assert case["taps"][0]["paper"] is None


def test_a_batch_brings_the_sheet_and_then_what_stands_on_it(fitter: Caller, job: Job) -> None:
    sheet = new_id()
    items = [
        {"kind": "paper sheet", "entry_id": str(sheet), "by": str(job.shop.people["fitter"].id), "day": DAY,
         "photos": []},
        {"kind": "capture", "entry_id": str(new_id()), "step": "preparation",
         "fields": {"wiped": {"typed": "yes"}}, "paper": {"sheet": str(sheet), "written": f"{DAY} 09:00"}},
        {"kind": "hand over", "entry_id": str(new_id()), "to": str(job.shop.people["second_fitter"].id)},
        {"kind": "marks", "entry_id": str(new_id()), "sha256": "0" * 64, "marks": [ARROW]},
    ]  # fmt: skip
    answered = fitter.post(f"mountings/{job.mounting.id}/entries/", entries=items)
    assert [each["status"] for each in answered.document["results"]] == [201] * 4
    case = case_of(job.mounting)
    assert case.answers["preparation"]["wiped"].paper
    assert case.hand_overs
    assert len(case.unread) == 1, "marks on a photo nobody knows are kept as they were sent"


@pytest.mark.parametrize(
    "written", ["9 o'clock", "2026-02-30 09:00", f"{DAY} 09:61", f"{DAY}T09:00", "2" * 21, "\u0000"]
)
def test_a_time_that_is_none_is_refused_with_what_it_may_be(fitter: Caller, job: Job, written: str) -> None:
    sheet = file_sheet(fitter, job).document["entry"]
    before = Entry.objects.count()
    paper = {"sheet": sheet, "written": written}
    answered = post(fitter, job, "captures/preparation/", fields={"wiped": {"typed": "yes"}}, paper=paper)
    assert answered.status in (400, 422)
    assert "written" in str(answered.document) or answered.document["code"] == "malformed"
    assert Entry.objects.count() == before


@pytest.mark.parametrize("size", [-1, 1.5, "12", None, 2**60])
def test_the_size_of_a_photo_of_a_sheet_is_a_whole_number(fitter: Caller, job: Job, size: Any) -> None:
    photo = {"sha256": "ab" * 32, "size": size, "media": "image/jpeg"}
    answered = file_sheet(fitter, job, photos=[photo])
    assert answered.status == 400
    assert [fault["field"] for fault in answered.document["fields"]] == ["photos.0.size"]


@pytest.mark.parametrize(
    ("mark", "field", "allowed"),
    [
        ({**ARROW, "from": [-1, 5]}, "from", "0…1000"),
        ({**ARROW, "from": ["C4", 5]}, "from", "0…1000"),
        ({**ARROW, "to": [1001, 5]}, "to", "0…1000"),
        ({**ARROW, "to": [1.5, 5]}, "to", "0…1000"),
        ({**ARROW, "to": [5]}, "to", "two whole numbers"),
        ({**CIRCLE, "at": [10**30, 5]}, "at", "0…1000"),
        ({**CIRCLE, "radius": 9}, "radius", "10…1000"),
        ({**CIRCLE, "radius": "wide"}, "radius", "10…1000"),
        ({"kind": "circle", "at": [5, 5]}, "radius", "10…1000"),
    ],
)
def test_a_number_of_a_mark_that_cannot_be_drawn_is_refused_with_its_range(
    fitter: Caller, job: Job, mark: dict[str, Any], field: str, allowed: str
) -> None:
    job.photograph("seat")
    before = Entry.objects.count()
    sha256 = case_of(job.mounting).photos[0].sha256
    answered = post(fitter, job, "marks/", sha256=sha256, marks=[CIRCLE, mark])
    assert answered.status == 422, answered.document
    (fault,) = answered.document["fields"]
    assert (fault["field"], fault["unit"]) == (field, "‰")
    assert allowed in fault["allowed"]
    assert Entry.objects.count() == before


def test_marks_are_drawn_and_read_back_with_what_took_their_place(fitter: Caller, job: Job) -> None:
    job.photograph("seat")
    sha256 = case_of(job.mounting).photos[0].sha256
    first = post(fitter, job, "marks/", sha256=sha256, marks=[ARROW]).document["entry"]
    wrong = post(fitter, job, "marks/", sha256=sha256, marks=[CIRCLE], instead_of=first)
    assert (wrong.status, wrong.document["code"]) == (409, "needs-reason")
    post(fitter, job, "marks/", sha256=sha256, marks=[CIRCLE], instead_of=first, reason="the other burr")
    drawn = fitter.get(f"mountings/{job.mounting.id}/").document["marks"]
    assert [(each["marks"], each["replaced"]) for each in drawn] == [([ARROW], True), ([CIRCLE], False)]


def test_a_shift_start_is_sent_and_listed(fitter: Caller, job: Job) -> None:
    gear = [str(job.shop.gear["micrometer"].id)]
    body = {"entry_id": new_id(), "gear": gear, "air": {"typed": "19,5", "unit": "°C"}}
    assert fitter.post("shifts/", **body).status == 201
    assert fitter.post("shifts/", **body).status == 200, "sent again it is the same"
    (row,) = fitter.get("shifts/").document["results"]
    assert row["gear"] == gear
    assert row["climate"]["air"] == {"typed": "19,5", "unit": "°C", "value": 19_500}
    slip = fitter.post("shifts/", entry_id=new_id(), gear=gear, air={"typed": "195", "unit": "°C"})
    assert (slip.status, slip.document["fields"][0]["field"]) == (422, "air")
    assert ShiftStart.objects.count() == 1


def test_a_machine_says_who_releases_it_under_its_scheme(fitter: Caller, job: Job) -> None:
    hoist = {"name": "Hoist 4", "owner": "Ostrey tram depot", "scheme": "lifting",
             "released_by": "the depot's appointed examiner of hoists"}  # fmt: skip
    id = fitter.post("machines/", entry_id=new_id(), **hoist).document["entry"]
    assert fitter.get(f"machines/{id}/").document["released_by"] == hoist["released_by"]
    plain = fitter.post("machines/", entry_id=new_id(), **(hoist | {"scheme": "none"}))
    assert plain.status == 422
