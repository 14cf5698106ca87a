"""A photograph is taken in whole and untouched, or refused with the reason; nothing in between."""

import hashlib
import io
import os
import struct
import time
import tracemalloc
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageFile

from qrecords.evidence import storage
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.examine import MAX_PIXELS, MAX_SCANS
from qrecords.evidence.intake import MAX_BYTES, take_in
from tests.evidence.conftest import in_chunks, located_exif, memory_rise, scene

Encoded = Callable[..., bytes]


def refusal(content: bytes, **announced: str) -> FileRefusedError:
    with pytest.raises(FileRefusedError) as caught:
        take_in(in_chunks(content), **announced)
    return caught.value


def kept_files(evidence_dir: Path) -> list[str]:
    return sorted(str(path.relative_to(evidence_dir)) for path in evidence_dir.rglob("*") if path.is_file())


def png_header(width_px: int, height_px: int, data: bytes = b"") -> bytes:
    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    header = struct.pack(">IIBBBBB", width_px, height_px, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("kind", "media"),
    [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp"), ("HEIF", "image/heic")],
)
def test_each_of_the_four_formats_is_kept_byte_for_byte_under_its_digest(
    kind: str, media: str, encoded: Encoded, evidence_dir: Path
) -> None:
    content = encoded(kind)
    taken = take_in(in_chunks(content))
    sha256 = hashlib.sha256(content).hexdigest()
    assert (taken.sha256, taken.size, taken.photo.media) == (sha256, len(content), media)
    assert (taken.photo.width_px, taken.photo.height_px) == (1200, 900)
    assert storage.original(sha256).read_bytes() == content
    assert kept_files(evidence_dir) == [f"originals/{sha256[:2]}/{sha256}"]


def test_a_telephone_photo_with_a_second_picture_behind_the_first_is_a_jpeg(encoded: Encoded) -> None:
    content = encoded("MPO", save_all=True, append_images=[scene(300, 200)])
    assert take_in([content]).photo.media == "image/jpeg"


def test_the_same_bytes_twice_are_kept_once(encoded: Encoded, evidence_dir: Path) -> None:
    content = encoded("JPEG")
    assert take_in([content]) == take_in([content])
    assert len(kept_files(evidence_dir)) == 1


def test_time_and_camera_are_told_as_the_file_tells_them(encoded: Encoded) -> None:
    photo = take_in([encoded("JPEG", exif=located_exif())]).photo
    assert (photo.taken_at, photo.camera) == ("2026:06:04 10:12:40 +02:00", "Kestrel Handset 4")


def test_a_file_that_says_nothing_of_itself_has_neither_time_nor_camera(encoded: Encoded) -> None:
    photo = take_in([encoded("PNG")]).photo
    assert (photo.taken_at, photo.camera) == (None, None)


def test_what_exif_says_is_cut_to_printable_text_of_bounded_length(encoded: Encoded) -> None:
    exif = located_exif()
    exif[271] = "\x1b[31m<b>\x07" + "K" * 5000
    camera = take_in([encoded("JPEG", exif=exif)]).photo.camera
    assert camera is not None
    assert camera.isprintable()
    assert len(camera) <= 130


@pytest.mark.filterwarnings(
    "ignore::UserWarning:PIL"
)  # Pillow says what is broken; the refusal says it to people
def test_broken_exif_costs_the_facts_but_not_the_photo(encoded: Encoded) -> None:
    content = encoded("JPEG", exif=b"Exif\x00\x00II*\x00\xff\xff\xff\xff" + b"\xff" * 40)
    assert take_in([content]).photo.taken_at is None


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (b"shaft 80.009 mm at plane A\n" * 40, "text"),
        ("Welle 80,009 mm – Fläche µ\n".encode() * 40, "text"),
        (b"<!DOCTYPE html><html><body><img src='x'></body></html>", "HTML"),
        (b"<?xml version='1.0'?><svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>", "SVG"),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "PDF"),
        (b"PK\x03\x04\x14\x00" + b"\x00" * 100, "ZIP"),
        (b"\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom" + b"\x00" * 100, "video"),
        (b"\x00" * 1000, "unknown"),
        (b"\x89PNG\r\n\x1a\n", "unknown"),
    ],
)
def test_what_is_no_photo_is_refused_whatever_its_name_says(
    content: bytes, found: str, evidence_dir: Path
) -> None:
    error = refusal(content)
    assert (error.code, error.facts) == ("not-a-photo", {"found": found})
    assert kept_files(evidence_dir) == []


@pytest.mark.parametrize(("kind", "found"), [("GIF", "GIF"), ("TIFF", "TIFF"), ("BMP", "BMP")])
def test_a_picture_in_another_format_is_refused_and_named(kind: str, found: str, encoded: Encoded) -> None:
    assert refusal(encoded(kind)).facts == {"found": found}


def test_a_picture_that_is_also_an_archive_is_refused_by_its_beginning(encoded: Encoded) -> None:
    archive = b"PK\x03\x04" + b"\x00" * 60 + b"PK\x05\x06" + b"\x00" * 18
    assert refusal(encoded("GIF") + archive).facts == {"found": "GIF"}
    assert refusal(b"<script>alert(1)</script>" + encoded("JPEG")).facts == {"found": "HTML"}


def test_an_empty_file_is_refused(evidence_dir: Path) -> None:
    assert refusal(b"").code == "empty"
    assert kept_files(evidence_dir) == []


def test_a_picture_of_50_000_by_50_000_pixels_is_refused_before_any_pixel_is_decoded() -> None:
    tracemalloc.start()
    started = time.perf_counter()
    error = refusal(png_header(50_000, 50_000))
    taken_s, peak = time.perf_counter() - started, tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert (error.code, error.facts["limit_px"]) == ("too-many-pixels", MAX_PIXELS)
    assert taken_s < 1
    assert peak < 2_000_000


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")  # our own check must do
def test_the_pixel_bound_itself_is_allowed_and_one_row_more_is_not() -> None:
    assert refusal(png_header(6_000, 10_000)).code == "damaged"  # inside the bound; it just has no pixels
    error = refusal(png_header(6_000, 10_001))
    assert error.code == "too-many-pixels"
    assert error.facts == {"width_px": 6_000, "height_px": 10_001, "limit_px": MAX_PIXELS}


def test_reading_stops_at_the_byte_bound(evidence_dir: Path) -> None:
    read = 0

    def endless() -> Iterator[bytes]:
        nonlocal read
        while True:
            read += 1_000_000
            yield b"\xff" * 1_000_000

    with pytest.raises(FileRefusedError) as caught:
        take_in(endless())
    assert (caught.value.code, caught.value.facts) == ("too-large", {"limit_bytes": MAX_BYTES})
    assert read == MAX_BYTES + 1_000_000
    assert kept_files(evidence_dir) == []


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
@pytest.mark.parametrize("share", [0.5, 0.9, 0.99])
def test_a_truncated_photo_is_refused(kind: str, share: float, encoded: Encoded, evidence_dir: Path) -> None:
    noise = Image.effect_noise((600, 450), 60).convert("RGB")
    content = encoded(kind, noise)
    assert not ImageFile.LOAD_TRUNCATED_IMAGES
    assert refusal(content[: int(len(content) * share)]).code in ("damaged", "not-a-photo")
    assert kept_files(evidence_dir) == []


def test_a_truncated_progressive_photo_is_refused(encoded: Encoded) -> None:
    content = encoded("JPEG", Image.effect_noise((1200, 900), 60), progressive=True)
    assert refusal(content[: len(content) * 2 // 3]).code == "damaged"


def test_a_jpeg_of_endless_passes_is_refused_before_it_is_decoded(encoded: Encoded) -> None:
    content = encoded("JPEG", progressive=True)
    last = content.rindex(b"\xff\xda")
    one_pass = content[last:-2]
    started = time.perf_counter()
    error = refusal(content[:-2] + one_pass * MAX_SCANS + b"\xff\xd9")
    assert (error.code, error.facts) == ("too-many-scans", {"limit": MAX_SCANS})
    assert time.perf_counter() - started < 2


def test_bytes_other_than_announced_are_refused(encoded: Encoded, evidence_dir: Path) -> None:
    content = encoded("JPEG")
    announced = hashlib.sha256(b"another").hexdigest()
    error = refusal(content, expected_sha256=announced)
    assert error.code == "digest-differs"
    assert error.facts == {"expected": announced, "found": hashlib.sha256(content).hexdigest()}
    assert kept_files(evidence_dir) == []


def test_a_sender_that_breaks_off_leaves_nothing(encoded: Encoded, evidence_dir: Path) -> None:
    def broken() -> Iterator[bytes]:
        yield encoded("JPEG")[:1000]
        raise ConnectionResetError

    with pytest.raises(ConnectionResetError):
        take_in(broken())
    assert kept_files(evidence_dir) == []


def test_left_overs_of_a_killed_process_are_swept_after_a_day(encoded: Encoded, evidence_dir: Path) -> None:
    tmp = evidence_dir / "tmp"
    tmp.mkdir(parents=True)
    old, young = tmp / "arriving-old", tmp / "arriving-young"
    for left_over in (old, young):
        left_over.write_bytes(b"half a photo")
    os.utime(old, (time.time() - 90_000,) * 2)
    take_in([encoded("JPEG")])
    assert (old.exists(), young.exists()) == (False, True)


def test_a_large_photo_is_read_in_bounded_memory(encoded: Encoded) -> None:
    """12 Mpx decode to 48 MB; reading at an eighth of the size keeps far below that."""
    content = encoded("JPEG", scene(4000, 3000))
    with memory_rise() as rise:
        take_in(in_chunks(content))
    assert rise.kb < 30_000


@pytest.mark.filterwarnings(
    "ignore::UserWarning:PIL"
)  # Pillow says what is broken; the refusal says it to people
@settings(
    max_examples=150,
    suppress_health_check=[*settings.default.suppress_health_check, HealthCheck.function_scoped_fixture],
)
@given(data=st.data())
def test_no_bytes_whatever_raise_anything_but_a_refusal(data: st.DataObject, encoded: Encoded) -> None:
    kind = data.draw(st.sampled_from(["JPEG", "PNG", "WEBP", "HEIF"]))
    content = bytearray(encoded(kind, scene(64, 48)))
    for at, value in data.draw(
        st.lists(st.tuples(st.integers(0, len(content) - 1), st.integers(0, 255)), max_size=12)
    ):
        content[at] = value
    cut = data.draw(st.integers(0, len(content)))
    try:
        taken = take_in([bytes(content[: cut or None])])
    except FileRefusedError as error:
        assert error.code in {"not-a-photo", "damaged", "too-many-pixels", "empty"}
    else:
        with Image.open(io.BytesIO(storage.original(taken.sha256).read_bytes())) as kept:
            assert kept.size == (taken.photo.width_px, taken.photo.height_px)


@pytest.mark.parametrize("name", ["../../etc/passwd", "A" * 64, "ab", "0" * 63 + "\x00", "‮" * 64])
def test_no_place_is_made_from_anything_but_a_digest(name: str) -> None:
    with pytest.raises(ValueError, match="not a SHA-256"):
        storage.original(name)
