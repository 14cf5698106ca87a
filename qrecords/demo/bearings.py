"""Bearings as they are seen in a photograph, square on to the face or from the side."""

import math
from typing import Literal

from PIL import Image, ImageFilter

from qrecords.demo.picture import Picture
from qrecords.demo.shapes import annulus, disc, lettering_on_arc, polygon
from qrecords.demo.surfaces import SIZE, face_turned

Inside = Literal["balls", "rollers", "seal", "inner ring"]


def bearing_face(picture: Picture, x: float, y: float, outer: float, inside: Inside = "balls") -> None:
    """A bearing seen square on; `inside`: what is between its rings, or that it is one alone."""
    if inside == "inner ring":
        picture.lay(
            annulus(x, y, outer, outer * 0.68), face_turned(x, y, 196, "outer"), bevel_px=7, shadow_px=30
        )
        picture.shade(annulus(x, y, outer * 0.7, outer * 0.68), 0.3)
        return
    picture.lay(annulus(x, y, outer, outer * 0.84), face_turned(x, y, 196, "outer"), bevel_px=7, shadow_px=30)
    picture.lay(annulus(x, y, outer * 0.84, outer * 0.66), (24, 25, 27))
    if inside == "seal":
        picture.lay(annulus(x, y, outer * 0.83, outer * 0.67), (44, 46, 50), bevel_px=round(outer * 0.02))
        picture.shade(annulus(x, y, outer * 0.755, outer * 0.74), 0.5)
    else:
        _elements(picture, x, y, outer, inside)
    picture.lay(annulus(x, y, outer * 0.66, outer * 0.48), face_turned(x, y, 188, "inner"), bevel_px=7)
    picture.shade(annulus(x, y, outer * 0.5, outer * 0.48), 0.3)


def _elements(picture: Picture, x: float, y: float, outer: float, inside: Inside) -> None:
    count = 9 if inside == "balls" else 15
    for element in range(count):
        turn = math.radians((element + 0.28) * 360 / count)
        along, across = (math.sin(turn), -math.cos(turn)), (math.cos(turn), math.sin(turn))
        middle = (x + outer * 0.75 * along[0], y + outer * 0.75 * along[1])
        if not (-outer < middle[0] < SIZE[0] + outer and -outer < middle[1] < SIZE[1] + outer):
            continue
        if inside == "balls":
            picture.lay(disc(*middle, outer * 0.082), (104, 108, 114), bevel_px=max(2, round(outer * 0.03)))
        else:
            reach, half = outer * 0.085, outer * 0.062
            corners = [
                (
                    middle[0] + along[0] * a * reach + across[0] * b * half,
                    middle[1] + along[1] * a * reach + across[1] * b * half,
                )
                for a, b in ((-1, -0.86), (1, -1), (1, 1), (-1, 0.86))
            ]
            picture.lay(polygon(*corners), (132, 136, 142), bevel_px=max(2, round(outer * 0.014)))
    band = (
        annulus(x, y, outer * 0.785, outer * 0.715)
        if inside == "balls"
        else annulus(x, y, outer * 0.7, outer * 0.665)
    )
    picture.lay(band, face_turned(x, y, 132, "cage"), bevel_px=4)


def stamp(
    picture: Picture, text: str, x: float, y: float, radius: float, size_px: float, along_px: float
) -> None:
    """Text stamped along a ring, smaller if it would reach further along it than `along_px`."""
    size_px = min(size_px, along_px / (max(1, len(text)) * 0.72))
    picture.cut(lettering_on_arc(text, x, y, radius, size_px), 3 if size_px > 60 else 2)


def rounded(outline: Image.Image, radius_px: int) -> Image.Image:
    """The same shape with its corners rounded off, as paper or film lies over an edge."""
    soft = outline.filter(ImageFilter.GaussianBlur(radius_px))
    return soft.point([min(255, max(0, (value - 118) * 13)) for value in range(256)])
