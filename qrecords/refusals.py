"""Which HTTP status says which refusal: the one table, for pages and for the API."""

from collections.abc import Mapping
from typing import Final

ASKED_BACK: Final = 422
"""Every code without a row: asked back because of what it says."""
STATUS: Mapping[str, int] = {
    "malformed": 400,
    "identifier": 400,
    "which-site": 400,
    "unknown-person": 401,
    "token": 401,
    "not-allowed": 403,
    "prove-again": 403,
    "not-independent": 403,
    "not-for-oneself": 403,
    "two-people": 403,
    "holds-elsewhere": 403,
    "first-password": 403,
    "own-reading": 403,
    "engineer-withdraws": 403,
    "worked-on-rebuild": 403,
    "not-performed": 403,
    "not-competent": 403,
    "sealed": 403,
    "never-by-token": 403,
    "token-lacks": 403,
    "not-found": 404,
    "unknown-mounting": 404,
    "unknown-object": 404,
    "not-recorded": 404,
    "changed-meanwhile": 409,
    "different-content": 409,
    "role-held": 409,
    "row-settled": 409,
    "procedure-there": 409,
    "procedure-settled": 409,
    "last-procedure": 409,
    "people-there": 409,
    "last-administrator": 409,
    "roles-apart": 409,
    "not-open": 409,
    "not-ready": 409,
    "not-signed-off": 409,
    "closed": 409,
    "heated": 409,
    "worked-since-ready": 409,
    "open-findings": 409,
    "own-reading-missing": 409,
    "ring-undecided": 409,
    "rebuild-released": 409,
    "mountings-open": 409,
    "nothing-mounted": 409,
    "left-out-but-mounted": 409,
    "places-without-mounting": 409,
    "telephone-differs": 409,
    "nothing-recorded": 409,
    "nothing-to-review": 409,
    "not-in-doubt": 409,
    "already-answered": 409,
    "look-back-closed": 409,
    "not-judged-yet": 409,
    "doubts-open": 409,
    "needs-reason": 409,
    "too-late-to-undo": 409,
    "already-tapped": 409,
    "bearing-scrapped": 409,
    "bearing-elsewhere": 409,
    "bearing-state": 409,
    "too-large": 413,
    "payload-too-long": 413,
    "too-many-pixels": 413,
    "too-many-scans": 413,
    "not-a-photo": 415,
    "too-many-tries": 429,
    "key-missing": 503,
    "busy": 503,
}


def status_of(error: object) -> int:
    """The status of a refusal by its code."""
    return status_of_code(str(getattr(error, "code", "")).replace("_", "-"))


def status_of_code(code: str) -> int:
    return STATUS.get(code, ASKED_BACK)
