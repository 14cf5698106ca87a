"""The points of a new revision: what they cover and wait for is worked under it, says whom it concerns."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from qrecords.engineering.errors import shortened
from qrecords.steps.new_gear import is_whole
from qrecords.steps.odd import Odd
from qrecords.steps.points import (
    BUILT_IN_HOLDS,
    HEAT,
    HOLD,
    MOST_NOTICE_MIN,
    SIGN_OFF,
    WITNESS,
    read_point,
)
from qrecords.steps.work import STEPS


def is_field(said: Any, steps: Sequence[str]) -> bool:
    """`step.field` of a step that is worked."""
    step, _, field = str(said).partition(".")
    return step in steps and step in STEPS and field in STEPS[step].by_id


def is_asked_beside(said: str) -> bool:
    """A field that is asked only where a procedure lists it."""
    step, _, field = said.partition(".")
    return STEPS[step].by_id[field].by_procedure


def not_a_field(said: Any, steps: Sequence[str]) -> str:
    """Why it is none: what would be one."""
    step, _, _field = str(said).partition(".")
    if step not in steps or step not in STEPS:
        return f"{shortened(str(said))!r} is of no step of it; allowed: {', '.join(steps)}, then a field"
    return f"{shortened(str(said))!r} is no field; allowed: {', '.join(STEPS[step].by_id)}"


def odd_points(document: Mapping[str, Any]) -> Iterator[Odd]:
    steps, ids = list(document.get("steps", ())), set(BUILT_IN_HOLDS)
    titles: list[str] = []
    for nth, said in enumerate(document.get("points", ())):
        at = f"/points/{nth}"
        if said.get("id") in ids:
            yield Odd(f"{at}/id", "points", f"{shortened(str(said['id']))!r} is the name of another point")
        ids.add(str(said.get("id")))
        title = str(said.get("title") or said.get("id"))
        if title in titles:
            yield Odd(f"{at}/title", "points", f"{shortened(title)!r} is the title of another point")
        titles.append(title)
        yield from _odd_point(said, at, steps)


def _odd_point(said: Mapping[str, Any], at: str, steps: Sequence[str]) -> Iterator[Odd]:
    notice = said.get("notice_min", 0)
    if not is_whole(notice) or not 0 <= notice <= MOST_NOTICE_MIN:
        why = (
            f"{shortened(str(notice))} min is not possible; allowed: 0…{MOST_NOTICE_MIN} min, a whole number"
        )
        yield Odd(f"{at}/notice_min", "notice_min", why)
        return
    point = read_point(said)
    for nth, covered in enumerate(point.covers):
        if covered not in steps and not is_field(covered, steps):
            yield Odd(f"{at}/covers/{nth}", "points", not_a_field(covered, steps))
    if not point.covers:
        yield Odd(f"{at}/covers", "points", "it covers nothing; allowed: a step, or a field of a step")
    if not point.party.strip():
        yield Odd(f"{at}/party", "points", "not given; whom it concerns: inspector, customer, surveyor…")
    waits = (*steps, HEAT, SIGN_OFF)
    if point.kind == HOLD and point.before not in waits:
        why = f"{shortened(point.before)!r} is no step of it; allowed: {', '.join(waits)}"
        yield Odd(f"{at}/before", "points", why)
    if point.kind == HOLD and point.before in point.steps:
        yield Odd(f"{at}/before", "points", f"{point.before!r} is covered by it: nothing waits for itself")
    if point.kind != WITNESS and point.notice_min:
        yield Odd(f"{at}/notice_min", "notice_min", "only a witness point has a notice time; allowed: 0")
