"""Readings typed or pasted as lines: one group a line, blanks or semicolons between, comma or point."""

import re
from collections.abc import Iterator, Sequence

from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.units import read
from qrecords.steps.planner.form import FURTHEST_NM, NOT_UNDERSTOOD, OUTSIDE, Form, ends_shown

MOST_SIGNS, MOST_LINES = 2500, 200
"""An address holds the question, and servers read no address of many thousand signs."""
FINER_THAN_READ = {"um": r"[+\-−]?\d*[.,]\d{3,}", "thou": r"[+\-−]?\d*[.,]\d{4,}"}
"""A bare number of so many places is no deviation that a gauge shows, but a whole size in mm or inch."""
NM_IN = {"um": 1000, "thou": 25_400}
TOO_LONG, LINES, COUNT, UNEVEN, NO_SPREAD = "too long", "lines", "count", "uneven", "no spread"
WHOLE = "whole sizes"
"""Why lines give no answer, as words that a page has sentences for."""

Line = tuple[int, list[str]]  # its number as the reader counts, from 1, and its words


def lines(form: Form, name: str) -> list[Line]:
    """The lines that say something, or none and what is asked back."""
    text = form.text(name)
    if len(text) > MOST_SIGNS:
        form.ask(name, TOO_LONG, f"{MOST_SIGNS}")
        return []
    found = [(number, words) for number, words in _words(text) if words]
    if not 2 <= len(found) <= MOST_LINES:
        form.ask(name, LINES, f"2…{MOST_LINES}")
        return []
    return found


def _words(text: str) -> Iterator[Line]:
    for number, line in enumerate(text.splitlines(), start=1):
        words = re.split(r"[;\s]+", line.strip())
        yield number, [word.rstrip(",") for word in words if word.rstrip(",")]


def readings(form: Form, name: str, number: int, words: Sequence[str]) -> tuple[float, ...] | None:
    """The readings of one line, in the form's unit of deviations; None where one is asked back."""
    low, high = ends_shown(-FURTHEST_NM, FURTHEST_NM, form.deviation_unit)
    found = []
    for word in words:
        if re.fullmatch(FINER_THAN_READ[form.deviation_unit], word):
            form.ask_of_line(name, number, word, form.deviation_unit, WHOLE)
            return None
        try:
            nm = read(word, "length", form.deviation_unit).base
        except EngineeringError:
            nm = None
        if nm is None or abs(nm) > FURTHEST_NM:
            why = NOT_UNDERSTOOD if nm is None else OUTSIDE
            form.ask_of_line(name, number, word, f"{low}…{high} {form.deviation_unit}", why)
            return None
        found.append(nm / NM_IN[form.deviation_unit])
    return tuple(found)


def even(form: Form, name: str, counts: Sequence[tuple[int, int]], least: int, most: int) -> bool:
    """Whether every line, by its number, has as many readings as the first, from `least` to `most`."""
    first_line, first = counts[0]
    if not least <= first <= most:
        form.ask_of_line(name, first_line, str(first), f"{least}…{most}", COUNT)
        return False
    for number, count in counts:
        if count != first:
            form.ask_of_line(name, number, str(count), str(first), UNEVEN)
            return False
    return True
