"""How each act is done at the API, one by one and, for facts, in a batch."""

import hashlib
from collections.abc import Callable, Mapping
from typing import Any

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from qrecords.signoff.rebuild_queries import shown_of_rebuild
from qrecords.steps.procedure import STANDARD
from qrecords.steps.telephone import readings_code, readings_of
from qrecords.workshop.models import ProcedureVersion
from tests.api.caller import Caller
from tests.cast import PASSWORD, REQUIREMENT
from tests.drawing import small_jpeg
from tests.rights import care_doors, deciding_doors
from tests.rights.api_lives_doors import API_LIVES
from tests.rights.night import stood_in
from tests.rights.scenes import (
    Came,
    Door,
    Hand,
    NoDoor,
    doubtful,
    finished,
    measured,
    opened_by,
    problem_of,
    read,
    signed,
)
from tests.rights.sheet_doors import NO_ACTS_OF_API, SHEET_DOORS_OF_API
from tests.rights.web_doors import token_of
from tests.signoff.rebuilt import signed_rebuild
from tests.workshop.drafts import drafted, pointed, received_under_points, revised
from tests.workshop.own_copy import CLEARANCE

NO_DOOR: Mapping[Action, NoDoor] = {
    Action.APPROVE_ROW: NoDoor("a row is put in force on its page, by a person who is there", "approve_row"),
    Action.VERIFY: NoDoor(
        "who verifies needs the log itself: a page and `manage.py verify_ledger`", "tracing.proving"
    ),
    Action.PEOPLE: NoDoor("people and roles are kept on their pages, by a person who is there", "grant_role"),
}
NO_ACT: Mapping[str, str] = {
    **NO_ACTS_OF_API,
    "DELETE tokens/this/": "the sign-out of the very token it came with",
    "POST plan/": "it works out what was asked and keeps nothing",
}
"""Operations that write, or could, and do nothing of the table."""
ON = "mountings/<uuid:mounting>/"
BATCH = f"POST {ON}entries/"
MARKING = {"marking": {"typed": "6212 C3", "unit": ""}}
INTACT = {"package": {"typed": "intact", "unit": ""}}
SEAT = small_jpeg("seat")


def _open(hand: Hand) -> Came:
    """A second attempt with the same ring."""
    job = hand.job
    return hand.post("mountings/", journal=job.journal.id, bearing=job.bearing.id, rebuild=job.rebuild.id)


def _withdraw(hand: Hand) -> Came:
    job = opened_by(hand.job, hand.owner(Action.OPEN))
    hand.prepared()
    return hand.post(f"mountings/{job.mounting.id}/withdrawal/", reason="the wrong shaft")


def _captures(*, check: bool) -> tuple[Callable[[Hand], Came], Callable[[Hand], Came]]:
    fields = MARKING if check else INTACT
    one_by_one = lambda hand: hand.act("captures/identification/", fields=fields, check=check)  # noqa: E731
    batched = lambda hand: hand.send(  # noqa: E731
        kind="capture", step="identification", fields=fields, check=check
    )
    return one_by_one, batched


def _alarm(hand: Hand) -> str:
    """The id of an alarm that the hand tapped just now, or of none."""
    hand.act("taps/", what="alarm")
    made = Entry.objects.filter(kind="tap").first()
    hand.prepared()
    return str(made.id if made else new_id())


def _undo(hand: Hand) -> Came:
    return hand.act(f"taps/{_alarm(hand)}/undo/")


def _undo_in_batch(hand: Hand) -> Came:
    return hand.send(kind="undo", tap=_alarm(hand))


def _announced() -> dict[str, Any]:
    sha256 = hashlib.sha256(SEAT).hexdigest()
    return {"shot": "seat", "sha256": sha256, "size": len(SEAT), "media": "image/jpeg", "camera": True}


def _bytes(hand: Hand) -> Came:
    Hand(hand.job, "fitter").act("photos/", **_announced())
    hand.prepared()
    address = f"mountings/{hand.job.mounting.id}/photos/{_announced()['sha256']}/"
    return problem_of(hand.caller.send("PUT", address, SEAT, "image/jpeg"))


LOG = b"t [s];T [\xc2\xb0C]\n0;20\n9;40\n"


def _log() -> dict[str, Any]:
    sha256 = hashlib.sha256(LOG).hexdigest()
    return {"sha256": sha256, "size": len(LOG), "media": "text/csv", "log": {"columns": {"inner ring": 2}}}


def _log_bytes(hand: Hand) -> Came:
    address = f"mountings/{hand.job.mounting.id}/logs/{_log()['sha256']}/"
    return problem_of(hand.caller.send("PUT", address, LOG, "text/csv"))


def _paper_sheet(hand: Hand) -> dict[str, Any]:
    fitter = hand.job.shop.people["second_fitter"].id
    return {"by": str(fitter), "day": "2026-03-02", "photos": [], "camera": True}


def _hand_over(hand: Hand) -> dict[str, str]:
    names = ("fitter", "second_fitter")
    return {"to": str(next(hand.job.shop.people[name].id for name in names if name != hand.who))}


def _marks(hand: Hand) -> dict[str, Any]:
    """On a photo that the fitter announced."""
    Hand(hand.job, "fitter").act("photos/", **_announced())
    hand.prepared()
    arrow = {"kind": "arrow", "from": [100, 100], "to": [400, 500]}
    return {"sha256": _announced()["sha256"], "marks": [arrow]}


def _looked(hand: Hand) -> dict[str, str]:
    return {"digest": hand.finding("package-intact").digest, "explanation": "opened by the store to count"}


def _shown(address: str, **body: str) -> Callable[[Hand], Came]:
    return lambda hand: hand.authority(address, shown=str(hand.job.shown()), **body)


def _release_here(hand: Hand) -> Came:
    """On the fitter's device, by the hand's own sign-in."""
    said = {"hold": "fit", "name": hand.person.sign_in, "password": PASSWORD, "shown": str(hand.job.shown())}
    return Hand(hand.job, "fitter").act("releases/here/", **said)


def _telephone(hand: Hand) -> Came:
    mounting = hand.job.mounting
    code = readings_code(str(mounting.id), readings_of(case_of(mounting)))
    return hand.act("releases/telephone/", code=code, lowest_nm=60_016_000, highest_nm=60_018_000)


def _register(name: str, said: Callable[[Hand], Mapping[str, Any]], leaves: str) -> Door:
    address = f"{name}/"
    return Door(
        Action.REGISTER, f"POST {address}", lambda hand: hand.post(address, **said(hand)), leaves=leaves
    )


def _require(hand: Hand) -> Came:
    document = {**REQUIREMENT, "revision": "D"}
    return hand.post(f"journals/{hand.job.journal.id}/requirements/", document=document)


def _gauge(hand: Hand) -> Came:
    gauge = {"kind": "outside micrometer", "mark": "MIC-131", "document": {"status": "in use"}}
    return hand.post("equipment/", **gauge, valid_from="2026-03-02T08:00:00Z")


def _calibrate(hand: Hand) -> Came:
    micrometer = hand.job.shop.gear["micrometer"].id
    document = {"status": "quarantine"}
    return hand.post(
        f"equipment/{micrometer}/calibrations/", document=document, valid_from="2026-03-02T12:00:00Z"
    )


TOLD = {"point": "visit", "what": "notified", "who": "E. Marlow", "how": "telephone"}


def _first_procedure(hand: Hand) -> Came:
    """As at an installation: nothing is in force yet."""
    ProcedureVersion.objects.all().delete()
    hand.prepared()
    return hand.post("procedures/", **hand.proof(), document=STANDARD)


def _draft(hand: Hand) -> Came:
    return hand.post("procedures/drafts/", document=revised(), reason="the customer asks for it")


def _of_draft(what: str, **said: str) -> Callable[[Hand], Came]:
    """Of a draft of one's own, where one may draft."""

    def do(hand: Hand) -> Came:
        draft = drafted(hand.job.shop, hand.who if hand.who in ("engineer", "quality") else "engineer")
        hand.prepared()
        return hand.post(f"procedures/drafts/{draft.id}/{what}/", **hand.proof(), **said)

    return do


def _token(hand: Hand) -> Came:
    asked = {
        "name": hand.person.sign_in,
        "password": PASSWORD,
        "label": "bench",
        "actions": [Action.READ.value],
    }
    return problem_of(Caller.nobody(hand.job.shop).post("tokens/", **asked))


def _revoke(hand: Hand) -> Came:
    return problem_of(hand.caller.delete(f"tokens/{token_of(hand)}/"))


def _get(address: Callable[[Hand], str], **query: str) -> Callable[[Hand], Came]:
    return lambda hand: problem_of(hand.caller.get(address(hand), **query))


def _both(
    act: Action, address: str, kind: str, body: Callable[[Hand], Mapping[str, Any]]
) -> tuple[Door, Door]:
    """One by one, and in a batch."""
    leaves = "photo marks" if kind == "marks" else kind
    one_by_one = Door(act, f"POST {ON}{address}", lambda hand: hand.act(address, **body(hand)), leaves=leaves)
    return one_by_one, Door(act, BATCH, lambda hand: hand.send(kind=kind, **body(hand)), leaves=leaves)


def _shift(hand: Hand) -> Came:
    shop = hand.job.shop
    return hand.post("shifts/", site=str(shop.site), gear=[shop.gear["micrometer"].id])


def _export(hand: Hand) -> Came:
    return hand.post("exports/", site=str(hand.job.shop.site))


def _release_rebuild(hand: Hand) -> Came:
    rebuild = hand.job.rebuild
    address = f"rebuilds/{rebuild.id}/release/"
    return hand.post(address, **hand.proof(), shown=str(shown_of_rebuild(rebuild)))


RECORD, RECORD_IN_BATCH = _captures(check=False)
CHECK, CHECK_IN_BATCH = _captures(check=True)
DOORS: tuple[Door, ...] = (
    Door(Action.READ, f"GET {ON}", _get(lambda hand: f"mountings/{hand.job.mounting.id}/"), leaves=""),
    Door(Action.TRACE, "GET search/", _get(lambda _: "search/", q="6212"), leaves=""),
    Door(Action.OPEN, "POST mountings/", _open, leaves="mounting"),
    Door(Action.WITHDRAW, f"POST {ON}withdrawal/", _withdraw, leaves="withdrawal", not_mine=403),
    Door(Action.RECORD, f"POST {ON}captures/<str:step>/", RECORD),
    Door(Action.RECORD, BATCH, RECORD_IN_BATCH),
    Door(Action.CHECK, f"POST {ON}captures/<str:step>/", CHECK),
    Door(Action.CHECK, BATCH, CHECK_IN_BATCH),
    Door(Action.TAP, f"POST {ON}taps/", lambda hand: hand.act("taps/", what="alarm"), leaves="tap"),
    Door(Action.TAP, BATCH, lambda hand: hand.send(kind="tap", what="alarm"), leaves="tap"),
    Door(Action.TAP, f"POST {ON}taps/<uuid:tap>/undo/", _undo, leaves="tap"),
    Door(Action.TAP, BATCH, _undo_in_batch, leaves="tap"),
    Door(
        Action.ATTACH,
        f"POST {ON}photos/",
        lambda hand: hand.act("photos/", **_announced()),
        leaves="attachment",
    ),
    Door(Action.ATTACH, BATCH, lambda hand: hand.send(kind="photo", **_announced()), leaves="attachment"),
    Door(Action.ATTACH, f"PUT {ON}photos/<str:sha256>/", _bytes, leaves="file received"),
    Door(Action.ATTACH, f"POST {ON}logs/", lambda hand: hand.act("logs/", **_log()), leaves="attachment"),
    Door(Action.ATTACH, BATCH, lambda hand: hand.send(kind="log", **_log()), leaves="attachment"),
    Door(Action.ATTACH, f"PUT {ON}logs/<str:sha256>/", _log_bytes, leaves="file received"),
    *(
        door
        for act, address, kind, body in (
            (Action.RECORD, "paper-sheets/", "paper sheet", _paper_sheet),
            (Action.RECORD, "hand-overs/", "hand over", _hand_over),
            (Action.ATTACH, "marks/", "marks", _marks),
        )
        for door in _both(act, address, kind, body)
    ),
    Door(
        Action.CLOSE_QUERY,
        f"POST {ON}looked/",
        lambda hand: hand.act("looked/", **_looked(hand)),
        doubtful,
        "looked",
    ),
    Door(
        Action.CLOSE_QUERY, BATCH, lambda hand: hand.send(kind="looked", **_looked(hand)), doubtful, "looked"
    ),
    Door(
        Action.RECORD,
        "POST shifts/",
        _shift,
        leaves="shift start",
    ),
    Door(Action.READY, f"POST {ON}ready/", _shown("ready/"), measured, "signature"),
    Door(Action.RELEASE, f"POST {ON}releases/", _shown("releases/", hold="fit"), read, "release"),
    Door(Action.RELEASE, f"POST {ON}releases/here/", _release_here, read, "release"),
    Door(Action.RELEASE, f"POST {ON}releases/telephone/", _telephone, measured, "release"),
    Door(
        Action.RETURN,
        f"POST {ON}returns/",
        lambda hand: hand.act("returns/", items=[{"about": "shoulder gap", "reason": "180° again, cold"}]),
        finished,
        "return",
    ),
    *API_LIVES,
    Door(
        Action.REVIEW,
        f"POST {ON}re-reviews/",
        lambda hand: hand.authority("re-reviews/", agreed=True, shown=str(hand.job.shown())),
        stood_in,
        "re-review",
    ),
    Door(
        Action.AMEND,
        f"POST {ON}amendments/",
        lambda hand: hand.authority("amendments/", reason="field read anew"),
        signed,
        "amendment",
    ),
    *deciding_doors.API,
    Door(Action.SIGN, f"POST {ON}signatures/", _shown("signatures/"), finished, "signature"),
    Door(
        Action.RELEASE_REBUILD,
        "POST rebuilds/<uuid:id>/release/",
        _release_rebuild,
        signed_rebuild,
        "rebuild release",
    ),
    *SHEET_DOORS_OF_API,
    Door(Action.EXPORT, "POST exports/", _export, leaves="export"),
    _register("machines", lambda _: {"name": "Hoist motor 2", "owner": "Ostrey tram depot"}, "machine"),
    _register("rebuilds", lambda hand: {"machine": hand.job.machine.id, "work_order": "WO-77"}, "rebuild"),
    _register(
        "journals", lambda hand: {"machine": hand.job.machine.id, "shaft": "1", "position": "NDE"}, "journal"
    ),
    _register("bearings", lambda _: {"designation": "6212 C3", "lot": "L-78"}, "bearing"),
    Door(Action.REGISTER, "POST journals/<uuid:id>/requirements/", _require, leaves="journal requirement"),
    Door(Action.EQUIP, "POST equipment/", _gauge, leaves="equipment"),
    Door(Action.EQUIP, "POST equipment/<uuid:id>/calibrations/", _calibrate, leaves="calibration"),
    Door(
        Action.PROPOSE_ROW,
        "POST tables/rows/",
        lambda hand: hand.post("tables/rows/", document=CLEARANCE, reason="compared with our copy"),
        leaves="table row",
    ),
    Door(Action.POINT, f"POST {ON}points/", lambda hand: hand.act("points/", **TOLD), pointed, "point"),
    Door(Action.POINT, BATCH, lambda hand: hand.send(kind="point", **TOLD), pointed, "point"),
    Door(
        Action.WAIVE,
        f"POST {ON}points/waived/",
        lambda hand: hand.act("points/waived/", point="visit", who="E. Marlow", reason="seen before"),
        received_under_points,
        "point",
    ),
    Door(Action.DRAFT, "POST procedures/drafts/", _draft, leaves="procedure draft"),
    Door(
        Action.DRAFT,
        "POST procedures/drafts/<uuid:id>/withdrawals/",
        _of_draft("withdrawals", reason="not needed"),
        leaves="procedure withdrawal",
    ),
    Door(Action.PROCEDURE, "POST procedures/", _first_procedure, leaves="procedure"),
    Door(
        Action.PROCEDURE,
        "POST procedures/drafts/<uuid:id>/approvals/",
        _of_draft("approvals"),
        leaves="procedure approval",
    ),
    Door(
        Action.PROCEDURE,
        "POST procedures/drafts/<uuid:id>/refusals/",
        _of_draft("refusals", reason="the cap is not ours"),
        leaves="procedure refusal",
    ),
    *care_doors.API,
    Door(Action.TOKENS, "POST tokens/", _token, leaves="token"),
    Door(Action.TOKENS, "DELETE tokens/<uuid:token>/", _revoke, leaves="token end", not_mine=404),
)
