"""Wanted photos: there, their own, and taken when what they claim to show could be seen."""

import hashlib
from datetime import timedelta

import pytest

from tests.steps.casebook import Book, sound


def test_a_wanted_photo_is_missing_until_its_bytes_have_come() -> None:
    book = Book()
    assert book.findings()["photo blade"].message == "photos-present.not-taken"
    file = {"shot": "blade", "sha256": "ab" * 32, "size": 1, "media": "image/jpeg"}
    book.enter("attachment", {"shot": "blade", "from": "camera"}, files=(file,))
    assert book.findings()["photo blade"].message == "photos-present.announced"
    book.enter("file received", {"sha256": "ab" * 32})
    assert book.findings()["photo blade"].verdict == "conforming"


def test_the_bytes_may_come_before_the_entry_that_names_them() -> None:
    book = Book()
    book.enter("file received", {"sha256": "ab" * 32})
    file = {"shot": "blade", "sha256": "ab" * 32, "size": 1, "media": "image/jpeg"}
    book.enter("attachment", {"shot": "blade", "from": "gallery"}, files=(file,))
    assert book.findings()["photo blade"].verdict == "conforming"


def test_a_photo_that_stands_in_another_record_is_asked_about() -> None:
    book = sound()
    sha256 = book.case().photos[0].sha256
    book.look_elsewhere(photos_seen_before=[sha256])
    assert [f.verdict for f in book.rule("photo-used-before")] == ["query"]


def without(shot: str) -> Book:
    book = sound()
    book.lines = [line for line in book.lines if line.payload["body"]["said"].get("shot") != shot]
    return book


def test_a_photo_of_the_seat_taken_when_the_ring_is_on_is_asked_about() -> None:
    book = without("seat")
    book.photograph("seat")
    (asked,) = book.rule("photo-in-time")
    assert (asked.verdict, asked.message, asked.facts["shot"]) == ("query", "photo-in-time.late", "seat")
    assert book.findings()["photo seat"].verdict == "conforming"


@pytest.mark.parametrize("shot", ["marking", "package"])
def test_what_can_still_be_seen_with_the_ring_on_may_be_photographed_again(shot: str) -> None:
    book = without(shot)
    book.photograph(shot)
    assert book.rule("photo-in-time") == []


def test_one_photo_in_time_is_enough() -> None:
    book = sound()
    book.photograph("seat")
    assert book.rule("photo-in-time") == []


TAKEN_LATE, SENT_LATE = "photo-in-time.taken-late", "photo-in-time.late"
AFTER_HOME = "2026:03:02 09:59:00 +01:00"
"""By a camera that wrote its zone; the ring came home before 08:30 UTC."""


def send_late(book: Book, camera: str, name: bytes = b"seat") -> None:
    """A photo of the seat sent when the ring is on; `camera` is what its own clock wrote into it."""
    sha256 = hashlib.sha256(name).hexdigest()
    file = {"shot": "seat", "sha256": sha256, "size": 1, "media": "image/jpeg"}
    book.lines = [line for line in book.lines if line.payload["body"]["said"].get("sha256") != sha256]
    book.enter("attachment", {"shot": "seat", "from": "gallery"}, files=(file,))
    book.enter("file received", {"sha256": sha256}, {"taken_at": camera})


@pytest.mark.parametrize(
    ("camera", "asked"),
    [
        ("2026:03:02 09:01:00 +01:00", []),
        (AFTER_HOME, [TAKEN_LATE]),
        ("2026:03:02 09:59:00", [SENT_LATE]),
        ("2026:03:02 08:01:00", [SENT_LATE]),
        ("", [SENT_LATE]),
    ],
)
def test_of_a_photo_sent_late_only_a_camera_with_its_zone_says_when_it_was_taken(
    camera: str, asked: list[str]
) -> None:
    book = without("seat")
    send_late(book, camera)
    assert [finding.message for finding in book.rule("photo-in-time")] == asked


def test_of_several_photos_it_is_said_when_they_were_taken_only_if_every_camera_tells() -> None:
    book = without("seat")
    send_late(book, AFTER_HOME)
    send_late(book, "", b"seat again")
    assert [finding.message for finding in book.rule("photo-in-time")] == [SENT_LATE]


def test_a_photo_whose_order_with_the_ring_is_not_proved_is_not_asked_about() -> None:
    """Received after *home*, but by its own device's clock before it: sent from a queue."""
    book = without("seat")
    book.now -= timedelta(hours=2)
    book.photograph("seat")
    assert book.rule("photo-in-time") == []


def test_photos_of_the_ring_on_its_shaft_are_taken_again_after_another_heating() -> None:
    book = sound()
    book.tap("heater on")
    assert {f.facts["shot"]: f.message for f in book.rule("photo-in-time")} == {
        "held": "photo-in-time.early", "blade": "photo-in-time.early", "covered": "photo-in-time.early",
    }  # fmt: skip
    book.photograph("held", "blade", "covered")
    assert book.rule("photo-in-time") == []
