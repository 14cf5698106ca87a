"""Wanted photos: each shot announced and received. One that came after the signature settles nothing."""

from collections.abc import Sequence

from qrecords.steps.acts import LOG_SHOT, LogFile, Photo, Tap
from qrecords.steps.case import Answered, Case, Traits
from qrecords.steps.chosen_rows import OF_PHOTO
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.rules import LOOK, Rule, Stage
from qrecords.steps.runs import mounted_run, runs

UNDER_THE_RING = ("preparation", "measurement", "bore")
"""Steps whose photos cannot be taken once the ring is on. What is taken of a hot ring is sent when hands are
free."""
ON_THE_SHAFT = ("seating", "shoulder_gap", "clearance_after", "running", "protection")
"""Steps whose photos show the ring as its last heating left it."""


def _kept(case: Case, shot: str) -> list[Photo]:
    return [photo for photo in case.photos if photo.shot == shot and not photo.after_signature]


def _here(case: Case, shot: str) -> Sequence[Photo | LogFile]:
    """The photos of a shot; of the heater's log, where a procedure wants one, the logs."""
    if shot != LOG_SHOT:
        return _kept(case, shot)
    return [file for file in case.log_files if not file.replaced and not file.after_signature]


def _present(rule: Rule, case: Case) -> list[Finding]:
    found = []
    for shot in case.procedure.shots:
        taken = _here(case, shot.id)
        received = [photo for photo in taken if photo.received]
        name = f"photo {shot.id}"
        if received:
            found.append(rule.finding(name, Verdict.CONFORMING, inputs=[received[-1].entry], shot=shot.id))
        else:
            message = "announced" if taken else "not-taken"
            found.append(rule.finding(name, Verdict.MISSING, message, shot=shot.id))
    return found


def _in_time(rule: Rule, case: Case) -> list[Finding]:
    """A photo is taken between the steps beside it: one of the seat taken when the ring was on, or of the gap
    before the ring was last heated, shows something else, and somebody looks. Only where ledger and clocks
    agree, and no other photo of the shot was taken in time. *Taken late* is said where every camera tells
    it; of others it is known only that they were sent late."""
    found = []
    for shot in case.procedure.shots:
        taken, (off, tap) = _kept(case, shot.id), _bound(case, shot.step)
        if taken and tap and not tap.paper and all(_lies(case, photo, off, tap) for photo in taken):
            inputs = [tap.entry, *(photo.entry for photo in taken)]
            name = f"photo {shot.id} in time"
            message = "taken-late" if off == "late" and all(photo.taken for photo in taken) else off
            found.append(rule.finding(name, Verdict.QUERY, message, inputs=inputs, shot=shot.id))
    return found


def _bound(case: Case, step: str) -> tuple[str, Tap | None]:
    """The tap that bounds photos of a step, and on which side of it one is too *late* or too *early*."""
    run, every = mounted_run(case), runs(case)
    chosen = case.chosen.get(step, Traits())
    if step in UNDER_THE_RING or chosen.under:
        return "late", run.home if run else None
    return "early", every[-1].heater_on if every and (step in ON_THE_SHAFT or chosen.on_the_shaft) else None


def _lies(case: Case, photo: Photo, off: str, tap: Tap) -> bool:
    """Taken on this side of a tap: by the camera that wrote its zone, else when it was said to be there."""
    after = {case.order[photo.entry] > case.order[tap.entry], (photo.taken or photo.at) > tap.at}
    return after == {off == "late"}


def _of_the_sheet(rule: Rule, case: Case) -> list[Finding]:
    """What was entered from a sheet of paper can be compared with it: a photo of each is in the record."""
    received = {photo.sha256 for photo in case.photos if photo.received}
    found = []
    for number, sheet in enumerate(case.sheets, start=1):
        here = bool(received.intersection(sheet.photos))
        message = "" if here else "announced" if sheet.photos else "not-taken"
        verdict = Verdict.CONFORMING if here else Verdict.MISSING
        name = f"paper sheet {number}"
        found.append(rule.finding(name, verdict, message, inputs=[sheet.entry], day=sheet.day))
    return found


def _seen_before(rule: Rule, case: Case) -> list[Finding]:
    """The same photo in another record: somebody looks."""
    again: dict[str, list[Answered | str]] = {}
    for photo in case.photos:
        if photo.sha256 in case.elsewhere.photos_seen_before:
            again.setdefault(photo.shot, []).append(photo.entry)
    return [
        rule.finding(f"photo {shot} used before", Verdict.QUERY, inputs=entries, shot=shot)
        for shot, entries in again.items()
    ]


RULES = (
    Rule("photos-present", 1, Stage.CLOSE, "house rule", _present, row=OF_PHOTO),
    Rule("photo-in-time", 3, Stage.CLOSE, "own arithmetic: order in time", _in_time, LOOK),
    Rule("paper-sheet-photo", 1, Stage.CLOSE, "house rule", _of_the_sheet, row=OF_PHOTO),
    Rule("photo-used-before", 1, Stage.CLOSE, "house rule", _seen_before, LOOK),
)
