"""Is this file a photograph that can be read to its last line? Decided by decoding it, never by its name.

The bounds hold before any pixel is decoded. A JPEG is decoded in grey at an eighth of its size: that reads
every coefficient of the file, which is what finds a truncated one, for a fraction of the time and memory.
"""

import mmap
import re
import struct
import zlib
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from PIL import Image

from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.foreign import seems_to_be

MAX_PIXELS = 60_000_000
# A progressive JPEG may hold any number of passes over the picture; 500 is the bound that libjpeg-turbo's
# authors use when they feed it hostile files (their report of 2015 on two defects of the JPEG standard).
MAX_SCANS = 500
FORMATS = ("JPEG", "PNG", "WEBP", "HEIF")
MEDIA = {
    "JPEG": "image/jpeg",
    "MPO": "image/jpeg",  # a JPEG with further pictures behind the first, as many telephones write it
    "PNG": "image/png",
    "WEBP": "image/webp",
    "HEIF": "image/heic",
}
# What the decoders raise for bytes they cannot follow.
UNREADABLE = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    EOFError,
    ArithmeticError,
    RuntimeError,
    struct.error,
    zlib.error,
)


@dataclass(frozen=True)
class Photo:
    """What a photograph says of itself. Time and camera are shown, never trusted."""

    media: str
    width_px: int
    height_px: int
    taken_at: str | None  # EXIF 36867 with the zone of 36881, as found: local time of the camera's own clock
    camera: str | None  # EXIF 271 and 272


def open_photo(path: Path) -> Image.Image:
    """Open a file as one of the four formats without decoding it.

    Raises FileRefusedError `not-a-photo` or `too-many-pixels`.
    """
    try:
        image = Image.open(path, formats=FORMATS)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as bomb:
        raise FileRefusedError("too-many-pixels", limit_px=MAX_PIXELS) from bomb
    except UNREADABLE as failure:
        with path.open("rb") as file:
            found = seems_to_be(file.read(512))
        raise FileRefusedError("not-a-photo", found=found) from failure
    width_px, height_px = image.size
    if width_px * height_px > MAX_PIXELS:
        image.close()
        raise FileRefusedError("too-many-pixels", width_px=width_px, height_px=height_px, limit_px=MAX_PIXELS)
    return image


def examine(path: Path) -> Photo:
    """Read a photograph to its end and return what it says of itself.

    Raises FileRefusedError `not-a-photo`, `too-many-pixels`, `too-many-scans` or `damaged`.
    """
    with open_photo(path) as image:
        width_px, height_px = image.size
        if image.format in ("JPEG", "MPO"):
            _bound_scans(path)
        try:
            image.draft("L" if image.mode == "RGB" else None, (width_px // 8 or 1, height_px // 8 or 1))
            image.load()
        except UNREADABLE as failure:
            raise FileRefusedError("damaged", width_px=width_px, height_px=height_px) from failure
        taken_at, camera = _of_itself(image)
        return Photo(MEDIA[image.format or ""], width_px, height_px, taken_at, camera)


def _bound_scans(path: Path) -> None:
    with path.open("rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as content:
        scans = sum(1 for _ in islice(re.finditer(b"\xff\xda", content), MAX_SCANS + 1))
    if scans > MAX_SCANS:
        raise FileRefusedError("too-many-scans", limit=MAX_SCANS)


def _of_itself(image: Image.Image) -> tuple[str | None, str | None]:
    try:
        exif = image.getexif()
        details = exif.get_ifd(0x8769)
    except UNREADABLE:
        return None, None
    taken_at = _text(details.get(36867)), _text(details.get(36881))
    camera = _text(exif.get(271)), _text(exif.get(272))
    return (" ".join(filter(None, taken_at)) if taken_at[0] else None), " ".join(filter(None, camera)) or None


def _text(value: object) -> str | None:
    if not isinstance(value, str):
        return None
    return "".join(character for character in value if character.isprintable()).strip()[:60] or None
