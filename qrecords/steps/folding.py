"""Folding: the case of one mounting from its entries, in the order of the ledger."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.steps.acts import (
    LOG_SHOT,
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
    signed_as_it_stands,
)
from qrecords.steps.answers import read_answer
from qrecords.steps.attached import camera_moment, read_log_said
from qrecords.steps.case import Answered, Case
from qrecords.steps.checking import taken_place_of
from qrecords.steps.decided import decision_of, release_of
from qrecords.steps.elsewhere import Elsewhere, JudgedAgain, read_elsewhere
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import LogTable
from qrecords.steps.marks import PhotoMarks, read_marks
from qrecords.steps.paper import Paper, Sheet, read_paper
from qrecords.steps.papers import PAPERS, Enclosure
from qrecords.steps.point_acts import PointAct, read_point_act, with_act
from qrecords.steps.procedure import Procedure
from qrecords.steps.requirement import read_requirement
from qrecords.steps.stated import Stated, done_at, moment, told_at
from qrecords.steps.work import CHOSEN

Logs = Mapping[str, LogTable | LogUnreadableError]
NO_LOGS: Logs = {}
JUDGES = ("from here on", "beside the record")
"""What a drawing that was put right judges: an open record from here on, a closed one beside what it says."""
UNREADABLE = (KeyError, TypeError, ValueError, AttributeError)
"""How reading a payload of a newer form fails."""


class Fold:
    """Folding in progress: one method per kind of entry, applied in ledger order."""

    def __init__(self) -> None:
        self.opened: Mapping[str, Any] = {}
        self.mounting = ""
        self.answers: dict[str, dict[str, Answered]] = {}
        self.checks: dict[str, dict[str, Answered]] = {}
        self.seen: dict[str, Mapping[str, Any]] = {}
        self.captures: list[tuple[str, str, datetime]] = []
        self.given: dict[str, list[Answered]] = {}
        self.taps: list[Tap] = []
        self.releases: list[Release] = []
        self.decisions: list[Decision] = []
        self.looked: dict[str, str] = {}
        self.photos: list[Photo] = []
        self.log_files: list[LogFile] = []
        self.papers: list[Enclosure] = []
        self.received: dict[str, datetime | None] = {}
        self.no_pictures: set[str] = set()
        self.signatures: list[Signature] = []
        self.returns: list[Returned] = []
        self.parts: list[PartUsed] = []
        self.reviews: list[Review] = []
        self.amendments: list[Amendment] = []
        self.worked_by: set[str] = set()
        self.work: list[str] = []
        self.order: dict[str, int] = {}
        self.leaves: dict[str, str] = {}
        self.authors: dict[str, str] = {}
        self.unread: list[str] = []
        self.sheets: list[Sheet] = []
        self.hand_overs: list[HandOver] = []
        self.marks: list[PhotoMarks] = []
        self.points: list[PointAct] = []
        self.withdrawn = ""
        self.drawing_index = -1
        self.elsewhere = Elsewhere()
        self.judged_again: list[JudgedAgain] = []

    def take(self, entry: Stated) -> None:
        name = str(entry.id)
        self.order[name] = len(self.order)
        self.leaves[name] = entry.leaf
        if entry.payload.get("author"):
            self.authors[name] = entry.payload["author"]["person"]
        self.seen[name] = entry.payload["body"]["seen"]
        handler = self.HANDLERS.get(entry.kind)
        if handler is None:
            self.unread.append(name)
            return
        try:
            handler(self, entry, entry.payload["body"]["said"], self.seen[name])
        except UNREADABLE:
            self.unread.append(name)

    def _opened(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        self.opened = {**said, **seen}
        self.mounting = str(entry.payload["mounting"])

    def _capture(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        check = said.get("role") == "check"
        author = entry.payload["author"]["person"]
        # Before anything that might not be readable: who worked does not sign, whatever was said.
        if not check:
            self._worked(entry)
        step, at, paper = said["step"], done_at(entry.payload), read_paper(said.get("paper"))
        answers = {
            key: Answered(key, read_answer(document), str(entry.id), author, at, check, paper)
            for key, document in said["fields"].items()
        }
        self.captures.append((str(entry.id), step, at))
        self._done_by_the_writer(entry, paper)
        work = self._of_the_work(entry, step, answers) if check else answers
        beside = {key: answer for key, answer in answers.items() if key not in work}
        if beside:
            self.checks.setdefault(step, {}).update(beside)
        if work:
            self.answers.setdefault(step, {}).update(work)
            self.given.setdefault(step, []).extend(work.values())

    def _of_the_work(
        self, entry: Stated, step: str, answers: Mapping[str, Answered]
    ) -> Mapping[str, Answered]:
        """What of a check takes the place of the work that it names; all else of it stands beside. That is
        work for who signs it as performed, though not by who checked."""
        named = {entry.payload["prev"], *entry.payload["body"]["seen"].get("replaces", {}).values()}
        standing = self.answers.get(step, {})
        taken = {
            key: answer
            for key, answer in answers.items()
            if taken_place_of(standing, step, key, frozenset(named))
        }
        if taken:
            self.work.append(str(entry.id))
        return taken

    def _tap(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        if said.get("what") == "undo":
            self.work = [name for name in self.work if name != entry.payload["prev"]]
            self.taps = [tap for tap in self.taps if tap.entry != entry.payload["prev"]]
            return
        self._worked(entry)
        author, at = entry.payload["author"]["person"], done_at(entry.payload)
        relies_on, code = str(said.get("release", "")), str(said.get("code", ""))
        received = moment(entry.payload["at_server"])
        paper = read_paper(said.get("paper"))
        self._done_by_the_writer(entry, paper)
        self.taps.append(Tap(said["what"], at, str(entry.id), author, relies_on, code, received, paper))

    def _worked(self, entry: Stated) -> None:
        self.worked_by.add(entry.payload["author"]["person"])
        self.work.append(str(entry.id))

    def _unread(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        """What was sent and could not be read when it came."""
        if said["role"] == "work":
            self._worked(entry)
        self.unread.append(str(entry.id))

    def _attachment(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        at, author = told_at(entry.payload), entry.payload["author"]["person"]
        signed = signed_as_it_stands(self.signatures, self.amendments)
        camera = said.get("from") == "camera"
        files = entry.payload["files"]
        logs = [file["sha256"] for file in files if file["shot"] == LOG_SHOT]
        said_of = read_log_said(said.get("log", {}))
        self.photos += [
            Photo(file["shot"], file["sha256"], str(entry.id), author, at, camera, False, signed)
            for file in files
            if file["shot"] not in (LOG_SHOT, *PAPERS)
        ]
        self.papers += [
            Enclosure(file["shot"], file["sha256"], str(entry.id), author, at, False, signed)
            for file in files
            if file["shot"] in PAPERS
        ]
        before = entry.payload["prev"]
        self.log_files = [replace(f, replaced=f.replaced or f.entry == before) for f in self.log_files]
        self.log_files += [LogFile(sha, str(entry.id), author, at, said_of, False, signed) for sha in logs]

    def _received(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        self.received[said["sha256"]] = camera_moment(seen.get("taken_at", ""))
        if not str(seen.get("media", "image/")).startswith("image/"):
            self.no_pictures.add(said["sha256"])

    def _release(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        name, at = str(entry.id), told_at(entry.payload)
        self.releases.append(release_of(name, entry.leaf, entry.payload, at, self.order[name]))

    def _decision(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        self.decisions.append(decision_of(str(entry.id), entry.payload, told_at(entry.payload)))

    def _looked(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        self.looked[said["digest"]] = str(entry.payload["reason"])

    def _returned(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        items = tuple((item["about"], item["reason"]) for item in said["items"])
        author, at = entry.payload["author"]["person"], told_at(entry.payload)
        self.returns.append(Returned(items, str(entry.id), author, at, self.order[str(entry.id)]))

    def _paper_sheet(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        """Who wrote a sheet of paper has worked, whoever enters it; its photos are photos of the record."""
        self._worked(entry)
        self.worked_by.add(said["by"])
        self._attachment(entry, {"from": said.get("from", "")}, seen)
        photos = tuple(file["sha256"] for file in entry.payload["files"])
        author, at = entry.payload["author"]["person"], told_at(entry.payload)
        self.sheets.append(Sheet(str(entry.id), author, said["by"], said["day"], at, photos))

    def _done_by_the_writer(self, entry: Stated, paper: Paper | None) -> None:
        """What stands on a sheet was done by who wrote it, not by who typed it."""
        wrote = [sheet.by for sheet in self.sheets if paper and sheet.entry == paper.sheet]
        if wrote:
            self.authors[str(entry.id)] = wrote[0]

    def _hand_over(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        author, at = entry.payload["author"]["person"], told_at(entry.payload)
        self.hand_overs.append(HandOver(said["to"], said.get("note", ""), str(entry.id), author, at))

    def _photo_marks(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        author, at, before = entry.payload["author"]["person"], told_at(entry.payload), entry.payload["prev"]
        signed = any(signature.meaning == "inspected" for signature in self.signatures)
        self.marks = [replace(m, replaced=m.replaced or m.entry == before) for m in self.marks]
        drawn = read_marks(said["marks"])
        self.marks.append(PhotoMarks(said["sha256"], drawn, str(entry.id), author, at, signed))

    def _point(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        act = read_point_act(entry, told_at(entry.payload), said, seen)
        self.points = with_act(self.points, act, entry.payload["prev"])

    def _withdrawal(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        self.withdrawn = str(entry.payload["reason"])

    def _drawing(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        """The right drawing judges what is still open from here on; of a closed record it says beside what
        would have been found."""
        if seen["judges"] == JUDGES[0]:
            drawing = {"requirement": seen["requirement"], "requirement_entry": said["requirement"]}
            self.opened = {**self.opened, **drawing}
            self.drawing_index = self.order[str(entry.id)]

    def _signature(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        author = entry.payload["author"]
        at = told_at(entry.payload)
        index = self.order[str(entry.id)]
        self.signatures.append(
            Signature(
                said["meaning"],
                str(entry.id),
                author["person"],
                author["hash"],
                at,
                index,
                said,
                str(seen.get("reduced", "")),
                str(seen.get("review_by", "")),
            )
        )

    def _amendment(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        author, at, index = (
            entry.payload["author"]["person"],
            told_at(entry.payload),
            self.order[str(entry.id)],
        )
        reason = str(entry.payload["reason"])
        self.amendments.append(Amendment(seen["number"], reason, str(entry.id), author, at, index))

    def _judgement(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        """A judgement is read where it is shown; folding takes from it only that something was put right."""
        if "class" in seen:
            at, changed = told_at(entry.payload), tuple(seen["changed"])
            told = (said["occasion"], said["cause"], seen["class"], changed, str(entry.id), at)
            self.judged_again.append(JudgedAgain(*told))

    def _part_used(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        """Who put a spacer or grease in worked on it; which one is shown, and no rule asks."""
        self._worked(entry)
        name, author, at = str(entry.id), entry.payload["author"]["person"], told_at(entry.payload)
        kept = (seen[key] for key in ("kind", "name", "lot"))
        self.parts.append(PartUsed(name, author, at, said["part"], said.get("place", ""), *kept))

    def _review(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        author, at = entry.payload["author"]["person"], told_at(entry.payload)
        agreed, words = said["agreed"] == "yes", str(entry.payload["reason"] or "")
        self.reviews.append(Review(str(entry.id), author, at, agreed, words))

    def _elsewhere(self, entry: Stated, said: Mapping[str, Any], seen: Mapping[str, Any]) -> None:
        self.elsewhere = read_elsewhere(seen)

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
        "paper sheet": _paper_sheet,
        "hand over": _hand_over,
        "photo marks": _photo_marks,
        "point": _point,
        "withdrawal": _withdrawal,
        "drawing": _drawing,
        "signature": _signature,
        "amendment": _amendment,
        "judgement": _judgement,
        "elsewhere": _elsewhere,
        "part used": _part_used,
        "re-review": _review,
        "unread": _unread,
    }

    def case(self, procedure: Procedure, tables: Tables, logs: Logs) -> Case:
        pictures = self.received.keys() - self.no_pictures
        photos = tuple(
            replace(photo, received=photo.sha256 in pictures, taken=self.received.get(photo.sha256))
            for photo in self.photos
        )
        return Case(
            mounting=self.mounting,
            requirement=read_requirement(self.opened["requirement"], tables),
            procedure=procedure,
            opened=self.opened,
            answers=self.answers,
            checks=self.checks,
            seen=self.seen,
            captures=tuple(self.captures),
            given=self.given,
            taps=tuple(self.taps),
            releases=tuple(self.releases),
            decisions=tuple(self.decisions),
            looked=self.looked,
            photos=photos,
            papers=tuple(replace(paper, received=paper.sha256 in self.received) for paper in self.papers),
            log_files=tuple(replace(file, received=file.sha256 in self.received) for file in self.log_files),
            logs=logs,
            signatures=tuple(self.signatures),
            returns=tuple(self.returns),
            parts=tuple(self.parts),
            reviews=tuple(self.reviews),
            amendments=tuple(self.amendments),
            worked_by=frozenset(self.worked_by),
            work=tuple(self.work),
            order=self.order,
            leaves=self.leaves,
            authors=self.authors,
            unread=tuple(self.unread),
            sheets=tuple(self.sheets),
            hand_overs=tuple(self.hand_overs),
            marks=tuple(self.marks),
            points=tuple(self.points),
            withdrawn=self.withdrawn,
            drawing_index=self.drawing_index,
            elsewhere=self.elsewhere,
            judged_again=tuple(self.judged_again),
            tables=tables,
            chosen=CHOSEN,
        )


def fold(
    entries: Sequence[Stated], procedure: Procedure, tables: Tables = BUILT_IN, *, logs: Logs = NO_LOGS
) -> Case:
    """The case of one mounting from its entries in ledger order, judged by these tables. An entry of an
    unknown kind or form is kept as *unread*, never dropped. `logs` are the heating logs that are here, as
    `logs_named` asks for them."""
    folding = Fold()
    for entry in entries:
        folding.take(entry)
    return folding.case(procedure, tables, logs)
