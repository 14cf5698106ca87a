"""Recording a step: from what was typed to an entry, readings and findings."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import Said, entries_of
from qrecords.mountings.actions.papering import Done, FromPaper, read_from_paper
from qrecords.mountings.competence import competence_between, eyesight_between, frozen, frozen_eyesight
from qrecords.mountings.errors import FieldsError, NeedsReasonError, NothingSaidError, refuse_closed
from qrecords.mountings.folded import folded
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Capture, Mounting
from qrecords.mountings.queries import tables_for
from qrecords.mountings.stating import Statement
from qrecords.outbox.jobs import enqueue
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.steps.answers import Absent, Answer, Value
from qrecords.steps.case import Answered, Case
from qrecords.steps.checking import measured_again
from qrecords.steps.errors import FieldError, SlipError
from qrecords.steps.expected import expected_for
from qrecords.steps.felt_cold import to_feel_again, told_anew
from qrecords.steps.fields import Gear
from qrecords.steps.runs import overtaken
from qrecords.steps.standard import STEPS
from qrecords.steps.step import Step
from qrecords.workshop.look_back_actions import JOB
from qrecords.workshop.models import LookBack
from qrecords.workshop.queries import frozen_gear, procedure_by_digest
from qrecords.workshop.shifts import shift_of


@dataclass(frozen=True)
class Typed:
    """A field as it came from the edge: untouched text, its unit, and whether a doubt was confirmed."""

    text: str
    unit: str = ""
    sure: bool = False


Given = Typed | Absent
LONGEST_REASON = 200
"""A judgement names every reason and must fit into one entry."""


def parse(step: Step, case: Case, given: Mapping[str, Given]) -> dict[str, Answer]:
    """The answers that were typed; FieldsError with every field that gave none. The only parse."""
    answers: dict[str, Answer] = {}
    errors: dict[str, FieldError] = {}
    for key, raw in given.items():
        field = step.field(key)
        if isinstance(raw, Absent):
            if 1 <= len(raw.reason.strip()) <= LONGEST_REASON and raw.reason.isprintable():
                answers[key] = raw
            else:
                allowed = f"a reason of 1 to {LONGEST_REASON} characters in one line"
                errors[key] = FieldError(key, raw.reason, "", allowed)
            continue
        try:
            expected = expected_for(case, step.id, field.id)
            answers[key] = field.parse(raw.text, raw.unit, expected, sure=raw.sure)
        except FieldError as error:
            errors[key] = error
    if errors:
        raise FieldsError(errors)
    return answers


def record(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    step_id: str,
    given: Mapping[str, Given],
    check: bool = False,
    reason: str = "",
    form: bool = False,
    later: bool = False,
    paper: FromPaper | None = None,
) -> Entry:
    """Record what was said of one step. A true but bad fact is recorded and flagged.

    Everything given was said, also what somebody else said before; but a `form` sends back what stands on it
    already, and of that only what differs was said. `check` marks an inspector's own reading, which stands
    beside the work. A field that already has another answer changes only with a `reason` (NeedsReasonError).
    What is sent `later` has nobody there who could confirm or say why: it is filed, and `seen` tells that.
    `paper`: it is entered from a sheet; its time is as written there, and its competence the writer's.
    Raises FieldsError, NothingSaidError; sent again with the same id it returns the first entry. RefusedError
    once the mounting is signed off or closed.
    """
    require(acting, Action.CHECK if check else Action.RECORD, mounting.site)
    step = STEPS[step_id]
    given_answers, unconfirmed = _parsed(step, _case_before(mounting, entry_id), given, later)
    with atomic():
        locked = Mounting.objects.select_for_update().get(id=mounting.id)
        # Folded again under the lock: what another person said meanwhile stands now.
        case = _case_before(locked, entry_id)
        refuse_closed("record", case)
        done = read_from_paper(acting, case, paper)
        standing = _standing(case, step_id, given_answers, check=check, replaces_work=bool(reason.strip()))
        differing = _differing(case, step_id, standing, given_answers)
        answers = differing if form and (differing or not reason.strip()) else given_answers
        _refuse_nothing(acting, step_id, standing, answers, differing, reason)
        replaced = _replaced(standing, answers, differing, reason, later=later)
        prev = uuid.UUID(next(iter(replaced.values()))) if replaced else None
        capture = Statement(
            acting=acting,
            mounting=locked,
            kind="capture",
            id=entry_id,
            said=_said(step, answers, check) | done.said(),
            prev=prev,
            reason=reason.strip() or None if prev or check else None,
        )
        seen = _seen(done, locked, step, case, answers, check)
        seen |= _never_asked(replaced, reason, [key for key in unconfirmed if key in answers])
        entry = capture.file(seen, schema=f"{step.id}/{step.version}")
        Capture.objects.get_or_create(entry=entry, defaults={"mounting": locked, "step": step_id})
        judge(locked)
        _doubted_since(acting, seen["gear"])
    return entry


def _doubted_since(acting: Acting, gear: Mapping[str, Mapping[str, Any]]) -> None:
    """What is sent later may have been read with a piece that was found wrong meanwhile: its look-back goes
    on to this mounting too."""
    if not gear:
        return
    pieces = {record["id"] for record in gear.values()}
    at = acting.act_time
    open_ = LookBack.objects.filter(equipment__in=pieces, since__lte=at, until__gt=at, end__isnull=True)
    for id in open_.values_list("id", flat=True):
        enqueue(JOB, look_back=str(id))


def _parsed(
    step: Step, case: Case, given: Mapping[str, Given], later: bool
) -> tuple[dict[str, Answer], list[str]]:
    """The answers, and which of them were never confirmed though they look like slips: only what is sent
    `later` is taken so."""
    try:
        return parse(step, case, given), []
    except FieldsError as error:
        if not later or not all(isinstance(each, SlipError) for each in error.errors.values()):
            raise
        slips = {
            key: replace(raw, sure=True)
            for key, raw in given.items()
            if key in error.errors and isinstance(raw, Typed)
        }
        return parse(step, case, {**given, **slips}), list(slips)


def _never_asked(replaced: Mapping[str, str], reason: str, unconfirmed: list[str]) -> dict[str, Any]:
    """What a capture corrects, and what nobody could be asked about it."""
    told: dict[str, Any] = {"unconfirmed": unconfirmed} if unconfirmed else {}
    if replaced:
        told |= {"replaces": replaced} | ({} if reason.strip() else {"reason": "none given"})
    return told


def _case_before(mounting: Mounting, entry_id: uuid.UUID) -> Case:
    """What stood before this entry: all of it, or for a replay only what came earlier."""
    entries = _before(entries_of(mounting.id), entry_id)
    procedure = procedure_by_digest(mounting.procedure_digest)
    return folded(entries, procedure, tables_for(mounting))


def _differing(
    case: Case, step_id: str, standing: Mapping[str, Answered], given: Mapping[str, Answer]
) -> dict[str, Answer]:
    """What of the answers is not what stands. After a further heating the same value is another, and so is
    the same gap felt cold that was felt warm."""

    def new(key: str) -> bool:
        said = standing.get(key)
        return said is None or overtaken(case, step_id, said) or to_feel_again(case, step_id, said)

    return {key: answer for key, answer in given.items() if new(key) or standing[key].answer != answer}


def _refuse_nothing(
    acting: Acting,
    step_id: str,
    standing: Mapping[str, Answered],
    answers: Mapping[str, Answer],
    differing: Mapping[str, Answer],
    reason: str,
) -> None:
    """NothingSaidError for an empty form, and for what its author says a second time without a reason."""
    mine = all(key in standing and standing[key].author == str(acting.author.id) for key in answers)
    if not answers or (not differing and mine and not reason.strip()):
        raise NothingSaidError(step_id)


def _replaced(
    standing: Mapping[str, Answered],
    answers: Mapping[str, Answer],
    differing: Mapping[str, Answer],
    reason: str,
    *,
    later: bool,
) -> dict[str, str]:
    """By key the entries that are corrected. NeedsReasonError where an answer would change without one; who
    reads the same as another did gives a second reading and corrects nobody."""
    changed = [key for key in answers if key in standing and key in differing]
    if changed and later and not reason.strip():
        return {key: standing[key].entry for key in changed}
    if changed and not reason.strip():
        raise NeedsReasonError(changed, standing[changed[0]].entry)
    return {key: standing[key].entry for key in answers if key in standing and reason.strip()}


def _standing(
    case: Case, step_id: str, given: Mapping[str, Answer], *, check: bool, replaces_work: bool
) -> Mapping[str, Answered]:
    """What this capture may repeat or replace. A check repeats the checks; with a reason, and no check of
    these fields before it, it takes the place of the work, where that can be measured again."""
    checks = case.checks.get(step_id, {})
    if check and (not replaces_work or any(key in checks for key in given)):
        return checks
    work = case.answers.get(step_id, {})
    if check:
        return {key: said for key, said in work.items() if measured_again(step_id, key)}
    return {key: said for key, said in work.items() if not told_anew(case, step_id, said)}


def _before(entries: list[Said], entry_id: uuid.UUID) -> list[Said]:
    """What stood before this entry: all of it, or for a replay only what came earlier."""
    places = [place for place, entry in enumerate(entries) if entry.id == entry_id]
    return entries[: places[0]] if places else entries


def _said(step: Step, answers: Mapping[str, Answer], check: bool) -> dict[str, Any]:
    return {
        "step": step.id,
        "role": "check" if check else "work",
        "fields": {key: answer.document() for key, answer in answers.items()},
    }


def _seen(
    done: Done,
    mounting: Mounting,
    step: Step,
    case: Case,
    answers: Mapping[str, Answer],
    check: bool,
) -> dict[str, Any]:
    """What the server freezes beside a capture: the days between which it was made, the gear as it stood, and
    the competence of who did it, of who checks eyesight too. Where gear was another on receipt than at the
    act, both are kept."""
    acting, bounds = done.acting, done.bounds
    shift = shift_of(acting.author.id, mounting.site, bounds.first)
    seen: dict[str, Any] = {
        **({"shift": str(shift.id)} if shift else {}),
        "days": [day.isoformat() for day in bounds.days],
        "gear": _gear(bounds.first, mounting.site, step, answers),
    }
    received = _gear(bounds.last, mounting.site, step, answers) if seen["gear"] else {}
    changed = {key: record for key, record in received.items() if record != seen["gear"][key]}
    if changed:
        seen["gear_received"] = changed
    if step.task:
        seen |= frozen(competence_between(acting, mounting, case.requirement, step.task, bounds))
    if check:
        seen |= frozen_eyesight(eyesight_between(acting, mounting, bounds))
    return seen | done.seen()


def _gear(
    at: datetime, site: uuid.UUID, step: Step, answers: Mapping[str, Answer]
) -> dict[str, dict[str, Any]]:
    """Each named piece as it stood at a moment; FieldsError for an unknown one or one of another kind."""
    forms = {key: step.field(key).form for key in answers}
    named = {
        key: (str(answer.value), form.kinds)
        for key, answer in answers.items()
        if isinstance(answer, Value) and isinstance(form := forms[key], Gear)
    }
    records = frozen_gear((id for id, _ in named.values()), at, site)
    wrong = {
        key: FieldError(key, id, "", f"{' or '.join(kinds)}, registered here")
        for key, (id, kinds) in named.items()
        if id not in records or records[id]["kind"] not in kinds
    }
    if wrong:
        raise FieldsError(wrong)
    return {key: records[id] for key, (id, _) in named.items()}
