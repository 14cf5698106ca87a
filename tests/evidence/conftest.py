"""Every test has its own evidence folder, and photographs made on the spot."""

import ctypes
import gc
import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

CHUNK = 65_536


@pytest.fixture(autouse=True)
def _of_its_own(evidence_dir: Path) -> None:
    """Nothing is kept in the folder of another test."""


def in_chunks(content: bytes) -> Iterator[bytes]:
    for start in range(0, len(content), CHUNK):
        yield content[start : start + CHUNK]


def scene(width_px: int = 1200, height_px: int = 900, mode: str = "RGB") -> Image.Image:
    """A picture whose upper left quarter is red and lower right blue, on a grey slope."""
    image = Image.linear_gradient("L").resize((width_px, height_px)).convert("RGB")
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, 0, width_px // 3, height_px // 3), fill=(200, 20, 20))
    draw.rectangle((width_px * 2 // 3, height_px * 2 // 3, width_px, height_px), fill=(20, 20, 200))
    return image.convert(mode)


def located_exif(orientation: int = 1) -> Image.Exif:
    """EXIF as a telephone writes it: camera, time with zone, orientation and the place."""
    exif = Image.Exif()
    exif[271], exif[272], exif[274] = "Kestrel", "Handset 4", orientation
    exif.get_ifd(0x8769).update({36867: "2026:06:04 10:12:40", 36881: "+02:00"})
    exif.get_ifd(0x8825).update(
        {1: "N", 2: (47.0, 31.0, 12.34), 3: "E", 4: (8.0, 43.0, 56.78), 29: "2026:06:04"}
    )
    return exif


@pytest.fixture
def encoded() -> Callable[..., bytes]:
    """`encoded("JPEG", image, **options)`: the bytes of a file in that format."""

    def encode(kind: str, image: Image.Image | None = None, **options: object) -> bytes:
        file = io.BytesIO()
        (image or scene()).save(file, kind, **options)
        return file.getvalue()

    return encode


@dataclass
class Rise:
    kb: int = 0


@contextmanager
def memory_rise() -> Iterator[Rise]:
    """How far resident memory rose above where it stood, at its highest (Linux: proc(5), VmHWM)."""
    gc.collect()
    ctypes.CDLL(None).malloc_trim(0)  # freed memory that is still resident would hide the rise
    status, rise = Path("/proc/self/status"), Rise()
    Path("/proc/self/clear_refs").write_text("5")  # sets the high-water mark to what is resident now
    before = int(status.read_text().split("VmRSS:")[1].split()[0])
    yield rise
    rise.kb = int(status.read_text().split("VmHWM:")[1].split()[0]) - before
