"""How a sheet of paper is handed in, work handed over and a shift started at the pages."""

import uuid

from django.core.files.uploadedfile import SimpleUploadedFile

from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from tests.drawing import small_jpeg
from tests.rights.scenes import Came, Door, Hand


def _next_fitter(hand: Hand) -> Came:
    names = ("fitter", "second_fitter")
    return hand.on("hand-over", to=next(hand.job.shop.people[name].id for name in names if name != hand.who))


def _sheet(hand: Hand) -> uuid.UUID:
    """A sheet of paper that the fitter handed in."""
    Hand(hand.job, "fitter").on("from-paper", by=hand.job.shop.people["fitter"].id, day="2026-03-02")
    hand.prepared()
    return uuid.UUID(case_of(hand.job.mounting).sheets[0].entry)


def _marks(hand: Hand) -> Came:
    """On a photo that the fitter took."""
    photo = SimpleUploadedFile("seat.jpg", small_jpeg(f"{uuid.uuid4()}"), "image/jpeg")
    Hand(hand.job, "fitter").on("photos", **{"shot.seat": photo})
    hand.prepared()
    sha256 = case_of(hand.job.mounting).photos[-1].sha256
    return hand.on("photo-marks", sha256, kind="circle", **{"from": "C4", "to": "D4"})


def _taps(hand: Hand) -> Came:
    return hand.on("paper-taps", paper_sheet=_sheet(hand), paper_day="2026-03-02", stuck="09:00")


def _shift(hand: Hand) -> Came:
    return hand.form("shift-start", site=hand.job.shop.site, gear=hand.job.shop.gear["micrometer"].id)


OF_PAPER = (
    Door(
        Action.RECORD,
        "from-paper",
        lambda hand: hand.on("from-paper", by=hand.job.shop.people["fitter"].id, day="2026-03-02"),
        leaves="paper sheet",
    ),
    Door(Action.ATTACH, "photo-marks", _marks, leaves="photo marks"),
    Door(Action.TAP, "paper-taps", _taps, leaves="tap"),
    Door(Action.RECORD, "hand-over", _next_fitter, leaves="hand over"),
    Door(Action.RECORD, "shift-start", _shift, leaves="shift start"),
)
