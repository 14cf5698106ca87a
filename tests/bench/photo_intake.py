"""A photo of 12 megapixels from bytes to original and two derivatives, against Pillow doing the bare work.

The baseline writes the file and makes both derivatives with the decoder's own reduction; ours also hashes,
examines the file to its last line, and brings what it keeps to the disk for certain (fsync).
"""

import io
import shutil
import tempfile
import uuid
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings
from PIL import Image, ImageOps

from qrecords.evidence import derivatives
from qrecords.evidence.intake import take_in
from tests.bench.ratio import Ratio, alternating

ROUNDS = 15


def measure() -> list[Ratio]:
    folder = Path(tempfile.mkdtemp())
    settings.EVIDENCE_DIR = folder
    sent = _photos()
    try:
        whole = alternating(lambda: _ours(next(sent)), lambda: _bare(next(sent), folder), ROUNDS)
        request = alternating(lambda: take_in([next(sent)]), lambda: _bare(next(sent), folder), ROUNDS)
    finally:
        shutil.rmtree(folder)
    bare = "Pillow with draft: write, 1600 px, 320 px"
    return [
        Ratio("photo, intake and derivatives", whole[0], bare, whole[1], 1.2),
        Ratio("photo, intake alone (in the request)", request[0], bare, request[1], 0.5),
    ]


def _photos() -> Iterator[bytes]:
    """JPEGs of 4000 × 3000 px, about 3 MB, each with other bytes so that each is new to the store."""
    picture = Image.effect_noise((800, 600), 40).resize((4000, 3000), Image.Resampling.BICUBIC).convert("RGB")
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=95)
    whole, number = file.getvalue(), 0
    while True:
        number += 1
        yield whole[:2] + b"\xff\xfe\x00\x06" + number.to_bytes(4, "big") + whole[2:]  # a comment, its number


def _ours(content: bytes) -> None:
    derivatives.make(take_in([content]).sha256)


def _bare(content: bytes, folder: Path) -> None:
    original = folder / f"bare-{uuid.uuid4()}"
    original.write_bytes(content)
    with Image.open(original) as image:
        scale = 1600 / max(image.size)
        image.draft("RGB", (int(image.width * scale), int(image.height * scale)))
        image.thumbnail((1600, 1600))
        picture = ImageOps.exif_transpose(image)
    picture.save(folder / "bare-1600.jpg", quality=80)
    picture.thumbnail((320, 320))
    picture.save(folder / "bare-320.jpg", quality=80)
