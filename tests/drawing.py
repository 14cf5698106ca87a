"""Small pictures that differ, for tests that need photos but not their content."""

import io
import random

from PIL import Image


def small_jpeg(seed: str) -> bytes:
    """A 64 × 48 JPEG whose bytes follow from the seed."""
    noise = random.Random(seed)
    image = Image.frombytes("RGB", (64, 48), noise.randbytes(64 * 48 * 3))
    stream = io.BytesIO()
    image.save(stream, "JPEG")
    return stream.getvalue()
