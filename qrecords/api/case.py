"""A mounting as the API shows it, from its case: numbers in base units, message ids, no sentences."""

from dataclasses import asdict
from datetime import UTC, datetime
from typing import Any

from qrecords.api.case_logs import logs_document
from qrecords.api.forms import Line, WholeCase
from qrecords.api.paper_acts import PaperRead
from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.people.queries import names
from qrecords.steps.acts import Decision
from qrecords.steps.case import Answered, Case
from qrecords.steps.fit import heating_plan
from qrecords.steps.interchange.answer import OPEN, asked_document, finding_document, plan_document
from qrecords.steps.marks import PhotoMarks
from qrecords.steps.sealed import Sealed
from qrecords.steps.shown import shown_now
from qrecords.steps.telephone import answer_code, readings_code, readings_of
from qrecords.steps.transitions import standing_release, state_of, undecided, voided


def case_document(mounting: Mounting, judged: Judged, sealed: Sealed = OPEN) -> dict[str, Any]:
    """The whole case as JSON-ready values, without what is `sealed` for the caller until he has read it."""
    case = judged.case
    names_of_sealed = [name for name in ("marking", "readings") if getattr(sealed, name)]
    document = {
        "requirement": asked_document(case),
        "answers": _answers(case.answers, sealed),
        "checks": _answers(case.checks),
        "sealed": names_of_sealed,
        "findings": [finding_document(case, finding, sealed) for finding in judged.findings],
        "heating_plan": None if sealed.readings else plan_document(heating_plan(case)),
        "open": [finding.characteristic for finding in undecided(case, judged.findings)],
        "readings_code": "" if sealed.readings else _readings_code(case),
        "standing_releases": {hold: _standing(case, hold) for hold in case.procedure.holds},
        "releases": [_release(case, release) for release in case.releases],
        "taps": case.taps,
        "decisions": [_decided(decision) for decision in case.decisions],
        "returns": [_back(about, reason, r) for r in case.returns for about, reason in r.items],
        "photos": case.photos,
        "logs": logs_document(case),
        "sheets": case.sheets,
        "hand_overs": case.hand_overs,
        "marks": [_marks(drawn) for drawn in case.marks],
        "points": case.points,
        "papers": case.papers,
        "signatures": case.signatures,
        "shown": str(shown_now(case)),
        "unread": case.unread,
        "tables": {"digest": case.tables.digest, "stands_for": case.tables.stands_for},
        "people": names(_everybody(case)),
    }
    line = Line(mounting).data | {"state": state_of(case).value}
    return line | {
        name: field.to_representation(document[name]) if document[name] is not None else None
        for name, field in WholeCase().fields.items()
        if name in document
    }


def _readings_code(case: Case) -> str:
    readings = readings_of(case)
    return readings_code(case.mounting, readings) if readings else ""


def _everybody(case: Case) -> set[str]:
    said = [a.author for part in (case.answers, case.checks) for step in part.values() for a in step.values()]
    acts: tuple[Any, ...] = (
        *case.taps,
        *case.releases,
        *case.decisions,
        *case.photos,
        *case.papers,
        *case.log_files,
        *case.signatures,
        *case.returns,
        *case.sheets,
        *case.hand_overs,
        *case.marks,
        *case.points,
    )
    named = {*(sheet.by for sheet in case.sheets), *(handed.to for handed in case.hand_overs)}
    return {*said, *named, *(act.author for act in acts)}


def _answers(steps: Any, sealed: Sealed = OPEN) -> dict[str, dict[str, Any]]:
    return {
        step: {key: _answer(a) for key, a in answers.items() if not sealed.answer(step, key)}
        for step, answers in steps.items()
    }


def _answer(answered: Answered) -> dict[str, Any]:
    circumstances = {"entry": answered.entry, "author": answered.author, "at": answered.at}
    paper = {"paper": PaperRead(answered.paper).data} if answered.paper else {}
    return answered.answer.document() | circumstances | {"check": answered.check} | paper


def _marks(drawn: PhotoMarks) -> dict[str, Any]:
    return vars(drawn) | {"marks": [mark.document() for mark in drawn.marks]}


def _standing(case: Case, hold: str) -> str:
    release = standing_release(case, hold)
    return release.leaf if release else ""


def _release(case: Case, release: Any) -> dict[str, Any]:
    return {
        "hold": release.hold,
        "entry": release.entry,
        "leaf": release.leaf,
        "author": release.author,
        "at": release.at,
        "means": release.means,
        "voided": voided(case, release),
        "answer_code": answer_code(release.leaf) if release.means == "telephone" else "",
    }


def _decided(decision: Decision) -> dict[str, Any]:
    return asdict(decision) | {"expired": decision.expired(datetime.now(UTC).date())}


def _back(about: str, reason: str, returned: Any) -> dict[str, Any]:
    return {
        "about": about,
        "reason": reason,
        "entry": returned.entry,
        "author": returned.author,
        "at": returned.at,
    }
