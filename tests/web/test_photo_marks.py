"""Arrows, circles and words on a copy of a photo: by touch, by squares, by numbers."""

import hashlib
import re
from html import unescape

import pytest
from django.test import Client

from qrecords.evidence import storage
from qrecords.mountings.queries import case_of
from qrecords.web.views.photo_marks import SHOWN_PX, place_of
from tests.cast import Job, make_workshop, start
from tests.web.desk import make_pictures
from tests.web.fitter_hand import signed_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    job = start(make_workshop())
    job.photograph("seat")
    make_pictures()
    return job


@pytest.fixture
def fitter(job: Job) -> Client:
    return signed_in(job.shop, "fitter")


def here(job: Job) -> str:
    return f"/mountings/{job.mounting.id}/photos/{case_of(job.mounting).photos[0].sha256}/marks/"


def drawn(job: Job) -> list[dict[str, object]]:
    marks = case_of(job.mounting).marks
    return [mark.document() for each in marks if not each.replaced for mark in each.marks]


@pytest.mark.parametrize(
    ("typed", "place"),
    [
        ("C4", (250, 350)), ("c4", (250, 350)), ("A1", (50, 50)), ("J10", (950, 950)),
        ("250, 350", (250, 350)),
        ("250 350", (250, 350)), ("0;1000", (0, 1000)), ("K1", None), ("A11", None), ("A0", None), ("", None),
        ("250", None), ("a,b", None),
    ],
)  # fmt: skip
def test_a_place_is_a_square_or_two_numbers(typed: str, place: tuple[int, int] | None) -> None:
    assert place_of(typed) == place


def test_two_touches_on_the_picture_make_an_arrow_without_script(fitter: Client, job: Job) -> None:
    page = unescape(fitter.get(here(job)).content.decode())
    high = int(re.search(r'type="image"[^>]*height="(\d+)"', page)[1])  # type: ignore[index]
    first = fitter.post(here(job), {"kind": "arrow", "at.x": "36", "at.y": str(high // 2)})
    assert drawn(job) == [], "an arrow has two ends"
    began = re.search(r'name="from" value="([^"]+)"', first.content.decode())[1]  # type: ignore[index]
    assert "Now touch where it goes to" in first.content.decode()
    fitter.post(here(job), {"kind": "arrow", "from": began, "at.x": str(SHOWN_PX), "at.y": str(high)})
    (arrow,) = drawn(job)
    assert arrow["kind"] == "arrow"
    assert arrow["from"] == [100, pytest.approx(500, abs=3)]
    assert arrow["to"] == [1000, pytest.approx(1000, abs=3)]


def test_squares_circle_the_burr_and_words_name_it(fitter: Client, job: Job) -> None:
    fitter.post(here(job), {"kind": "circle", "from": "C4", "to": "D4"})
    fitter.post(here(job), {"kind": "text", "from": "A9", "text": "burr here"})
    assert drawn(job) == [
        {"kind": "circle", "at": [250, 350], "radius": 100},
        {"kind": "text", "at": [50, 850], "text": "burr here"},
    ]


def test_the_photo_itself_is_not_touched(fitter: Client, job: Job) -> None:
    sha256 = case_of(job.mounting).photos[0].sha256
    fitter.post(here(job), {"kind": "circle", "from": "C4", "to": "D4"})
    assert hashlib.sha256(storage.original(sha256).read_bytes()).hexdigest() == sha256


@pytest.mark.parametrize(
    ("sent", "wanted"),
    [
        ({"kind": "text", "from": "A9", "text": " "}, "1 to 60 characters"),
        ({"kind": "text", "text": "burr"}, "two whole numbers"),
        ({"kind": "arrow"}, "two whole numbers"),
        ({"kind": "circle", "from": "C4", "to": "C4"}, "10…1000"),
        ({"kind": "arrow", "from": "C4", "to": "C4"}, "another place"),
        ({"kind": "arrow", "from": "C4", "to": "1000, 1001"}, "0…1000"),
        ({"kind": "star", "from": "C4", "to": "D4"}, "arrow, circle, text"),
    ],
)
def test_what_cannot_be_drawn_is_asked_back_and_stays_typed(
    fitter: Client, job: Job, sent: dict[str, str], wanted: str
) -> None:
    answer = fitter.post(here(job), sent)
    words = unescape(answer.content.decode())
    assert answer.status_code == 422
    assert wanted in words.replace("\u2212", "-")
    assert drawn(job) == []
    if "text" in sent:
        assert f'value="{sent["text"]}"' in words


def test_a_drawing_is_taken_away_with_a_reason_and_stays_in_the_log(fitter: Client, job: Job) -> None:
    fitter.post(here(job), {"kind": "circle", "from": "C4", "to": "D4"})
    entry = case_of(job.mounting).marks[0].entry
    assert "say why" in unescape(fitter.post(here(job), {"away": entry}).content.decode())
    assert len(drawn(job)) == 1
    fitter.post(here(job), {"away": entry, "reason": "the wrong photo"})
    assert drawn(job) == []
    assert len(case_of(job.mounting).marks) == 2
    again = fitter.post(here(job), {"away": "nonsense", "reason": "x"})
    assert again.status_code == 422


def test_the_inspector_sees_it_on_the_record_and_the_auditor_in_words(job: Job) -> None:
    job.until_signature()
    make_pictures()
    seat = next(photo for photo in case_of(job.mounting).photos if photo.shot == "seat")
    fitter, reader = signed_in(job.shop, "fitter"), signed_in(job.shop, "quality")
    address = f"/mountings/{job.mounting.id}/photos/{seat.sha256}/marks/"
    fitter.post(address, {"kind": "text", "from": "A9", "text": "burr here"})
    record = unescape(reader.get(f"/mountings/{job.mounting.id}/inspect/").content.decode())
    assert 'class="marks"' in record
    assert "drawn on a copy: “burr here”" in record
    assert address not in record, "who may not attach is not led there"
    job.sign()
    certificate = unescape(reader.get(f"/mountings/{job.mounting.id}/certificate/").content.decode())
    assert "burr here" in certificate
    traced = signed_in(job.shop, "auditor").get(f"/mountings/{job.mounting.id}/trace/", follow=True)
    assert "burr here" in unescape(traced.content.decode())


def test_what_was_drawn_later_is_not_on_the_certificate(job: Job) -> None:
    job.whole()
    make_pictures()
    seat = next(photo for photo in case_of(job.mounting).photos if photo.shot == "seat")
    address = f"/mountings/{job.mounting.id}/photos/{seat.sha256}/marks/"
    signed_in(job.shop, "fitter").post(address, {"kind": "circle", "from": "C4", "to": "D4"})
    certificate = signed_in(job.shop, "inspector").get(f"/mountings/{job.mounting.id}/certificate/")
    assert 'class="marks"' not in certificate.content.decode()


def test_who_has_to_read_for_himself_is_shown_no_words_on_photos(job: Job) -> None:
    """Words on a photo may tell the reading that a second reader has still to make."""
    job.receive()
    job.measure()
    job.photograph("micrometer")
    make_pictures()
    display = next(photo for photo in case_of(job.mounting).photos if photo.shot == "micrometer")
    address = f"/mountings/{job.mounting.id}/photos/{display.sha256}/marks/"
    signed_in(job.shop, "fitter").post(address, {"kind": "text", "from": "A9", "text": "reads 60.018"})
    inspector = signed_in(job.shop, "inspector")
    assert "reads 60.018" not in inspector.get(address).content.decode()
    assert "reads 60.018" in signed_in(job.shop, "fitter").get(address).content.decode()
    assert "reads 60.018" not in inspector.get(f"/mountings/{job.mounting.id}/inspect/").content.decode()


def test_a_photo_of_nobody_is_not_found(fitter: Client, job: Job) -> None:
    assert fitter.get(f"/mountings/{job.mounting.id}/photos/{'0' * 64}/marks/").status_code == 404
