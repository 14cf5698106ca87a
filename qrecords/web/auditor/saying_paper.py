"""What entries say of paper, of the change of shift and of what was drawn on a photo."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.utils.translation import gettext

from qrecords.steps.marks import Arrow, Circle, Mark, read_marks
from qrecords.tracing.record import Line
from qrecords.web.auditor.told import Told

Words = tuple[str, Iterable[Told]]


def said_of_paper(said: Mapping[str, Any]) -> list[Told]:
    """What was entered from a sheet of paper says so before all else."""
    paper = said.get("paper")
    if not paper:
        return []
    told = [Told(gettext("from paper sheet, written"), paper.get("written") or gettext("without a time"))]
    named = paper.get("reference")
    return told + ([Told(gettext("release named by hand"), named)] if named else [])


def paper_sheet(line: Line) -> Words:
    photos = str(len(line.entry.payload["files"]))
    return gettext("paper sheet handed in"), [
        Told(gettext("written by"), line.other),
        Told(gettext("begun on"), line.said["day"]),
        Told(gettext("photos of it"), photos),
    ]


def hand_over(line: Line) -> Words:
    note = line.said.get("note", "")
    told = [Told(gettext("to"), line.other)]
    return gettext("handed over"), told + ([Told(gettext("note"), note)] if note else [])


def photo_marks(line: Line) -> Words:
    told = [Told(gettext("photo"), line.said["sha256"])]
    told += [mark_told(mark) for mark in read_marks(line.said["marks"])]
    return gettext("drawn on a copy of a photo"), told


def mark_told(mark: Mark) -> Told:
    """One mark in words; places in thousandths from the left and from the top."""
    match mark:
        case Arrow(start, tip):
            return Told(gettext("arrow"), f"{start[0]}, {start[1]} → {tip[0]}, {tip[1]} ‰")
        case Circle(at, radius):
            return Told(gettext("circle"), f"{at[0]}, {at[1]}, r {radius} ‰")
    return Told(gettext("words"), mark.text)
