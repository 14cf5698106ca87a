"""What things of the workshop are made of, as the light shows them: steel turned, ground and filed.

Deterministic: the same call gives the same pixels on every machine with the same Pillow.
"""

import math
import random
from functools import lru_cache
from itertools import pairwise

from PIL import Image, ImageChops, ImageDraw, ImageFilter

SIZE = (1600, 1200)
Colour = tuple[int, int, int]
Stops = list[tuple[float, int]]


def grain(size: tuple[int, int], seed: str, soft_px: float = 0) -> Image.Image:
    """Grey noise around 128, the same for the same seed."""
    made = Image.frombytes("L", size, random.Random(seed).randbytes(size[0] * size[1]))  # noqa: S311 - a picture
    return made.filter(ImageFilter.GaussianBlur(soft_px)) if soft_px else made


def ramp(stops: Stops, size: tuple[int, int], *, down: bool = True) -> Image.Image:
    """A grey slope through stops of (place 0…1, grey), from top to bottom or from left to right."""
    values = [round(_between(stops, step / 255)) for step in range(256)]
    strip = Image.frombytes("L", (1, 256) if down else (256, 1), bytes(values))
    return strip.resize(size, Image.Resampling.BICUBIC)


def _between(stops: Stops, place: float) -> float:
    for (start, low), (end, high) in pairwise(stops):
        if place <= end:
            return low + (high - low) * (place - start) / (end - start or 1)
    return stops[-1][1]


def tinted(grey: Image.Image, colour: Colour) -> Image.Image:
    """A grey picture in a colour: white becomes the colour, black stays."""
    bands = [grey.point([min(255, value * part // 255) for value in range(256)]) for part in colour]
    return Image.merge("RGB", bands)


@lru_cache(maxsize=8)
def face_turned(x: float, y: float, tone: int, seed: str) -> Image.Image:
    """A face turned or ground in circles: the light lies on it in two opposite fans."""
    small = Image.new("L", (SIZE[0] // 4, SIZE[1] // 4), tone)
    draw, reach = ImageDraw.Draw(small), max(SIZE)
    shimmer = random.Random(seed)  # noqa: S311 - a picture
    for degree in range(360):
        light = 0.5 + 0.5 * math.cos(math.radians(2 * (degree - 232)))
        value = tone * (0.55 + 0.5 * light**3) + shimmer.uniform(-4, 4)
        edges = (math.radians(degree), math.radians(degree + 1.5))
        fan = [(x / 4 + reach * math.cos(edge), y / 4 + reach * math.sin(edge)) for edge in edges]
        draw.polygon([(x / 4, y / 4), *fan], fill=min(255, round(value)))
    fans = small.filter(ImageFilter.GaussianBlur(1)).resize(SIZE, Image.Resampling.BICUBIC)
    return tinted(Image.blend(fans, grain(SIZE, seed, 0.8), 0.08), (248, 251, 255))


def cylinder(left: float, top: float, right: float, bottom: float, seed: str, tone: float = 1) -> Image.Image:
    """The surface of a round bar lying across the picture, ground: bright crown, dark flanks, fine rings."""
    width, height = round(right - left), round(bottom - top)
    stops = [
        (0, 46),
        (0.08, 92),
        (0.2, 168),
        (0.29, 250),
        (0.36, 236),
        (0.5, 160),
        (0.72, 84),
        (0.92, 50),
        (1, 82),
    ]
    round_light = ramp([(place, round(value * tone)) for place, value in stops], (width, height))
    rings = Image.frombytes("L", (width, 1), random.Random(seed).randbytes(width)).resize((width, height))  # noqa: S311 - a picture
    surface = Image.blend(
        round_light, ImageChops.multiply(round_light, rings.point(lambda v: 200 + v // 5)), 0.5
    )
    canvas = Image.new("L", SIZE)
    canvas.paste(surface, (round(left), round(top)))
    return tinted(canvas, (240, 245, 252))


def steel(seed: str, tone: int = 190) -> Image.Image:
    """A flat steel part with marks of the file and uneven light."""
    streaks = grain((4, SIZE[1] // 2), seed).resize(SIZE)
    light = ramp([(0, min(255, tone + 30)), (0.6, tone), (1, tone - 45)], SIZE)
    return tinted(Image.blend(light, streaks, 0.07), (240, 244, 250))


@lru_cache(maxsize=8)
def ground(colour: Colour, seed: str) -> Image.Image:
    """What lies behind, out of focus: a bench or a wall with pools of light."""
    blots = (
        grain((10, 8), seed, 0.6).resize(SIZE, Image.Resampling.BICUBIC).filter(ImageFilter.GaussianBlur(40))
    )
    light = ramp([(0, 210), (0.55, 130), (1, 70)], SIZE)
    return tinted(Image.blend(light, blots, 0.35), colour)
