"""The case: everything said of one mounting; `folding` makes it from the entries."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import wraps
from typing import Any, TypeVar

from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.steps.acts import (
    Amendment,
    Decision,
    HandOver,
    LogFile,
    PartUsed,
    Photo,
    Release,
    Returned,
    Review,
    Signature,
    Tap,
)
from qrecords.steps.answers import Answer, Value
from qrecords.steps.elsewhere import NOBODY_LOOKED, Elsewhere, JudgedAgain
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.gear import GearRecord, read_gear
from qrecords.steps.log_table import LogTable
from qrecords.steps.marks import PhotoMarks
from qrecords.steps.paper import Paper, Sheet
from qrecords.steps.papers import Enclosure
from qrecords.steps.point_acts import PointAct
from qrecords.steps.procedure import Procedure
from qrecords.steps.requirement import Requirement

Told = TypeVar("Told")


@dataclass(frozen=True)
class Answered:
    """The standing answer to one field, and the entry that gave it."""

    key: str
    answer: Answer
    entry: str
    author: str
    at: datetime
    check: bool
    paper: Paper | None = None
    """Where it was entered from a sheet of paper: `at` is then the time as written there."""

    @property
    def base(self) -> int:
        """The base value; only for answers known to be quantities."""
        assert isinstance(self.answer, Value)  # noqa: S101 - rules ask `value_of` first
        return int(self.answer.value)

    @property
    def word(self) -> str:
        assert isinstance(self.answer, Value)  # noqa: S101 - rules ask `value_of` first
        return str(self.answer.value)


@dataclass(frozen=True)
class Traits:
    """How the answers of a step stand that a procedure chooses: which `holds` cover it, whether it is seen
    `under` the ring or on the shaft, whether a further heating overtakes it (`repeated`), and what of it is
    said `of_one_heating`."""

    holds: frozenset[str] = frozenset()
    under: bool = False
    on_the_shaft: bool = False
    repeated: bool = False
    of_one_heating: frozenset[str] = frozenset()


@dataclass(frozen=True, eq=False)
class Case:
    """It never changes: what several rules ask of it is worked out once and kept with it."""

    mounting: str
    requirement: Requirement
    procedure: Procedure
    opened: Mapping[str, Any]
    answers: Mapping[str, Mapping[str, Answered]]
    checks: Mapping[str, Mapping[str, Answered]]
    seen: Mapping[str, Mapping[str, Any]]
    """What the server froze beside each entry, by entry id."""
    captures: tuple[tuple[str, str, datetime], ...] = ()
    """Every capture as entry, step and moment: checks too, and what later ones took the place of."""
    given: Mapping[str, Sequence[Answered]] = field(default_factory=dict)
    """By step every answer that ever stood, in ledger order: a later heating erases no earlier one."""
    taps: tuple[Tap, ...] = ()
    releases: tuple[Release, ...] = ()
    decisions: tuple[Decision, ...] = ()
    looked: Mapping[str, str] = field(default_factory=dict)
    """Queries closed: finding digest → explanation."""
    photos: tuple[Photo, ...] = ()
    log_files: tuple[LogFile, ...] = ()
    papers: tuple[Enclosure, ...] = ()
    logs: Mapping[str, LogTable | LogUnreadableError] = field(default_factory=dict)
    """SHA-256 of each log that is here → its samples as read from the file, or why it cannot be read."""
    signatures: tuple[Signature, ...] = ()
    returns: tuple[Returned, ...] = ()
    parts: tuple[PartUsed, ...] = ()
    reviews: tuple[Review, ...] = ()
    amendments: tuple[Amendment, ...] = ()
    worked_by: frozenset[str] = frozenset()
    """Who authored any work capture or tap: they neither release, decide nor sign."""
    work: tuple[str, ...] = ()
    """Every work capture and tap not undone, also those that cannot be read or that others replaced; and
    checks that took the place of work."""
    order: Mapping[str, int] = field(default_factory=dict)
    """Entry id → place in ledger order within this mounting."""
    leaves: Mapping[str, str] = field(default_factory=dict)
    """Entry id → leaf hash."""
    authors: Mapping[str, str] = field(default_factory=dict)
    """Entry id → who did it, of every entry that a person made."""
    unread: tuple[str, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    hand_overs: tuple[HandOver, ...] = ()
    marks: tuple[PhotoMarks, ...] = ()
    points: tuple[PointAct, ...] = ()
    """What happened at points of the contract, in ledger order."""
    drawing_index: int = -1
    """Where in the ledger the drawing that judges this was put right last; -1 where it was not."""
    withdrawn: str = ""
    """Why the mounting was withdrawn before heat, as opened by mistake; '' where it was not."""
    elsewhere: Elsewhere = NOBODY_LOOKED
    judged_again: tuple[JudgedAgain, ...] = ()
    """Judgements beside the record, with something put right; the record and its findings stay."""
    tables: Tables = BUILT_IN
    """The tables of the standards that judge this mounting: those its opening pinned."""
    chosen: Mapping[str, Traits] = field(default_factory=dict)
    """The traits of every step that procedures choose, by step."""
    worked_out: dict[object, Any] = field(default_factory=dict, init=False, repr=False)
    """What was asked of this case before, by the question; see `once_a_case`."""

    def said(self, step: str, key: str) -> Answered | None:
        return self.answers.get(step, {}).get(key)

    def value_of(self, step: str, key: str) -> Answered | None:
        """The answer if it is a value; None for absent answers and for what was not entered."""
        said = self.answers.get(step)  # not by `said`: asked hundreds of times a case
        found = said.get(key) if said else None
        return found if found is not None and isinstance(found.answer, Value) else None

    def many(self, step: str, head: str) -> list[Answered]:
        """All standing answers of a many-field, in the order they were first asked."""
        begins = f"{head}."
        return [a for key, a in self.answers.get(step, {}).items() if key.startswith(begins)]

    def gear(self, step: str, key: str) -> GearRecord | None:
        """The gauge, meter or heater that a field names, as frozen at the act."""
        found = self.value_of(step, key)
        if found is None:
            return None
        return self.frozen_gear(found.entry, "gear", key)

    def frozen_gear(self, entry: str, beside: str, key: str) -> GearRecord | None:
        """A piece as it was frozen beside an entry: as at the act, or as on receipt."""
        question = (entry, beside, key)
        if question not in self.worked_out:
            frozen = self.seen.get(entry, {}).get(beside, {}).get(key)
            self.worked_out[question] = read_gear(frozen) if frozen else None
        piece: GearRecord | None = self.worked_out[question]
        return piece

    def competence(self, step: str) -> tuple[str, tuple[str, ...]] | None:
        """The least competence frozen beside any standing work of a step, and every capture it was frozen
        beside, in ledger order."""
        entries = {a.entry for a in self.answers.get(step, {}).values() if not a.check}
        frozen = {entry: self.seen.get(entry, {}).get("competence") for entry in entries}
        known = {entry: str(state) for entry, state in frozen.items() if state}
        ranks = {"none": 0, "lapsed": 1, "kind unknown": 2, "differs": 2, "held": 3}
        least = min(known.values(), key=lambda state: ranks.get(state, 0), default=None)
        if least is None:
            return None
        beside = (entry for entry, state in known.items() if state == least)
        return least, tuple(sorted(beside, key=lambda entry: self.order[entry]))

    def covered(self, hold: str) -> Mapping[str, frozenset[str]]:
        """Step → the fields of it that a hold, or another point of the procedure, covers; WHOLE for all."""
        if hold in HOLD_COVERS:
            chosen = {step: WHOLE for step, traits in self.chosen.items() if hold in traits.holds}
            return {**HOLD_COVERS[hold], **chosen}
        point = self.procedure.point(hold)
        return {step: point.of_step(step) or WHOLE for step in point.steps} if point else {}

    def standing_captures(self, hold: str) -> frozenset[str]:
        """The entries whose answers stand now in what a hold covers: what its release names."""
        return frozenset(
            answered.entry
            for step, fields in self.covered(hold).items()
            for key, answered in self.answers.get(step, {}).items()
            if not fields or key.split(".", 1)[0] in fields
        )


def once_a_case(ask: Callable[[Case], Told]) -> Callable[[Case], Told]:
    """What many rules ask of a case is worked out for the first of them."""

    @wraps(ask)
    def told(case: Case) -> Told:
        known = case.worked_out
        answer: Told = known[ask] if ask in known else known.setdefault(ask, ask(case))
        return answer

    return told


WHOLE: frozenset[str] = frozenset()
CHECKED_COLD = ("seating", "demagnetisation", "shoulder_gap", "clearance_after")
HOLD_COVERS: Mapping[str, Mapping[str, frozenset[str]]] = {
    "fit": {
        "identification": frozenset({"marking"}),
        "preparation": frozenset({"edge_burrs", "shoulder_burrs", "fillet"}),
        "measurement": WHOLE,
        "bore": WHOLE,
        "clearance_before": WHOLE,
    },
    "cold": dict.fromkeys(CHECKED_COLD, WHOLE),
}
"""Hold → the steps whose captures its release names; of a step the fields named, or the WHOLE of it. Every
capture that a finding of the hold rests on is covered (held by a test), but for what the ring says besides:
that voids a release where it is not as ordered."""
