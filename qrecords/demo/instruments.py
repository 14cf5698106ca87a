"""Instruments as they lie in a photograph: their displays and housings."""

from PIL import Image, ImageChops

from qrecords.demo.picture import Picture
from qrecords.demo.shapes import box, lettering, polygon
from qrecords.demo.surfaces import SIZE, ramp, tinted

HOUSING = (58, 63, 68)
GLASS = (196, 206, 180)
# Segments of a figure: top, upper left, upper right, middle, lower left, lower right, bottom.
_LIT = {
    "0": "1110111", "1": "0010010", "2": "1011101", "3": "1011011", "4": "0111010", "5": "1101011",
    "6": "1101111", "7": "1010010", "8": "1111111", "9": "1111011", "-": "0001000", " ": "0000000",
    "H": "0111110", "L": "0100101", "o": "0001111",
}  # fmt: skip


def display(
    picture: Picture, text: str, left: float, top: float, right: float, bottom: float, unit: str
) -> None:
    """A liquid-crystal display with `text` in seven segments, right-aligned, and the unit in small print."""
    light = ramp([(0, 255), (0.5, 236), (1, 214)], SIZE)
    picture.lay(box(left - 14, top - 14, right + 14, bottom + 14, 16), (22, 25, 28), bevel_px=3)
    picture.lay(box(left, top, right, bottom, 6), tinted(light, GLASS))
    picture.shade(
        ImageChops.multiply(box(left, top, right, top + 12, 4), box(left, top, right, bottom)), 0.22
    )
    unit_px = (bottom - top) * 0.19
    at = right - unit_px * (len(unit) * 0.5 + 0.8)
    picture.shade(lettering(unit, (at + right) / 2, bottom - unit_px, unit_px), 0.8)
    places = sum(0.13 if sign in ".," else 0.64 for sign in text)
    height = min((bottom - top) * 0.66, (at - left - 24) / places)
    width, low = height * 0.5, (top + bottom + height) / 2
    for sign in reversed(text):
        if sign in ".,":
            dot = height * 0.1
            picture.shade(box(at - dot * 1.5, low - dot, at - dot * 0.5, low, 2), 0.82)
            at -= dot * 1.3
            continue
        at -= width * 1.28
        _figure(picture, sign, at, low - height, width, height)


def _figure(picture: Picture, sign: str, x: float, y: float, width: float, height: float) -> None:
    lit, dark = Image.new("L", SIZE), Image.new("L", SIZE)
    for segment, on in zip(_segments(x, y, width, height), _LIT[sign], strict=True):
        if on == "1":
            lit = ImageChops.lighter(lit, segment)
        else:
            dark = ImageChops.lighter(dark, segment)
    picture.shade(dark, 0.05)
    picture.shade(lit, 0.84)


def _segments(x: float, y: float, width: float, height: float) -> list[Image.Image]:
    thick, half = width * 0.2, height / 2

    def slanted(*points: tuple[float, float]) -> Image.Image:
        return polygon(*((px + (y + height - py) * 0.09, py) for px, py in points))

    def across(top: float) -> Image.Image:
        a, b, m = x + thick * 0.6, x + width - thick * 0.6, top + thick / 2
        return slanted(
            (a, m),
            (a + thick / 2, top),
            (b - thick / 2, top),
            (b, m),
            (b - thick / 2, top + thick),
            (a + thick / 2, top + thick),
        )

    def upright(left: float, top: float) -> Image.Image:
        a, b, m = top + thick * 0.6, top + half - thick * 0.1, left + thick / 2
        return slanted(
            (m, a),
            (left + thick, a + thick / 2),
            (left + thick, b - thick / 2),
            (m, b),
            (left, b - thick / 2),
            (left, a + thick / 2),
        )

    right = x + width - thick
    middle = y + half - thick / 2
    return [
        across(y), upright(x, y), upright(right, y), across(middle),
        upright(x, middle), upright(right, middle), across(y + height - thick),
    ]  # fmt: skip


def handheld(picture: Picture, x: float, y: float, text: str, unit: str, name: str) -> None:
    """A hand-held meter, its upper left corner at (x, y): display above, keys below, the name on it."""
    picture.lay(box(x, y, x + 470, y + 690, 54), HOUSING, bevel_px=10, shadow_px=26)
    picture.lay(box(x + 22, y + 22, x + 448, y + 668, 40), (74, 80, 86), bevel_px=3)
    display(picture, text, x + 62, y + 78, x + 408, y + 258, unit)
    picture.light(lettering(name, x + 235, y + 316, 30), 0.75)
    for row in range(3):
        for column in range(3):
            left, top = x + 74 + column * 114, y + 372 + row * 92
            colour = (164, 52, 44) if (row, column) == (0, 0) else (112, 118, 124)
            picture.lay(box(left, top, left + 92, top + 62, 16), colour, bevel_px=5, shadow_px=5)
