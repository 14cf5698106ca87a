"""Decisions and the papers they rest on, at the pages and at the API."""

import hashlib
from collections.abc import Callable
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile

from qrecords.ledger.identifiers import new_id
from qrecords.people.permissions import Action
from qrecords.workshop.actions import require_of_journal
from qrecords.workshop.models import JournalRequirement
from tests.cast import REQUIREMENT, Job
from tests.papers import pdf
from tests.rights.scenes import Came, Door, Hand, doubtful, expired, measured, problem_of

ON = "mountings/<uuid:mounting>/"


def _decide(kind: str, about: str = "journal size", at: str = "decide") -> Any:
    def do(hand: Hand) -> Came:
        finding = hand.finding(about)
        return hand.on(at, kind=kind, about=finding.digest, reason="seen")

    return do


def _paper(hand: Hand) -> Came:
    sheet = SimpleUploadedFile("letter.pdf", pdf("a letter"), content_type="application/pdf")
    return hand.on("papers", paper="customer-letter", file=sheet)


def _own(hand: Hand) -> Came:
    return hand.on("own-measurement", reading="17", unit="um from 60 mm", reason="measured myself")


def revised() -> Job:
    """Measured; another revision of the drawing was written down since."""
    job = measured()
    require_of_journal(
        acting=job.shop.acting("engineer"), requirement_id=new_id(), journal=job.journal,
        document={**REQUIREMENT, "revision": "D", "shaft_class": "k6"},
    )  # fmt: skip
    return job


def _newest(hand: Hand) -> str:
    return str(JournalRequirement.objects.filter(journal=hand.job.journal).latest("valid_from").id)


def _right_drawing(hand: Hand) -> Came:
    return hand.on("right-drawing", requirement=_newest(hand), reason="the order named rev. D")


PAGES: tuple[Door, ...] = (
    Door(Action.JUDGE_AGAIN, "right-drawing", _right_drawing, revised, "drawing"),
    Door(Action.CHECK, "own-measurement", _own, measured, "capture"),
    Door(Action.MEASURE_AGAIN, "decide", _decide("measure again"), doubtful, "decision"),
    Door(Action.REWORK, "decide", _decide("rework", "edge-burrs"), doubtful, "decision"),
    Door(Action.ACCEPT, "decide", _decide("accept", "cold when checked"), doubtful, "decision"),
    Door(Action.SCRAP, "decide", _decide("scrap", "not dropped"), doubtful, "decision"),
    Door(Action.CONCEDE, "decide", _decide("concession"), doubtful, "decision"),
    Door(Action.QUARANTINE, "decide", _decide("quarantine", "not dropped"), doubtful, "decision"),
    Door(Action.NOTE, "note", _decide("note", "gauge MIC-OLD", "note"), expired, "decision"),
    Door(Action.ATTACH, "papers", _paper, measured, "attachment"),
)


def _sent(decision: str, about: str = "journal size") -> Callable[[Hand], Came]:
    def do(hand: Hand) -> Came:
        finding = hand.finding(about)
        return hand.authority("decisions/", decision=decision, digests=[finding.digest], reason="seen")

    return do


LETTER = pdf("a letter")


def _letter() -> dict[str, Any]:
    sha256 = hashlib.sha256(LETTER).hexdigest()
    return {"paper": "customer-letter", "sha256": sha256, "size": len(LETTER), "media": "application/pdf"}


def _paper_said(hand: Hand) -> Came:
    return hand.act("papers/", **_letter())


def _paper_bytes(hand: Hand) -> Came:
    address = f"mountings/{hand.job.mounting.id}/papers/{_letter()['sha256']}/"
    return problem_of(hand.caller.send("PUT", address, LETTER, "application/pdf"))


API: tuple[Door, ...] = (
    Door(
        Action.JUDGE_AGAIN,
        f"POST {ON}drawings/",
        lambda hand: hand.authority("drawings/", requirement=_newest(hand), reason="the order named rev. D"),
        revised,
        "drawing",
    ),
    Door(Action.MEASURE_AGAIN, f"POST {ON}decisions/", _sent("measure again"), doubtful, "decision"),
    Door(Action.REWORK, f"POST {ON}decisions/", _sent("rework", "edge-burrs"), doubtful, "decision"),
    Door(Action.ACCEPT, f"POST {ON}decisions/", _sent("accept", "cold when checked"), doubtful, "decision"),
    Door(Action.SCRAP, f"POST {ON}decisions/", _sent("scrap", "not dropped"), doubtful, "decision"),
    Door(Action.CONCEDE, f"POST {ON}decisions/", _sent("concession"), doubtful, "decision"),
    Door(Action.QUARANTINE, f"POST {ON}decisions/", _sent("quarantine", "not dropped"), doubtful, "decision"),
    Door(Action.NOTE, f"POST {ON}decisions/", _sent("note", "gauge MIC-OLD"), expired, "decision"),
    Door(Action.ATTACH, f"POST {ON}papers/", _paper_said, measured, "attachment"),
    Door(Action.ATTACH, f"PUT {ON}papers/<str:sha256>/", _paper_bytes, measured, "file received"),
)
