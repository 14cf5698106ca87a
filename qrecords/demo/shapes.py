"""Shapes with smooth edges, as grey masks of the size of the picture. Lengths are its pixels."""

import math
from collections.abc import Callable

from PIL import Image, ImageChops, ImageDraw, ImageFont

from qrecords.demo.surfaces import SIZE

FINE = 2  # drawn this much larger and reduced
Point = tuple[float, float]
Place = Callable[[float, float], Point]


def _smooth(corners: tuple[Point, Point], draw: Callable[[ImageDraw.ImageDraw, Place], None]) -> Image.Image:
    (left, top), (right, bottom) = corners
    left, top = math.floor(left) - 2, math.floor(top) - 2
    width, height = math.ceil(right) + 2 - left, math.ceil(bottom) + 2 - top
    canvas = Image.new("L", (width * FINE, height * FINE))
    draw(ImageDraw.Draw(canvas), lambda x, y: ((x - left) * FINE, (y - top) * FINE))
    whole = Image.new("L", SIZE)
    whole.paste(canvas.reduce(FINE), (left, top))
    return whole


def _around(points: list[Point], margin: float = 0) -> tuple[Point, Point]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) - margin, min(ys) - margin), (max(xs) + margin, max(ys) + margin)


def polygon(*points: Point) -> Image.Image:
    return _smooth(
        _around(list(points)), lambda draw, at: draw.polygon([at(*point) for point in points], fill=255)
    )


def box(left: float, top: float, right: float, bottom: float, round_px: float = 0) -> Image.Image:
    corners = (left, top), (right, bottom)
    return _smooth(
        corners,
        lambda draw, at: draw.rounded_rectangle(
            (at(left, top), at(right, bottom)), round_px * FINE, fill=255
        ),
    )


def disc(x: float, y: float, radius: float) -> Image.Image:
    upper, lower = (x - radius, y - radius), (x + radius, y + radius)
    return _smooth((upper, lower), lambda draw, at: draw.ellipse((at(*upper), at(*lower)), fill=255))


def annulus(x: float, y: float, outer: float, inner: float) -> Image.Image:
    return ImageChops.subtract(disc(x, y, outer), disc(x, y, inner))


def line(points: list[Point], width_px: float) -> Image.Image:
    """A stroke with round ends and corners: a cable, a cord, a crease."""

    def stroke(draw: ImageDraw.ImageDraw, at: Place) -> None:
        fine, radius = [at(*point) for point in points], width_px * FINE / 2
        draw.line(fine, fill=255, width=round(width_px * FINE), joint="curve")
        for x, y in (fine[0], fine[-1]):
            draw.ellipse((x - radius, y - radius, x + radius, y + radius), fill=255)

    return _smooth(_around(points, width_px), stroke)


def sagging(start: Point, end: Point, sag_px: float) -> list[Point]:
    """Points of a cable that hangs between two ends."""
    points = []
    for step in range(41):
        part = step / 40
        x = start[0] + (end[0] - start[0]) * part
        points.append((x, start[1] + (end[1] - start[1]) * part + sag_px * math.sin(math.pi * part)))
    return points


def font(size_px: float) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    """The typeface that Pillow brings with it, so that every machine draws the same."""
    return ImageFont.load_default(size_px)


def lettering(text: str, x: float, y: float, size_px: float, *, turn_deg: float = 0) -> Image.Image:
    """Text centred on a point, turned counter-clockwise."""
    face = font(size_px * FINE)
    left, top, right, bottom = face.getbbox(text, anchor="mm")
    reach = math.ceil(max(abs(edge) for edge in (left, top, right, bottom))) + 4
    tile = Image.new("L", (2 * reach, 2 * reach))
    ImageDraw.Draw(tile).text((reach, reach), text, fill=255, font=face, anchor="mm")
    tile = tile.rotate(turn_deg, Image.Resampling.BICUBIC).reduce(FINE)
    canvas = Image.new("L", SIZE)
    canvas.paste(tile, (round(x - tile.width / 2), round(y - tile.height / 2)))
    return canvas


def lettering_on_arc(text: str, x: float, y: float, radius: float, size_px: float) -> Image.Image:
    """Text along a circle around a point, its middle at the top, letter by letter as a stamp sets it."""
    face = font(size_px * FINE)
    widths = [face.getlength(letter) / FINE + size_px * 0.12 for letter in text]
    canvas, along = Image.new("L", SIZE), -sum(widths) / 2
    for letter, width in zip(text, widths, strict=True):
        angle = (along + width / 2) / radius
        along += width
        place = (x + radius * math.sin(angle), y - radius * math.cos(angle))
        canvas = ImageChops.lighter(canvas, lettering(letter, *place, size_px, turn_deg=-math.degrees(angle)))
    return canvas
