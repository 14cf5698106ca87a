"""A look-back as it is opened: of what, between which moments, and what would put it right."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from qrecords.engineering.errors import shortened
from qrecords.steps.errors import DocumentError
from qrecords.steps.suspect import ErrorOfSize, read_error

PIECE, LOT, PERSON, DRAWING, BATCH = SUBJECTS = (
    "equipment",
    "bearing lot",
    "person",
    "drawing revision",
    "lubricant batch",
)
"""Gauge, probe, master, feeler set and heater are pieces of equipment."""
LONGEST = 80


@dataclass(frozen=True)
class Asked:
    """`of` names the piece or person by its id, else lot, batch or drawing as written. An `error` is known of
    a piece only, and need not be; `revision` and `right` belong to a drawing: the wrong one and the right."""

    subject: str
    of: str
    since: datetime
    until: datetime
    error: ErrorOfSize | None
    revision: str
    right: str

    @property
    def puts_right(self) -> bool:
        """Whether readings or limits are put right; else what is in doubt is listed and asks for actions."""
        return self.error is not None or self.subject == DRAWING


def read_look_back(document: Mapping[str, Any]) -> Asked:
    """DocumentError names the first field that cannot be."""
    subject = str(document.get("subject", ""))
    if subject not in SUBJECTS:
        raise _fault("subject", f"{shortened(subject)!r}; allowed: {', '.join(SUBJECTS)}")
    since, until = (_moment(document, name) for name in ("since", "until"))
    if since >= until:
        raise _fault("until", "is not after the moment it begins; allowed: a later moment")
    points = document.get("points") or []
    if points and subject != PIECE:
        raise _fault("points", f"an error by size is known of a piece only, not of a {subject}")
    drawing = subject == DRAWING
    revision, right = (_text(document, name) if drawing else "" for name in ("revision", "right"))
    if drawing and revision == right:
        raise _fault("right", f"{right!r} is the wrong revision itself; allowed: another one")
    error = read_error(points) if points else None
    return Asked(subject, _text(document, "of"), since, until, error, revision, right)


def _text(document: Mapping[str, Any], name: str) -> str:
    text = str(document.get(name) or "").strip()
    if not text or len(text) > LONGEST or not text.isprintable():
        raise _fault(name, f"{shortened(text)!r}; allowed: 1 to {LONGEST} characters in one line")
    return text


def _moment(document: Mapping[str, Any], name: str) -> datetime:
    told = str(document.get(name) or "")
    try:
        found = datetime.fromisoformat(told)
    except ValueError:
        found = None
    if found is None or found.tzinfo is None:
        raise _fault(name, f"{shortened(told)!r}; allowed: a moment with its zone")
    return found


def _fault(field: str, why: str) -> DocumentError:
    return DocumentError("look-back", field, why)
