"""From a form to entries, one a step: all of it or nothing; and what the findings would then be."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from qrecords.ledger.append import atomic
from qrecords.mountings.actions.papering import FromPaper
from qrecords.mountings.actions.recording import Given, Typed, parse, record
from qrecords.mountings.errors import FieldsError, NothingSaidError
from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.proof.identifiers import following
from qrecords.steps.answers import Answer, Value
from qrecords.steps.case import Answered, Case
from qrecords.steps.errors import FieldError, OddError, SlipError
from qrecords.steps.expected import expected_for
from qrecords.steps.felt_cold import told_anew
from qrecords.steps.fields import Gear
from qrecords.steps.siblings import near_siblings
from qrecords.steps.standard import STEPS, all_findings
from qrecords.workshop.queries import frozen_gear

SURFACES = (("measurement", "journal"), ("bore", "bore"))
"""Where many readings of one surface stand beside each other."""
TRIED = "typed, not recorded"
GivenBySteps = Mapping[str, Mapping[str, Given]]


def say(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    given: GivenBySteps,
    reason: str,
    case: Case,
    paper: FromPaper | None = None,
) -> int:
    """Record every step of a form under ids that follow from the form's own, so that sending it twice is a
    replay. FieldsError names the fields of all steps as `step.key`. `paper`: they were entered from a sheet.
    Returns how many steps said something.
    """
    _answers, errors = read(case, given)
    if errors:
        raise FieldsError(errors)
    said = 0
    with atomic():
        for step, fields in given.items():
            try:
                record(
                    acting=acting,
                    mounting=mounting,
                    entry_id=following(entry_id, step),
                    step_id=step,
                    given=fields,
                    reason=reason,
                    form=True,
                    paper=paper,
                )
                said += 1
            except NothingSaidError:
                continue
    return said


def read(case: Case, given: GivenBySteps) -> tuple[dict[str, Answer], dict[str, FieldError]]:
    """Every field by itself, as `step.key`: its answer, or why it gives none."""
    answers: dict[str, Answer] = {}
    errors: dict[str, FieldError] = {}
    for step, fields in given.items():
        for key, raw in fields.items():
            try:
                answers[f"{step}.{key}"] = parse(STEPS[step], case, {key: raw})[key]
            except FieldsError as error:
                errors[f"{step}.{key}"] = error.errors[key]
    errors |= _odd(case, given, answers)
    return {name: answer for name, answer in answers.items() if name not in errors}, errors


def _odd(case: Case, given: GivenBySteps, answers: Mapping[str, Answer]) -> dict[str, FieldError]:
    """What was typed now, is far from the other readings of its surface and was not confirmed."""
    found: dict[str, FieldError] = {}
    for step, head in SURFACES:
        usual = expected_for(case, step, head)
        names = [name for name in answers if name.startswith(f"{step}.{head}.")]
        if usual is None or not names:
            continue
        standing = {f"{step}.{a.key}": a.base for a in case.many(step, head) if case.value_of(step, a.key)}
        typed = {name: answer.value for name in names if isinstance(answer := answers[name], Value)}
        bases = standing | {name: value for name, value in typed.items() if isinstance(value, int)}
        for name in typed:
            raw, near = given[step][name.partition(".")[2]], near_siblings(name, bases, usual)
            if near is None or not isinstance(raw, Typed) or raw.sure:
                continue
            try:
                STEPS[step].by_id[head].parse(raw.text, raw.unit, near)
            except SlipError as slip:
                found[name] = OddError(head, slip.typed, slip.unit, slip.allowed, slip.meant, slip.meant_unit)
    return found


def sent_before(case: Case, entry_id: uuid.UUID, given: GivenBySteps) -> bool:
    """This very form was recorded already, at least one step of it."""
    return any(str(following(entry_id, step)) in case.order for step in given)


def changes(case: Case, answers: Mapping[str, Answer]) -> list[str]:
    """The answers that stand already and would become others: each wants a reason."""
    standing = {name: case.said(*name.split(".", 1)) for name in answers}
    return [
        name
        for name, known in standing.items()
        if known and known.answer != answers[name] and not told_anew(case, name.partition(".")[0], known)
    ]


@dataclass(frozen=True)
class Tried:
    judged: Judged
    errors: Mapping[str, FieldError]
    changed: tuple[str, ...] = ()


def tried(judged: Judged, given: GivenBySteps, now: datetime) -> Tried:
    """The findings as they would be if what was typed were recorded. Writes nothing; one query."""
    case = judged.case
    answers, errors = read(case, given)
    merged = {step: dict(known) for step, known in case.answers.items()}
    gear: dict[str, str] = {}
    for name, answer in answers.items():
        step, _, key = name.partition(".")
        standing = merged.setdefault(step, {}).get(key)
        if standing is None or standing.answer != answer or told_anew(case, step, standing):
            merged[step][key] = Answered(key, answer, TRIED, "", now, False)
            if isinstance(answer, Value) and isinstance(STEPS[step].field(key).form, Gear):
                gear[key] = str(answer.value)
    records = frozen_gear(gear.values(), now)
    frozen = {key: records[id] for key, id in gear.items() if id in records}
    changed = replace(
        case,
        answers=merged,
        seen={**case.seen, TRIED: {"gear": frozen}},
        order={**case.order, TRIED: len(case.order)},
    )
    return Tried(Judged(changed, tuple(all_findings(changed))), errors, tuple(changes(case, answers)))
