"""The case: everything said of one mounting, folded from its entries in ledger order."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, Protocol

from qrecords.steps.answers import Absent, Answer, Value, read_answer
from qrecords.steps.gear import GearRecord, read_gear
from qrecords.steps.procedure import Procedure
from qrecords.steps.requirement import Requirement, read_requirement


class Stated(Protocol):
    """An entry as the ledger hands it out."""

    @property
    def id(self) -> object: ...
    @property
    def kind(self) -> str: ...
    @property
    def payload(self) -> Mapping[str, Any]: ...
    @property
    def leaf(self) -> str: ...


@dataclass(frozen=True)
class Answered:
    """The standing answer to one field, and the entry that gave it."""

    key: str
    answer: Answer
    entry: str
    author: str
    at: datetime
    check: bool

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
class Tap:
    what: str
    at: datetime
    entry: str
    author: str
    relies_on: str = ""
    """Leaf hash, or one-time code, of the release that *heater on* names."""
    code: str = ""
    received: datetime | None = None
    """The server's time: what an undo is bounded by, for a device chooses its own."""


@dataclass(frozen=True)
class Release:
    hold: str
    entry: str
    leaf: str
    at: datetime
    author: str
    captures: frozenset[str]
    means: str
    code: str
    """Readings code read out by telephone; empty otherwise."""
    lowest_nm: int | None
    highest_nm: int | None
    index: int


@dataclass(frozen=True)
class Decision:
    kind: str
    digests: frozenset[str]
    reason: str
    conditions: str
    entry: str
    author: str
    at: datetime
    closes: str


@dataclass(frozen=True)
class Photo:
    shot: str
    sha256: str
    entry: str
    author: str
    at: datetime
    camera: bool
    received: bool
    after_signature: bool


@dataclass(frozen=True)
class Signature:
    meaning: str
    entry: str
    author: str
    hash: str
    at: datetime
    index: int
    said: Mapping[str, Any]


@dataclass(frozen=True)
class Returned:
    items: tuple[tuple[str, str], ...]
    entry: str
    author: str
    at: datetime
    index: int


@dataclass(frozen=True)
class Elsewhere:
    """Facts of other records that a rule needs, as an entry froze them at *ready* or at sign-off; None where
    nobody looked yet."""

    other_end: tuple[int, ...] | None = None
    other_end_mounting: str = ""
    earlier_heatings: int | None = None
    photos_seen_before: frozenset[str] = frozenset()


@dataclass(frozen=True, eq=False)
class Case:
    """Compared by identity, so that what several rules work out of one case is worked out once."""

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
    taps: tuple[Tap, ...] = ()
    releases: tuple[Release, ...] = ()
    decisions: tuple[Decision, ...] = ()
    looked: Mapping[str, str] = field(default_factory=dict)
    """Queries closed: finding digest → explanation."""
    photos: tuple[Photo, ...] = ()
    signatures: tuple[Signature, ...] = ()
    returns: tuple[Returned, ...] = ()
    worked_by: frozenset[str] = frozenset()
    """Who authored any work capture or tap: they neither release, decide nor sign."""
    order: Mapping[str, int] = field(default_factory=dict)
    """Entry id → place in ledger order within this mounting."""
    leaves: Mapping[str, str] = field(default_factory=dict)
    """Entry id → leaf hash."""
    unread: tuple[str, ...] = ()
    withdrawn: str = ""
    """Why the mounting was withdrawn before heat, as opened by mistake; '' where it was not."""
    elsewhere: Elsewhere = Elsewhere()

    def said(self, step: str, key: str) -> Answered | None:
        return self.answers.get(step, {}).get(key)

    def value_of(self, step: str, key: str) -> Answered | None:
        """The answer if it is a value; None for absent answers and for what was not entered."""
        found = self.said(step, key)
        return found if found is not None and isinstance(found.answer, Value) else None

    def many(self, step: str, head: str) -> list[Answered]:
        """All standing answers of a many-field, in the order they were first asked."""
        return [a for key, a in self.answers.get(step, {}).items() if key.startswith(f"{head}.")]

    def gear(self, step: str, key: str) -> GearRecord | None:
        """The gauge, meter or heater that a field names, as frozen at the act."""
        found = self.value_of(step, key)
        if found is None:
            return None
        frozen = self.seen.get(found.entry, {}).get("gear", {}).get(key)
        return read_gear(frozen) if frozen else None

    def competence(self, step: str) -> tuple[str, str] | None:
        """(state, entry) of the least competence frozen beside any standing capture of a step."""
        entries = {a.entry for a in self.answers.get(step, {}).values() if not a.check}
        frozen = {entry: self.seen.get(entry, {}).get("competence") for entry in entries}
        ranks = {"none": 0, "lapsed": 1, "differs": 2, "held": 3}
        known = [(str(state), entry) for entry, state in frozen.items() if state]
        return min(known, key=lambda pair: (ranks.get(pair[0], 0), -self.order[pair[1]]), default=None)

    def standing_captures(self, steps: Iterable[str]) -> frozenset[str]:
        """The entries whose answers stand now in these steps: what a release names."""
        return frozenset(a.entry for step in steps for a in self.answers.get(step, {}).values())


MEASURED = ("identification", "preparation", "measurement", "bore", "clearance_before")
"""The steps that come before heat."""
CHECKED_COLD = ("seating", "demagnetisation", "shoulder_gap", "clearance_after")
HOLD_COVERS = {"fit": ("measurement", "bore", "clearance_before"), "cold": CHECKED_COLD}


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


class Fold:
    """Folding in progress: one method per kind of entry, applied in ledger order."""

    def __init__(self) -> None:
        self.opened: Mapping[str, Any] = {}
        self.mounting = ""
        self.answers: dict[str, dict[str, Answered]] = {}
        self.checks: dict[str, dict[str, Answered]] = {}
        self.beside: set[str] = set()
        self.seen: dict[str, Mapping[str, Any]] = {}
        self.captures: list[tuple[str, str, datetime]] = []
        self.taps: list[Tap] = []
        self.releases: list[Release] = []
        self.decisions: list[Decision] = []
        self.looked: dict[str, str] = {}
        self.photos: list[Photo] = []
        self.received: set[str] = set()
        self.signatures: list[Signature] = []
        self.returns: list[Returned] = []
        self.worked_by: set[str] = set()
        self.order: dict[str, int] = {}
        self.leaves: dict[str, str] = {}
        self.unread: list[str] = []
        self.withdrawn = ""
        self.elsewhere = Elsewhere()

    def take(self, entry: Stated) -> None:
        name = str(entry.id)
        self.order[name] = len(self.order)
        self.leaves[name] = entry.leaf
        self.seen[name] = entry.payload["body"]["seen"]
        handler = self.HANDLERS.get(entry.kind)
        if handler is None:
            self.unread.append(name)
            return
        handler(self, entry, entry.payload["body"]["said"])

    def _opened(self, entry: Stated, said: Mapping[str, Any]) -> None:
        self.opened = {**said, **entry.payload["body"]["seen"]}
        self.mounting = str(entry.payload["mounting"])

    def _capture(self, entry: Stated, said: Mapping[str, Any]) -> None:
        check = said["role"] == "check"
        author = entry.payload["author"]["person"]
        if not check:
            self.worked_by.add(author)
        # A check stands beside the work, unless it names the work it replaces.
        prev = entry.payload["prev"]
        beside = check and (not prev or prev in self.beside)
        if beside:
            self.beside.add(str(entry.id))
        into = self.checks if beside else self.answers
        place = into.setdefault(said["step"], {})
        at = moment(entry.payload["at_device"])
        self.captures.append((str(entry.id), said["step"], at))
        for key, document in said["fields"].items():
            place[key] = Answered(key, read_answer(document), str(entry.id), author, at, check)

    def _tap(self, entry: Stated, said: Mapping[str, Any]) -> None:
        if said["what"] == "undo":
            self.taps = [tap for tap in self.taps if tap.entry != entry.payload["prev"]]
            return
        author = entry.payload["author"]["person"]
        self.worked_by.add(author)
        at = moment(entry.payload["at_device"])
        relies_on, code = str(said.get("release", "")), str(said.get("code", ""))
        received = moment(entry.payload["at_server"])
        self.taps.append(Tap(said["what"], at, str(entry.id), author, relies_on, code, received))

    def _attachment(self, entry: Stated, said: Mapping[str, Any]) -> None:
        at, author = moment(entry.payload["at_device"]), entry.payload["author"]["person"]
        signed = any(signature.meaning == "inspected" for signature in self.signatures)
        camera = said.get("from") == "camera"
        for file in entry.payload["files"]:
            self.photos.append(
                Photo(file["shot"], file["sha256"], str(entry.id), author, at, camera, False, signed)
            )

    def _received(self, entry: Stated, said: Mapping[str, Any]) -> None:
        self.received.add(said["sha256"])

    def _release(self, entry: Stated, said: Mapping[str, Any]) -> None:
        low, high = said.get("lowest_nm"), said.get("highest_nm")
        self.releases.append(
            Release(
                hold=said["hold"],
                entry=str(entry.id),
                leaf=entry.leaf,
                at=moment(entry.payload["at_device"]),
                author=entry.payload["author"]["person"],
                captures=frozenset(said["captures"]),
                means=said["means"],
                code=said.get("code", ""),
                lowest_nm=low,
                highest_nm=high,
                index=self.order[str(entry.id)],
            )
        )

    def _decision(self, entry: Stated, said: Mapping[str, Any]) -> None:
        author, at = entry.payload["author"]["person"], moment(entry.payload["at_device"])
        self.decisions.append(
            Decision(
                kind=said["decision"],
                digests=frozenset(item["digest"] for item in said["findings"]),
                reason=str(entry.payload["reason"]),
                conditions=said.get("conditions", ""),
                entry=str(entry.id),
                author=author,
                at=at,
                closes=said.get("closes", ""),
            )
        )

    def _looked(self, entry: Stated, said: Mapping[str, Any]) -> None:
        self.looked[said["digest"]] = str(entry.payload["reason"])

    def _returned(self, entry: Stated, said: Mapping[str, Any]) -> None:
        items = tuple((item["about"], item["reason"]) for item in said["items"])
        author, at = entry.payload["author"]["person"], moment(entry.payload["at_device"])
        self.returns.append(Returned(items, str(entry.id), author, at, self.order[str(entry.id)]))

    def _withdrawal(self, entry: Stated, said: Mapping[str, Any]) -> None:
        self.withdrawn = str(entry.payload["reason"])

    def _signature(self, entry: Stated, said: Mapping[str, Any]) -> None:
        author = entry.payload["author"]
        at = moment(entry.payload["at_device"])
        index = self.order[str(entry.id)]
        self.signatures.append(
            Signature(said["meaning"], str(entry.id), author["person"], author["hash"], at, index, said)
        )

    def _judgement(self, entry: Stated, said: Mapping[str, Any]) -> None:
        """A judgement is read where it is shown; folding takes nothing from it."""

    def _elsewhere(self, entry: Stated, said: Mapping[str, Any]) -> None:
        self.elsewhere = Elsewhere(
            other_end=tuple(said["other_end"]) or None,
            other_end_mounting=said["other_end_mounting"],
            earlier_heatings=said["earlier_heatings"],
            photos_seen_before=frozenset(said["photos_seen_before"]),
        )

    HANDLERS = {
        "mounting": _opened,
        "capture": _capture,
        "tap": _tap,
        "attachment": _attachment,
        "file received": _received,
        "release": _release,
        "decision": _decision,
        "looked": _looked,
        "return": _returned,
        "withdrawal": _withdrawal,
        "signature": _signature,
        "judgement": _judgement,
        "elsewhere": _elsewhere,
    }

    def case(self, procedure: Procedure) -> Case:
        photos = tuple(replace(photo, received=photo.sha256 in self.received) for photo in self.photos)
        return Case(
            mounting=self.mounting,
            requirement=read_requirement(self.opened["requirement"]),
            procedure=procedure,
            opened=self.opened,
            answers=self.answers,
            checks=self.checks,
            seen=self.seen,
            captures=tuple(self.captures),
            taps=tuple(self.taps),
            releases=tuple(self.releases),
            decisions=tuple(self.decisions),
            looked=self.looked,
            photos=photos,
            signatures=tuple(self.signatures),
            returns=tuple(self.returns),
            worked_by=frozenset(self.worked_by),
            order=self.order,
            leaves=self.leaves,
            unread=tuple(self.unread),
            withdrawn=self.withdrawn,
            elsewhere=self.elsewhere,
        )


def fold(entries: Sequence[Stated], procedure: Procedure) -> Case:
    """The case of one mounting from its entries in ledger order. An entry of an unknown kind is kept as
    *unread*, never dropped."""
    folding = Fold()
    for entry in entries:
        folding.take(entry)
    return folding.case(procedure)


__all__ = ["Absent", "Answered", "Case", "Elsewhere", "Fold", "Photo", "Release", "Stated", "Tap", "fold"]
