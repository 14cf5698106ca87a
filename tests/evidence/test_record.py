"""Rows of files: arrivals by mounting, and the job that makes what is shown."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

import pytest

from qrecords.evidence import actions, derivatives, intake, queries, storage
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.jobs import derive
from qrecords.evidence.models import StoredFile
from tests.evidence.conftest import located_exif, scene

pytestmark = pytest.mark.django_db

Encoded = Callable[..., bytes]
DRYER = UUID("01890000-0000-7000-8000-000000000001")
WINCH = UUID("01890000-0000-7000-8000-000000000002")
VASKOVA = UUID("01890000-0000-7000-8000-00000000000a")
NOON = datetime(2026, 6, 4, 12, tzinfo=UTC)


@pytest.fixture
def taken(encoded: Encoded) -> intake.TakenIn:
    return intake.take_in([encoded("JPEG", exif=located_exif())])


def receive(taken: intake.TakenIn, mounting: UUID) -> bool:
    return actions.receive(taken=taken, mounting=mounting, sender=VASKOVA, at=NOON)


def refuse(sha256: str, mounting: UUID) -> bool:
    error = FileRefusedError("not-a-photo", found="HTML")
    return actions.refuse(sha256=sha256, error=error, mounting=mounting, sender=VASKOVA, at=NOON)


def test_a_repeat_of_an_arrival_is_known_as_one(taken: intake.TakenIn) -> None:
    assert receive(taken, DRYER) is True
    assert receive(taken, DRYER) is False
    assert list(queries.of_mounting(DRYER)) == [taken.sha256]


def test_a_row_keeps_what_the_file_says_of_itself(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    row = StoredFile.objects.get()
    assert (row.width_px, row.height_px, row.media) == (1200, 900, "image/jpeg")
    assert (row.taken_at, row.camera) == ("2026:06:04 10:12:40 +02:00", "Kestrel Handset 4")
    assert row.size == storage.original(row.sha256).stat().st_size


def test_no_row_names_a_file_that_is_not_there(taken: intake.TakenIn) -> None:
    storage.original(taken.sha256).unlink()
    with pytest.raises(FileNotFoundError):
        receive(taken, DRYER)
    assert not StoredFile.objects.exists()


def test_whether_a_file_is_here_is_told_within_its_own_mounting_only(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    derive(taken.sha256)
    assert queries.is_here(taken.sha256, mounting=DRYER)
    assert not queries.is_here(taken.sha256, mounting=WINCH)
    assert queries.original(taken.sha256, mounting=WINCH) is None
    assert queries.picture(taken.sha256, mounting=WINCH, edge_px=320) is None


def test_the_same_photo_used_for_two_mountings_is_seen(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    assert queries.seen_elsewhere(DRYER) == {}
    receive(taken, WINCH)
    assert queries.seen_elsewhere(DRYER) == {taken.sha256: [WINCH]}
    assert StoredFile.objects.count() == 1


def test_a_refused_file_is_recorded_with_its_reason_and_is_not_here() -> None:
    assert refuse("0" * 64, DRYER) is True
    assert refuse("0" * 64, DRYER) is False
    assert not queries.is_here("0" * 64, mounting=DRYER)
    [arrival] = queries.refused(DRYER)
    assert (arrival.refusal, arrival.facts) == ("not-a-photo", {"found": "HTML"})


def test_a_received_file_stays_received_whatever_comes_later(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    assert refuse(taken.sha256, DRYER) is False
    assert queries.is_here(taken.sha256, mounting=DRYER)
    assert queries.refused(DRYER) == []


def test_a_file_once_refused_may_be_received_when_the_rules_grow_wider(taken: intake.TakenIn) -> None:
    refuse(taken.sha256, DRYER)
    assert receive(taken, DRYER) is True
    assert queries.is_here(taken.sha256, mounting=DRYER)
    assert queries.refused(DRYER) == []


def test_the_job_makes_both_pictures_and_says_so(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    assert queries.picture(taken.sha256, mounting=DRYER, edge_px=320) is None
    derive(taken.sha256)
    for edge_px in (1600, 320):
        held = queries.picture(taken.sha256, mounting=DRYER, edge_px=edge_px)
        assert held is not None
        assert held.path.exists()
        assert (held.media, held.attachment) == ("image/jpeg", False)
    assert StoredFile.objects.get().recipe == derivatives.RECIPE


def test_there_is_no_picture_of_any_other_size(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    derive(taken.sha256)
    assert queries.picture(taken.sha256, mounting=DRYER, edge_px=640) is None


def test_the_job_twice_is_the_job_once(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    derive(taken.sha256)
    first = made_at(taken.sha256)
    derive(taken.sha256)
    assert made_at(taken.sha256) == first


def test_the_job_mends_what_a_killed_run_left_undone(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    derive(taken.sha256)
    storage.derived(taken.sha256, 320, derivatives.RECIPE).unlink()
    derive(taken.sha256)
    assert derivatives.are_made(taken.sha256)


def test_the_job_before_its_row_is_committed_does_no_harm(taken: intake.TakenIn) -> None:
    derive(taken.sha256)
    receive(taken, DRYER)
    derive(taken.sha256)
    assert StoredFile.objects.get().recipe == derivatives.RECIPE


def test_an_original_is_served_as_an_attachment_only(taken: intake.TakenIn) -> None:
    receive(taken, DRYER)
    held = queries.original(taken.sha256, mounting=DRYER)
    assert held == queries.Held(storage.original(taken.sha256), "image/jpeg", attachment=True)


def test_an_original_cannot_be_written_again(taken: intake.TakenIn) -> None:
    assert storage.original(taken.sha256).stat().st_mode & 0o222 == 0


def test_a_picture_in_heic_takes_the_same_road(encoded: Encoded) -> None:
    taken = intake.take_in([encoded("HEIF", scene(2000, 1500), exif=located_exif())])
    receive(taken, DRYER)
    derive(taken.sha256)
    held = queries.picture(taken.sha256, mounting=DRYER, edge_px=1600)
    assert held is not None
    assert taken.photo.taken_at == "2026:06:04 10:12:40 +02:00"
    assert made_at(taken.sha256)


def made_at(sha256: str) -> list[int]:
    places: list[Path] = [storage.derived(sha256, edge_px, 1) for edge_px in (1600, 320)]
    return [place.stat().st_mtime_ns for place in places]
