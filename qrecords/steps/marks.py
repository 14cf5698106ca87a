"""Arrows, circles and words drawn on a copy of a photo: kept as numbers beside it, the photo stays as it is.

Places are thousandths of the upright picture's width (from the left) and height (from the top), so that they
fit every copy of it; a radius is in thousandths of the width.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from qrecords.steps.errors import LineError

WHOLE = 1000
MOST, LONGEST = 20, 60
SMALLEST = 10
Place = tuple[int, int]


@dataclass(frozen=True)
class Arrow:
    """From where it begins to what it points at."""

    start: Place
    tip: Place

    def document(self) -> dict[str, Any]:
        return {"kind": "arrow", "from": list(self.start), "to": list(self.tip)}


@dataclass(frozen=True)
class Circle:
    at: Place
    radius: int

    def document(self) -> dict[str, Any]:
        return {"kind": "circle", "at": list(self.at), "radius": self.radius}


@dataclass(frozen=True)
class Words:
    at: Place
    text: str

    def document(self) -> dict[str, Any]:
        return {"kind": "text", "at": list(self.at), "text": self.text}


Mark = Arrow | Circle | Words


@dataclass(frozen=True)
class PhotoMarks:
    """What one person drew on one photo at one moment; `replaced` where another drawing took its place."""

    sha256: str
    marks: tuple[Mark, ...]
    entry: str
    author: str
    at: datetime
    after_signature: bool = False
    replaced: bool = False


def read_marks(documents: Sequence[Mapping[str, Any]]) -> tuple[Mark, ...]:
    """The marks of a drawing; LineError names the mark, counted from 1, and what is wrong with it."""
    if len(documents) > MOST:
        raise LineError("marks", MOST + 1, str(len(documents)), "", f"up to {MOST} marks", "too many")
    return tuple(_mark(document, line) for line, document in enumerate(documents, start=1))


def _mark(document: Mapping[str, Any], line: int) -> Mark:
    match document.get("kind"):
        case "arrow":
            start, tip = (_place(document, name, line) for name in ("from", "to"))
            if start == tip:
                raise LineError(
                    "to", line, f"{tip[0]}, {tip[1]}", "‰", "another place than where the arrow begins", ""
                )
            return Arrow(start, tip)
        case "circle":
            radius = _whole(document.get("radius"), "radius", line, SMALLEST)
            return Circle(_place(document, "at", line), radius)
        case "text":
            return Words(_place(document, "at", line), _text(document.get("text"), line))
    raise LineError("kind", line, str(document.get("kind")), "", "arrow, circle, text", "")


def _place(document: Mapping[str, Any], name: str, line: int) -> Place:
    told = document.get(name)
    if not isinstance(told, list | tuple) or len(told) != 2:
        raise LineError(name, line, str(told), "‰", f"two whole numbers, 0…{WHOLE} each", "")
    return _whole(told[0], name, line), _whole(told[1], name, line)


def _whole(told: Any, name: str, line: int, least: int = 0) -> int:
    if isinstance(told, bool) or not isinstance(told, int) or not least <= told <= WHOLE:
        raise LineError(name, line, str(told), "‰", f"a whole number, {least}…{WHOLE}", "")
    return told


def _text(told: Any, line: int) -> str:
    text = told.strip() if isinstance(told, str) else ""
    if not text or len(text) > LONGEST or not text.isprintable():
        raise LineError("text", line, str(told), "", f"1 to {LONGEST} characters in one line", "")
    return text
