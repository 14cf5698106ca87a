"""Whether a person's competence held on a day: for the task, the size, the kind of bearing and the position.

A competence runs out on its last day, which is valid too, and lapses when its task was not done for twelve
months (common practice, no source); being assessed anew counts as having done it.
"""

import uuid
from calendar import monthrange
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from qrecords.people.models import Competence, Eyesight

HELD, LAPSED, NONE, DIFFERS, KIND_UNKNOWN = "held", "lapsed", "none", "differs", "kind unknown"
LAPSE_YEARS = 1
"""Common practice, no source."""
FEWEST_JOBS = 5
"""Supervised jobs that an assessment by them rests on at least; common practice, no source."""


@dataclass(frozen=True)
class Range:
    """What an assessment is limited to beside sizes, and how many supervised jobs it rests on (None: on none,
    or not told). Empty: every kind of bearing, every position."""

    kinds: tuple[str, ...] = ()
    positions: tuple[str, ...] = ()
    jobs: int | None = None

    def said(self) -> dict[str, Any]:
        """As an entry states it: what limits nothing is left out."""
        told: dict[str, Any] = {"kinds": list(self.kinds), "positions": list(self.positions)}
        told |= {"jobs": self.jobs}
        return {name: value for name, value in told.items() if value}


EVERYTHING = Range()


@dataclass(frozen=True)
class Asked:
    """What a competence has to cover. `kind` '' is not known; `position` '' is not asked."""

    task: str
    size_mm: Decimal
    kind: str = ""
    position: str = ""


@dataclass(frozen=True)
class Standing:
    """One person's competence on one day, with the last day on which it will hold, and why it does not."""

    state: str
    until: date | None = None
    not_done_since: date | None = None
    """Set where it lapsed because the task was not done."""


def rows_for(person: uuid.UUID, site: uuid.UUID, task: str) -> list[Competence]:
    """Everything that was ever recorded of one person for one task at a site; one query."""
    return list(
        Competence.objects.filter(person_id=person, site=site, task=task).order_by("valid_from", "id")
    )


def standing_on(
    rows: Iterable[Competence], asked: Asked, day: date, last_done: date | None = None
) -> Standing:
    """What these rows say of a day; `last_done`: when the task was last done before. The best row counts."""
    begun = [row for row in rows if row.valid_from <= day and row.from_mm <= asked.size_mm <= row.to_mm]
    begun = [row for row in begun if not row.positions or asked.position in ("", *row.positions)]
    covering = [row for row in begun if not row.kinds or asked.kind in row.kinds]
    if not covering:
        return Standing(KIND_UNKNOWN if begun and not asked.kind else NONE)
    return max((_row_on(row, day, last_done) for row in covering), key=_rank)


def _rank(standing: Standing) -> tuple[bool, date]:
    return standing.state == HELD, standing.until or date.min


def _row_on(row: Competence, day: date, last_done: date | None) -> Standing:
    used = max(filter(None, [row.valid_from, vouched_on(row), last_done]))
    until = min(row.valid_to, year_after(used))
    if day <= until:
        return Standing(HELD, until)
    return Standing(LAPSED, until, used if until < row.valid_to else None)


def vouched_on(row: Competence) -> date | None:
    """The day on which the assessor said so here: whoever vouches today knows what was done until today."""
    return row.recorded_at.date() if row.recorded_at else None


def year_after(day: date) -> date:
    """The same day of the next year; of 29 February the last of that month."""
    year = day.year + LAPSE_YEARS
    return date(year, day.month, min(day.day, monthrange(year, day.month)[1]))


def one_of_both(states: Sequence[Standing], *, same_role: bool = True) -> Standing:
    """What may be said of an act between two days: the same on both, else that it is not the same."""
    first, last = states
    return last if first.state == last.state and same_role else Standing(DIFFERS)


def eyesight_on(person: uuid.UUID, site: uuid.UUID, days: Iterable[date]) -> tuple[Standing, ...]:
    """*Held*, *lapsed*, or *none* where no test was ever recorded, on each of these days; one query."""
    rows = list(Eyesight.objects.filter(person_id=person, site=site))
    return tuple(_seen_on([row for row in rows if row.tested_on <= day], day) for day in days)


def _seen_on(rows: Sequence[Eyesight], day: date) -> Standing:
    if not rows:
        return Standing(NONE)
    until = max(row.valid_to for row in rows)
    return Standing(HELD if day <= until else LAPSED, until)
