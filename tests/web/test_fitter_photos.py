"""Photos from the fitter's device: by content, sandboxed, handed out as they came."""

import io

import pytest
from django.test import Client

from qrecords.mountings.judging import judged_now
from tests.cast import Workshop, start
from tests.web.fitter_hand import photo

pytestmark = pytest.mark.django_db


def test_a_file_that_is_no_photo_is_refused_with_its_reason(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    letter = io.BytesIO(b"Dear workshop, no picture today.")
    letter.name = "letter.jpg"
    answer = fitter.post(
        f"/mountings/{job.mounting.id}/photos/",
        {"shot.marking": letter},
        headers={"Accept": "application/json"},
    )
    assert answer.status_code == 422
    assert "Photo of ring marking not kept" in answer.json()["refused"][0]


def test_a_photo_is_shown_sandboxed_and_its_original_only_handed_out(shop: Workshop, fitter: Client) -> None:
    from qrecords.evidence.derivatives import make

    job = start(shop)
    fitter.post(f"/mountings/{job.mounting.id}/photos/", {"gallery.marking": photo("m")})
    taken = judged_now(job.mounting).case.photos[0]
    assert not taken.camera, "from the gallery, and marked so"
    address = f"/mountings/{job.mounting.id}/photos/{taken.sha256}"
    making = fitter.get(f"{address}/320/")
    assert making.status_code == 404 and b"being made" in making.content
    make(taken.sha256)
    small = fitter.get(f"{address}/320/")
    assert small.status_code == 200 and small["Content-Type"] == "image/jpeg"
    assert "sandbox" in small["Content-Security-Policy"] and small["X-Content-Type-Options"] == "nosniff"
    original = fitter.get(f"{address}/original/")
    assert original["Content-Disposition"].startswith("attachment")
    for answer in (small, original):
        b"".join(answer.streaming_content)  # type: ignore[attr-defined]
        answer.close()
