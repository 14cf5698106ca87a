"""Photographs by content: what is none is refused clearly, and the entry that announced it stays."""

import hashlib

import pytest

from qrecords.evidence import intake, jobs
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from tests.api.caller import Answered, Caller
from tests.cast import Job, Workshop, start
from tests.drawing import small_jpeg

PHOTO = small_jpeg("seat")
HTML = b"<!doctype html><script>alert(1)</script>"


def digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


@pytest.fixture
def job(shop: Workshop) -> Job:
    return start(shop)


def send(fitter: Caller, job: Job, content: bytes, named: str = "", media: str = "image/jpeg") -> Answered:
    address = f"mountings/{job.mounting.id}/photos/{named or digest(content)}/"
    return fitter.send("PUT", address, content, media)


REFUSED = {
    "text": (b"not a photo", "not-a-photo", 415),
    "HTML under a photo's name": (HTML, "not-a-photo", 415),
    "empty": (b"", "empty", 422),
    "cut off": (PHOTO[: len(PHOTO) // 2], "damaged", 422),
}


@pytest.mark.parametrize(("content", "code", "status"), REFUSED.values(), ids=REFUSED)
def test_what_is_no_photo_is_refused_and_its_announcement_stays(
    fitter: Caller, job: Job, content: bytes, code: str, status: int
) -> None:
    fitter.act(
        f"mountings/{job.mounting.id}/photos/", shot="seat", sha256=digest(content), size=len(content),
        media="image/jpeg", camera=True,
    )  # fmt: skip
    refused = send(fitter, job, content)
    assert (refused.status, refused.code) == (status, code)
    photos = fitter.get(f"mountings/{job.mounting.id}/").document["photos"]
    assert [(photo["shot"], photo["received"]) for photo in photos] == [("seat", False)]


def test_an_oversized_photo_is_refused_before_it_is_kept(
    fitter: Caller, job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(intake, "MAX_BYTES", 1000)
    refused = send(fitter, job, PHOTO)
    assert (refused.status, refused.code) == (413, "too-large")
    assert refused.document["facts"] == {"limit_bytes": 1000}


def test_other_bytes_than_announced_are_refused(fitter: Caller, job: Job) -> None:
    refused = send(fitter, job, PHOTO, named="0" * 64)
    assert (refused.status, refused.code) == (422, "digest-differs")


def test_a_name_that_is_no_digest_is_unknown(fitter: Caller, job: Job) -> None:
    assert send(fitter, job, PHOTO, named="..%2F..%2Fetc").status == 404


def test_a_photo_larger_than_a_form_may_be_comes_in(fitter: Caller, job: Job) -> None:
    """More than DATA_UPLOAD_MAX_MEMORY_SIZE: it is a stream and no form."""
    padded = PHOTO + b"\x00" * 3_000_000
    assert send(fitter, job, padded).status == 201


def test_the_same_photo_twice_is_one_entry(fitter: Caller, job: Job) -> None:
    first, again = send(fitter, job, PHOTO), send(fitter, job, PHOTO)
    assert (first.status, again.status) == (201, 200)
    assert first.document == again.document
    assert Entry.objects.filter(kind="file received").count() == 1


@pytest.mark.parametrize("size", ["320", "1600"])
def test_a_small_picture_is_shown_once_it_is_made(fitter: Caller, job: Job, size: str) -> None:
    send(fitter, job, PHOTO)
    address = f"mountings/{job.mounting.id}/photos/{digest(PHOTO)}/{size}/"
    assert fitter.get(address).status == 404
    jobs.derive(sha256=digest(PHOTO))
    shown = fitter.get(address)
    assert shown.status == 200
    assert shown.response["Content-Type"] == "image/jpeg"
    assert shown.response["Content-Security-Policy"].startswith("sandbox")


def test_the_original_is_saved_and_never_shown(fitter: Caller, job: Job) -> None:
    send(fitter, job, PHOTO)
    saved = fitter.get(f"mountings/{job.mounting.id}/photos/{digest(PHOTO)}/original/")
    assert saved.document == PHOTO
    assert saved.response["Content-Disposition"].startswith("attachment")
    assert saved.response["X-Content-Type-Options"] == "nosniff"


def test_a_photo_of_another_mounting_is_not_here(shop: Workshop, fitter: Caller, job: Job) -> None:
    send(fitter, job, PHOTO)
    other = start(shop)
    address = f"mountings/{other.mounting.id}/photos/{digest(PHOTO)}/original/"
    assert fitter.get(address).status == 404


def test_bytes_may_come_before_their_announcement(fitter: Caller, job: Job) -> None:
    send(fitter, job, PHOTO)
    fitter.act(
        f"mountings/{job.mounting.id}/photos/", shot="seat", sha256=digest(PHOTO), size=len(PHOTO),
        media="image/jpeg", camera=False, entry_id=new_id(),
    )  # fmt: skip
    (photo,) = fitter.get(f"mountings/{job.mounting.id}/").document["photos"]
    assert (photo["received"], photo["camera"]) == (True, False)
