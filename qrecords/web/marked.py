"""What was drawn on a copy of a photo, as a drawing over the picture: the photo itself stays as it came."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext
from PIL import Image

from qrecords.evidence.derivatives import path_of
from qrecords.steps.case import Case
from qrecords.steps.marks import WHOLE, Arrow, Circle, Mark, PhotoMarks, Words

SMALL_PX = 320
HEAD, HALF_ANGLE = 42, math.radians(24)
"""Length of an arrow's head and half its opening, in the drawing's own thousandths of the width."""
LETTER = 52


@dataclass(frozen=True)
class Stroke:
    """A line (`path`), or words at a place."""

    path: str = ""
    filled: bool = False
    x: float = 0
    y: float = 0
    text: str = ""
    anchor: str = "start"


@dataclass(frozen=True)
class Drawn:
    """Everything drawn on one photo. The box is 1000 wide and as high as the upright picture."""

    height: int
    strokes: tuple[Stroke, ...]
    words: str


def box_height(sha256: str) -> int:
    """How high the upright picture is for a width of 1000; square while its small picture is not made."""
    path = path_of(sha256, SMALL_PX)
    if path is None:
        return WHOLE
    with Image.open(path) as small:
        return round(WHOLE * small.height / small.width)


def standing(case: Case, sha256: str) -> list[PhotoMarks]:
    """The drawings of a photo that no other took the place of."""
    return [each for each in case.marks if each.sha256 == sha256 and not each.replaced and each.marks]


def drawn_on(case: Case, sha256: str, *, signed: bool = False) -> Drawn | None:
    """The drawing over one photo; None where nothing is drawn. `signed`: only what stood at the signature."""
    found = [each for each in standing(case, sha256) if not (signed and each.after_signature)]
    if not found:
        return None
    height = box_height(sha256)
    marks = [mark for each in found for mark in each.marks]
    return Drawn(height, tuple(stroke for mark in marks for stroke in strokes(mark, height)), in_words(marks))


def in_words(marks: Iterable[Mark]) -> str:
    """`arrow, circle, “burr here”`: for who does not see the drawing."""
    return ", ".join(_word(mark) for mark in marks)


def _word(mark: Mark) -> str:
    match mark:
        case Arrow():
            return gettext("arrow")
        case Circle():
            return gettext("circle")
    return f"“{mark.text}”"


def strokes(mark: Mark, height: int) -> tuple[Stroke, ...]:
    """One mark in the box of its photo."""

    def at(place: tuple[int, int]) -> tuple[float, float]:
        return float(place[0]), place[1] * height / WHOLE

    match mark:
        case Arrow(start, tip):
            return _arrow(at(start), at(tip))
        case Circle(place, radius):
            x, y = at(place)
            half = f"a{radius} {radius} 0 1 0"
            return (Stroke(f"M{x - radius:.1f} {y:.1f}{half} {2 * radius} 0{half} {-2 * radius} 0"),)
        case Words(place, text):
            x, y = at(place)
            anchor = "end" if x > WHOLE / 2 else "start"
            return (Stroke(x=x, y=min(max(y, LETTER), height - 8), text=text, anchor=anchor),)


def _arrow(start: tuple[float, float], tip: tuple[float, float]) -> tuple[Stroke, ...]:
    (x1, y1), (x2, y2) = start, tip
    turn = math.atan2(y2 - y1, x2 - x1)
    sides = (turn + HALF_ANGLE, turn - HALF_ANGLE)
    back = [(x2 - HEAD * math.cos(side), y2 - HEAD * math.sin(side)) for side in sides]
    head = " ".join(f"{x:.1f} {y:.1f}L" for x, y in back).rstrip("L")
    return (
        Stroke(f"M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}"),
        Stroke(f"M{x2:.1f} {y2:.1f}L{head}Z", filled=True),
    )
