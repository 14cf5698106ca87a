"""The whole record as the inspector's page shows it: one frozen view, every query made here."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from django.utils.translation import gettext, ngettext

from qrecords.evidence.queries import of_mounting
from qrecords.ledger.queries import entries_of
from qrecords.mountings.judging import Judged, judged_now
from qrecords.mountings.models import Mounting
from qrecords.people.bounds import zone_of
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.steps.acts import signed_as_it_stands
from qrecords.steps.answers import Absent
from qrecords.steps.case import Case
from qrecords.steps.sealed import Sealed
from qrecords.steps.shown import Extent, shown_now
from qrecords.steps.transitions import CLOSED, State, state_of, undecided
from qrecords.tracing import record as tracing
from qrecords.web.amendments import AmendmentShown, shown_amendments
from qrecords.web.doubts import other_tables
from qrecords.web.doubts import told as of_rows
from qrecords.web.fitter.words import absent_words
from qrecords.web.from_paper import from_paper
from qrecords.web.heading import safety_of, title_block, unread_line
from qrecords.web.inspector.blind import Blind, blind, kept_back
from qrecords.web.inspector.comparing import Beside, comparison, last_time, other_end
from qrecords.web.inspector.drawings import Drawing, logged
from qrecords.web.inspector.entries import Line, lines
from qrecords.web.inspector.holds import HoldPoint, hold_points
from qrecords.web.inspector.items import Groups, Item, group, in_words, items, row_of
from qrecords.web.inspector.reviewing import Reduced, reduced_of
from qrecords.web.inspector.rights import Possible, own_reading_due, possible, rights_at
from qrecords.web.look_backs.beside import Beside as Doubt
from qrecords.web.look_backs.beside import beside
from qrecords.web.moments import moment
from qrecords.web.parts import Cell, Comparison, FindingRow, ReadingGrid, Safety, Signature
from qrecords.web.photographs import Taken, taken
from qrecords.web.pictures.tolerance import TolerancePicture
from qrecords.web.remarking import Remarked, remarked
from qrecords.web.showing import Shown
from qrecords.web.withdrawn import Withdrawn, withdrawn
from qrecords.wording.figures import Figures

TOLD = ("decision", "drawing", "looked", "return", "release", "withdrawal", "re-review", "amendment")
"""The entries that are told beside the findings, newest last."""


@dataclass(frozen=True)
class End:
    """One end's readings as a picture, with whose they are."""

    head: str
    note: str
    picture: TolerancePicture | None


@dataclass(frozen=True)
class OwnReading:
    """The marking as an inspector read it off the ring: what, who, when. `read` is '' where he said that it
    could not be read."""

    word: str
    read: str
    who: str
    at: str


@dataclass(frozen=True)
class Record:
    """Everything `inspector/record.html` shows of one mounting to one reader."""

    mounting: Mounting
    title_block: tuple[Cell, ...]
    able: Possible
    groups: Groups
    items: tuple[Item, ...]
    rows: tuple[FindingRow, ...]
    rests_on: tuple[str, ...]
    """What is to be said of the tables, and of the rows of them that all findings rest on."""
    settled_rows: tuple[FindingRow, ...]
    remarks: tuple[Remarked, ...]
    holds: tuple[HoldPoint, ...]
    kept: Blind
    own: OwnReading | None
    grid: ReadingGrid | None
    ends: tuple[End, ...]
    comparison: Comparison
    photos: tuple[Taken, ...]
    shots: frozenset[str]
    """The shots that the procedure wants."""
    told: tuple[Line, ...]
    late: tuple[Line, ...]
    signatures: tuple[Signature, ...]
    shown: Extent
    frozen: bool
    unread: str
    signed: bool
    safety: Safety
    withdrawn_before: Sequence[Withdrawn]
    log: Drawing | None
    reduced: Reduced | None
    amendments: tuple[AmendmentShown, ...]
    doubts: tuple[Doubt, ...] = ()
    """The look-backs that are open and touch it."""
    has_points: bool = False
    """Whether its procedure has points of a contract, which have a page of their own."""

    @property
    def due(self) -> tuple[HoldPoint, ...]:
        return tuple(hold for hold in self.holds if hold.due)

    @property
    def next_tap(self) -> str:
        """The one filled tap: what is to be read with one's own eyes, then a hold point; '' where it is the
        first finding or the signature."""
        if self.kept.marking:
            return "marking"
        if self.kept.readings:
            return "display"
        return "hold" if any(hold.stop == "" for hold in self.due) else ""

    @property
    def pair(self) -> tuple[End, ...]:
        """Both ends side by side, once both may be seen."""
        drawn = tuple(end for end in self.ends if end.picture)
        return drawn if len(drawn) > 1 else ()

    @property
    def ends_below(self) -> bool:
        """The pair stands under the findings, unless one of them already shows it."""
        return bool(self.pair) and not any(item.both_ends for item in self.items)

    @property
    def log_below(self) -> Drawing | None:
        """The heater's own log stands above the photos, unless a finding or a hold point shows it already."""
        shown = [item.drawing for item in self.items] + [d for hold in self.holds for d in hold.drawings]
        drawn = any(self.log and each and each.template == self.log.template for each in shown)
        return None if drawn else self.log

    @property
    def received(self) -> int:
        """How many of the wanted shots are here."""
        here = {photo.shot for photo in self.photos if photo.photo or photo.note.startswith("received")}
        return len(self.shots & here)

    @property
    def calls(self) -> int:
        """How many things need somebody: findings, hold points that wait, and what is to be read blind."""
        return len(self.items) + len(self.due) + self.kept.marking + self.kept.readings

    @property
    def late_photos(self) -> int:
        return sum(photo.after_signature for photo in self.photos)


def record_of(
    person: Person, mounting: Mounting, at: datetime, zone: str, heard: str, figures: Figures
) -> Record:
    """Read and letter one record for one reader; a fixed number of queries."""
    judged = as_it_stands(mounting)
    case = judged.case
    rights = rights_at(person, mounting.site, at, case.procedure)
    able = possible(rights, judged)
    stored = of_mounting(mounting.id)
    plain = taken(replace(case, marks=()), stored, zone)  # words on a photo may tell what is still to be read
    kept = blind(case, able, plain, heard, figures, due=own_reading_due(rights, case))
    may_draw = rights.may(Action.ATTACH)
    photos = plain if kept.marking or kept.readings else taken(case, stored, zone, draw=may_draw)
    sealed, groups = Sealed(kept.marking, kept.readings), group(judged, figures)
    this = Beside(mounting.journal.position, mounting, judged)
    other, last = other_end(person, mounting, at), last_time(person, mounting, at)
    people = names({*_authors(case), *(_authors(other.judged.case) if other else ())})
    shown = {each.finding.characteristic: each for each in _all(groups)}
    holds = hold_points(judged, rights, people, zone, figures, hidden=kept.readings)
    above = {drawing.template for hold in holds for drawing in hold.drawings if not kept.readings}
    told, late = _told(case, mounting.id, zone)
    return Record(
        mounting=mounting,
        title_block=title_block(mounting, case, figures, blind=kept.marking),
        able=_after_reading(able, kept),
        groups=groups,
        items=tuple(
            items(judged, _needs(groups, kept), photos, rights, figures, sealed=sealed, drawn_above=above)
        ),
        rows=tuple(row_of(kept_back(in_words(s), kept), figures) for s in groups.conforming),
        rests_on=_rests_on(judged),
        settled_rows=tuple(row_of(kept_back(in_words(s), kept), figures) for s in groups.settled),
        remarks=remarked(case, figures, blind=kept.readings),
        holds=holds,
        kept=kept,
        own=_own(case, people, zone),
        grid=_grid(this, kept, figures),
        ends=tuple(_end(end, people, kept, figures, n) for n, end in enumerate([this, other]) if end),
        comparison=comparison(this, (other, last), shown, figures, blind=kept.readings),
        photos=tuple(photos),
        shots=frozenset(shot.id for shot in case.procedure.shots),
        told=told,
        late=late,
        signatures=_signatures(judged, people, zone),
        shown=shown_now(case),
        frozen=state_of(case) in CLOSED,
        unread=" ".join(filter(None, [from_paper(case), unread_line(case)])),
        signed=state_of(case) == State.SIGNED_OFF,
        safety=safety_of(mounting),
        withdrawn_before=withdrawn(mounting, blind=bool(sealed)),
        log=logged(case, {}, figures, "log"),
        reduced=reduced_of(case, rights, people, zone, at.astimezone(zone_of(zone)).date()),
        amendments=_amendments(mounting, judged, kept, zone),
        has_points=bool(case.procedure.points),
        doubts=beside(mounting, sealed=bool(sealed), only_open=True),
    )


def _amendments(mounting: Mounting, judged: Judged, kept: Blind, zone: str) -> tuple[AmendmentShown, ...]:
    """What was amended; nothing of it before the reader's own reading, for it says what was read."""
    if not judged.case.amendments or kept.marking or kept.readings:
        return ()
    return shown_amendments(tracing.record_of(mounting), judged.findings, zone)


def as_it_stands(mounting: Mounting) -> Judged:
    """Judged now while the record is open; once it is signed, the judgement that was, whatever rules say."""
    if mounting.state != State.SIGNED_OFF.value:
        return judged_now(mounting)
    record = tracing.record_of(mounting)
    assert record.counting is not None  # noqa: S101 - every sign-off stores its judgement
    return Judged(record.case, record.counting.findings)


def _grid(this: Beside, kept: Blind, figures: Figures) -> ReadingGrid | None:
    return this.seat.grid(gettext("Readings"), figures, hidden=kept.readings) if this.seat else None


def _after_reading(able: Possible, kept: Blind) -> Possible:
    """Nobody signs readings that he does not see yet."""
    if able.sign == "" and kept.readings:
        return replace(able, sign=gettext("when you have read the display"))
    return able


def _needs(groups: Groups, kept: Blind) -> list[Shown]:
    """The reader's own reading has a place of its own above the findings."""
    needs = [kept_back(shown, kept) for shown in groups.needs]
    return [shown for shown in needs if not (kept.marking and shown.finding.rule == "own-reading")]


def _all(groups: Groups) -> Sequence[Shown]:
    return (*groups.needs, *groups.settled, *groups.conforming, *groups.to_come)


def _rests_on(judged: Judged) -> tuple[str, ...]:
    rows = (row for finding in judged.findings for row in finding.unconfirmed)
    return tuple(filter(None, (other_tables(judged.case.tables), *of_rows(rows, rows_only=True))))


def _own(case: Case, people: dict[str, str], zone: str) -> OwnReading | None:
    """The reading of the marking that stands beside the fitter's."""
    said = case.checks.get("identification", {}).get("marking")
    if said is None:
        return None
    read = "" if isinstance(said.answer, Absent) else said.word
    word = absent_words(said.answer) if isinstance(said.answer, Absent) else said.word
    return OwnReading(word, read, people[said.author], moment(said.at, zone))


def _authors(case: Case) -> set[str]:
    found = {signature.author for signature in case.signatures} | set(case.worked_by)
    found |= {release.author for release in case.releases} | {review.author for review in case.reviews}
    found |= {said.author for said in case.checks.get("identification", {}).values()}
    return found | {decision.author for decision in case.decisions}


def _end(end: Beside, people: dict[str, str], kept: Blind, figures: Figures, number: int) -> End:
    """A picture of one end; kept back together with the readings it shows."""
    seat, case = end.seat, end.judged.case
    gauge = case.gear("measurement", "gauge")
    measured = case.many("measurement", "journal")
    note = " · ".join(
        word
        for word in (
            gettext("this mounting") if number == 0 else end.mounting.number,
            people.get(measured[0].author, "") if measured else "",
            gauge.mark if gauge else "",
        )
        if word
    )
    hidden = seat is None or kept.readings
    return End(end.head, note, None if hidden or seat is None else seat.picture(figures, f"end{number}"))


def _told(case: Case, mounting: uuid.UUID, zone: str) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    """Acts of authority in words, and what came after the inspector's signature."""
    said = entries_of(mounting)
    signed = [s.index for s in case.signatures if s.meaning == "inspected"]
    acts = [entry for entry in said if entry.kind in TOLD]
    # What came since the newest signature, unless it was opened for an amendment: that is work again.
    open_ = not signed or state_of(case) not in CLOSED
    late = [] if open_ else [entry for entry in said if case.order[str(entry.id)] > signed[-1]]
    worded = lines([*acts, *late], zone)
    return tuple(worded[: len(acts)]), tuple(worded[len(acts) :])


def _signatures(judged: Judged, people: dict[str, str], zone: str) -> tuple[Signature, ...]:
    case = judged.case
    opened = case.amendments[-1].index if case.amendments else -1
    by_meaning = {signature.meaning: signature for signature in case.signatures if signature.index > opened}
    rows = []
    for meaning, caption in (("performed", gettext("performed")), ("inspected", gettext("inspected"))):
        signature = by_meaning.get(meaning)
        if signature is not None:
            rows.append(Signature(caption, people[signature.author], moment(signature.at, zone)))
        elif meaning == "performed":
            rows.append(Signature(caption, note=gettext("not yet said ready")))
        elif "performed" not in by_meaning:
            rows.append(Signature(caption, note=gettext("when it is ready")))
        else:
            count = len(undecided(case, judged.findings))
            words = ngettext("%(n)s item open: not yet to sign", "%(n)s items open: not yet to sign", count)
            rows.append(Signature(caption, note=words % {"n": count} if count else gettext("not yet signed")))
    conceded = [decision for decision in case.decisions if decision.kind == "concession"]
    if conceded:
        name, at = people[conceded[-1].author], moment(conceded[-1].at, zone)
        rows.append(Signature(gettext("concession"), name, at))
    else:
        rows.append(Signature(gettext("concession"), note=gettext("none")))
    rows.append(Signature(gettext("amendment"), value=_amendment(case)))
    return tuple(rows)


def _amendment(case: Case) -> str:
    """*none*, *1*; *2, being made*."""
    if not case.amendments:
        return gettext("none")
    number = case.amendments[-1].number
    open_ = not signed_as_it_stands(case.signatures, case.amendments)
    return gettext("%(n)s, being made") % {"n": number} if open_ else str(number)
