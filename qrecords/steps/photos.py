"""Wanted photos: each shot announced and received. One that came after the signature settles nothing."""

from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.rules import LOOK, Rule, Stage


def _present(rule: Rule, case: Case) -> list[Finding]:
    found = []
    for shot in case.procedure.shots:
        taken = [photo for photo in case.photos if photo.shot == shot.id and not photo.after_signature]
        received = [photo for photo in taken if photo.received]
        name = f"photo {shot.id}"
        if received:
            found.append(rule.finding(name, Verdict.CONFORMING, inputs=[received[-1].entry], shot=shot.id))
        else:
            message = "announced" if taken else "not-taken"
            found.append(rule.finding(name, Verdict.MISSING, message, shot=shot.id))
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
    Rule("photos-present", 1, Stage.CLOSE, "house rule", _present),
    Rule("photo-used-before", 1, Stage.CLOSE, "house rule", _seen_before, LOOK),
)
