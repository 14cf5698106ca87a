"""How each act is done at the pages."""

import hashlib
import uuid
from collections.abc import Mapping
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.queries import case_of
from qrecords.people.actions import make_token
from qrecords.people.permissions import Action
from qrecords.signoff.rebuild_queries import shown_of_rebuild
from qrecords.steps.procedure import STANDARD
from qrecords.steps.procedure_file import as_file
from qrecords.steps.telephone import readings_code, readings_of
from qrecords.web.registers.procedure_form import values_of
from qrecords.workshop.models import ProcedureVersion
from tests.cast import PASSWORD
from tests.drawing import small_jpeg
from tests.rights import care_doors, deciding_doors
from tests.rights.lives_doors import LIVES
from tests.rights.paper_doors import OF_PAPER
from tests.rights.scenes import (
    Came,
    Door,
    Hand,
    NoDoor,
    doubtful,
    finished,
    measured,
    opened_by,
    read,
    signed,
)
from tests.rights.sheet_doors import SHEET_DOORS
from tests.signoff.rebuilt import signed_rebuild
from tests.workshop.drafts import drafted, pointed, received_under_points, revised
from tests.workshop.own_copy import CLEARANCE, propose

NO_DOOR: Mapping[Action, NoDoor] = {}
NO_ACT: Mapping[str, str] = {
    "sign-in": "who is not signed in",
    "sign-out": "one's own session",
    "own-password": "one's own password",
    "read-display": "kept in the reader's own session until the readings are compared; nothing is recorded",
}
"""Addresses that take a form and do nothing of the table."""
ORDER = {
    "work_order": "WO-77", "machine_name": "Vent fan 2", "owner": "Ostrey tram depot", "position": "DE",
    "designation": "6212 C3", "drawing": "TH-9", "revision": "B", "shaft_class": "m6", "seat_width": "40",
    "nominal": "60", "outside": "110", "width": "22", "clearance_kind": "deep_groove_ball_cyl_bore",
    "clearance_group": "3",
}  # fmt: skip
SCREENS: Mapping[str, tuple[str, dict[str, str]]] = {
    "receive": ("", {"identification.package": "intact", "preparation.wiped": "yes"}),
    "measure": ("?part=readings", {"measurement.journal.A.0": "60.018"}),
    "heat": ("?part=after", {"heating.peak": "95", "demagnetisation.cycle": "done"}),
    "cold": ("?part=seat", {"seating.film": "thin oil", "seating.dropped": "no"}),
    "close": ("", {"running.turns": "smooth", "protection.covered": "yes"}),
}


def _screen(name: str) -> Door:
    query, typed = SCREENS[name]
    return Door(Action.RECORD, f"fit-{name}", lambda hand: hand.on(f"fit-{name}", query=query, **typed))


def _withdraw(hand: Hand) -> Came:
    job = opened_by(hand.job, hand.owner(Action.OPEN))
    hand.prepared()
    return hand.form("withdraw", job.mounting.id, reason="the wrong shaft")


def _undo(hand: Hand) -> Came:
    hand.on("hot", tap="alarm")
    made = Entry.objects.filter(kind="tap").first()
    hand.prepared()
    return hand.on("hot", undo=made.id if made else new_id())


def _photo(hand: Hand) -> Came:
    photo = SimpleUploadedFile("seat.jpg", small_jpeg(f"{uuid.uuid4()}"), "image/jpeg")
    return hand.on("photos", **{"shot.seat": photo})


LOG = b"t [s];T [\xc2\xb0C]\n0;20\n9;40\n"


def _log(hand: Hand) -> Came:
    return hand.on("heating-log", log=SimpleUploadedFile("log.csv", LOG, "text/csv"))


def _say_of_log(hand: Hand) -> Came:
    """Of a log that the fitter sent, on its own page."""
    _log(Hand(hand.job, "fitter"))
    hand.prepared()
    sha256 = hashlib.sha256(LOG).hexdigest()
    return hand.on("say-of-log", sha256, **{"column.2": "inner ring", "sure": "1"})


def _release_here(hand: Hand) -> Came:
    """On the fitter's device, by the hand's own sign-in."""
    device = Hand(hand.job, "fitter", password="")
    typed = {"sign_in": hand.person.sign_in, "inspector_password": PASSWORD, "shown": hand.job.shown()}
    return device.on("release-here", "fit", **typed)


def _telephone(hand: Hand) -> Came:
    mounting = hand.job.mounting
    code = readings_code(str(mounting.id), readings_of(case_of(mounting)))
    heard = {"number": mounting.number, "code": code, "lowest": "16", "highest": "18", "unit": "um"}
    return hand.form("release-by-telephone", **heard)


def _look(hand: Hand) -> Came:
    about = hand.finding("package-intact").digest
    return hand.on("look", about=about, explanation="opened by the store to count")


def _gauge(hand: Hand) -> Came:
    gauge = {"mark": "MIC-131", "kind": "outside micrometer", "status": "in use"}
    return hand.form("equipment-new", **gauge, valid_from="2026-03-02T08:00")


def _calibration(hand: Hand) -> Came:
    micrometer = hand.job.shop.gear["micrometer"].id
    return hand.form("calibration-new", micrometer, status="quarantine", valid_from="2026-03-02T12:00")


def _enrol(hand: Hand) -> Came:
    new = {"name": "O. Brandreth", "sign_in": "brandreth", "first_password": "a long first word"}
    return hand.form("person-new", **new)


DRAFT = {name: value for name, value in values_of({**STANDARD, "revision": "B"}).items() if value} | {
    "reason": "the customer asks for it"
}


def _draft(hand: Hand) -> Came:
    return hand.form("procedure-new", **DRAFT)


def _import(hand: Hand) -> Came:
    file = SimpleUploadedFile("hm.json", as_file(revised()).encode(), "application/json")
    return hand.form("procedure-import", file=file, reason="as at our other hall")


def _own_draft(hand: Hand) -> uuid.UUID:
    """A draft of one's own, where one may draft."""
    draft = drafted(hand.job.shop, hand.who if hand.who in ("engineer", "quality") else "engineer")
    hand.prepared()
    return draft.id


def _first_procedure(hand: Hand) -> Came:
    """As at an installation: nothing is in force yet."""
    ProcedureVersion.objects.all().delete()
    hand.prepared()
    return hand.form("procedure-first", site=hand.job.shop.site)


def _other(hand: Hand) -> Any:
    return hand.job.shop.people["second_fitter"]


def competence_of(person: uuid.UUID, assessor: uuid.UUID) -> dict[str, object]:
    """The form that says somebody was assessed."""
    return {
        "person": person, "task": "heat", "basis": "six supervised jobs", "assessor": assessor,
        "from_mm": "10", "to_mm": "400", "valid_from": "2026-03-02", "valid_to": "2029-03-02",
    }  # fmt: skip


def _competence(hand: Hand) -> Came:
    return hand.form("competence-new", **competence_of(_other(hand).id, hand.person.id))


def _token(hand: Hand) -> Came:
    return hand.form("tokens", label="bench gauge 2", actions=[Action.READ.value])


def token_of(hand: Hand) -> uuid.UUID:
    """A token of the hand's own, or of somebody else's."""
    token, _secret = make_token(
        acting=hand.job.shop.proved(hand.owner(Action.TOKENS)), site=hand.job.shop.site, token_id=new_id(),
        label="bench", actions=frozenset({Action.READ}),
    )  # fmt: skip
    hand.prepared()
    return token.id


def _propose(hand: Hand) -> Came:
    inputs = ("key-kind", "key-group", "value-least", "value-most")
    typed = dict(zip(inputs, (*CLEARANCE["key"], *CLEARANCE["values"]), strict=True))
    plain = ("over_mm", "upto_mm", "standard", "edition", "place", "copy")
    given = {**typed, **{name: CLEARANCE[name] for name in plain}, "reason": "compared with our copy"}
    return hand.form("table-row-propose", CLEARANCE["table"], **given)


def _proposed(hand: Hand) -> uuid.UUID:
    """A row that somebody else proposed."""
    row = propose(hand.job.shop, "quality" if hand.who == "engineer" else "engineer")
    hand.prepared()
    return row.id


def _own_proposal(hand: Hand) -> uuid.UUID:
    """A row that the hand proposed itself, where it may."""
    row = propose(hand.job.shop, hand.who if hand.who in ("engineer", "quality") else "engineer")
    hand.prepared()
    return row.id


def _release_rebuild(hand: Hand) -> Came:
    rebuild = hand.job.rebuild
    return hand.form("rebuild-release", rebuild.id, shown=shown_of_rebuild(rebuild))


def _export(hand: Hand) -> Came:
    return hand.form("export-everything", site=hand.job.shop.site)


DOORS: tuple[Door, ...] = (
    Door(Action.READ, "inspect", lambda hand: hand.look("inspect", hand.job.mounting.id), leaves=""),
    Door(Action.TRACE, "search", lambda hand: hand.look("search", q="6212"), leaves=""),
    Door(Action.VERIFY, "verify", lambda hand: hand.look("verify"), leaves=""),
    Door(Action.OPEN, "new-mounting", lambda hand: hand.form("new-mounting", **ORDER), leaves="mounting"),
    Door(Action.OPEN, "start-again", lambda hand: hand.on("start-again", bearing="same"), leaves="mounting"),
    Door(Action.WITHDRAW, "withdraw", _withdraw, leaves="withdrawal", not_mine=403),
    *(_screen(name) for name in SCREENS),
    Door(Action.CHECK, "own-reading", lambda hand: hand.on("own-reading", marking="6212 C3")),
    Door(Action.TAP, "hot", lambda hand: hand.on("hot", tap="alarm"), leaves="tap"),
    Door(Action.TAP, "hot", _undo, leaves="tap"),
    *OF_PAPER,
    Door(Action.ATTACH, "photos", _photo, leaves="attachment"),
    Door(Action.ATTACH, "heating-log", _log, leaves="file received"),
    Door(Action.ATTACH, "say-of-log", _say_of_log, leaves="attachment"),
    Door(
        Action.READY,
        "ready-here",
        lambda hand: hand.on("ready-here", shown=hand.job.shown(), own_password=hand.password),
        measured,
        "signature",
    ),
    Door(
        Action.RELEASE,
        "release",
        lambda hand: hand.on("release", hold="fit", shown=hand.job.shown()),
        read,
        "release",
    ),
    Door(
        Action.RELEASE,
        "release-here",
        _release_here,
        read,
        "release",
        turned_away=(422, "This needs inspector of this site."),
    ),
    Door(Action.RELEASE, "release-by-telephone", _telephone, measured, "release"),
    Door(Action.CLOSE_QUERY, "look", _look, doubtful, "looked"),
    Door(
        Action.RETURN,
        "return",
        lambda hand: hand.on("return", other="180° again, cold"),
        finished,
        "return",
    ),
    Door(Action.AMEND, "amend", lambda hand: hand.on("amend", reason="field read anew"), signed, "amendment"),
    *deciding_doors.PAGES,
    Door(Action.SIGN, "sign", lambda hand: hand.on("sign", shown=hand.job.shown()), finished, "signature"),
    Door(Action.RELEASE_REBUILD, "rebuild-release", _release_rebuild, signed_rebuild, "rebuild release"),
    *SHEET_DOORS,
    Door(Action.EXPORT, "export-everything", _export, leaves="export"),
    Door(
        Action.REGISTER,
        "machine-new",
        lambda hand: hand.form("machine-new", name="Hoist motor 2", owner="Ostrey tram depot", scheme="none"),
        leaves="machine",
    ),
    *LIVES,
    Door(Action.EQUIP, "equipment-new", _gauge, leaves="equipment"),
    Door(Action.EQUIP, "calibration-new", _calibration, leaves="calibration"),
    *care_doors.WEB,
    Door(Action.PROPOSE_ROW, "table-row-propose", _propose, leaves="table row"),
    Door(
        Action.PROPOSE_ROW,
        "proposed-row-withdraw",
        lambda hand: hand.form("proposed-row-withdraw", _own_proposal(hand), reason="read wrong"),
        leaves="table row withdrawal",
    ),
    Door(
        Action.APPROVE_ROW,
        "proposed-row-decide",
        lambda hand: hand.form("proposed-row-decide", _proposed(hand), way="approve"),
        leaves="table row approval",
    ),
    Door(
        Action.APPROVE_ROW,
        "proposed-row-decide",
        lambda hand: hand.form("proposed-row-decide", _proposed(hand), way="refuse", reason="edition"),
        leaves="table row refusal",
    ),
    Door(
        Action.POINT,
        "point-say",
        lambda hand: hand.on("point-say", point="visit", what="notified", who="E. Marlow", how="telephone"),
        pointed,
        "point",
    ),
    Door(
        Action.WAIVE,
        "point-waive",
        lambda hand: hand.on("point-waive", point="visit", who="E. Marlow", reason="seen before"),
        received_under_points,
        "point",
    ),
    Door(Action.DRAFT, "procedure-new", _draft, leaves="procedure draft"),
    Door(Action.DRAFT, "procedure-import", _import, leaves="procedure draft"),
    Door(
        Action.DRAFT,
        "procedure-draft-edit",
        lambda hand: hand.form("procedure-draft-edit", _own_draft(hand), **DRAFT),
        leaves="procedure draft",
    ),
    Door(
        Action.DRAFT,
        "procedure-withdraw",
        lambda hand: hand.form("procedure-withdraw", _own_draft(hand), reason="a slip"),
        leaves="procedure withdrawal",
    ),
    Door(Action.PROCEDURE, "procedure-first", _first_procedure, leaves="procedure"),
    Door(
        Action.PROCEDURE,
        "procedure-decide",
        lambda hand: hand.form("procedure-decide", _own_draft(hand), way="approve"),
        leaves="procedure approval",
    ),
    Door(
        Action.PROCEDURE,
        "procedure-decide",
        lambda hand: hand.form("procedure-decide", _own_draft(hand), way="refuse", reason="no letter"),
        leaves="procedure refusal",
    ),
    Door(Action.ASSESS, "competence-new", _competence, leaves="competence"),
    Door(Action.PEOPLE, "person-new", _enrol, leaves="person"),
    Door(
        Action.PEOPLE,
        "person",
        lambda hand: hand.form("person", _other(hand).id, role="auditor"),
        leaves="role grant",
    ),
    Door(
        Action.PEOPLE,
        "role-end",
        lambda hand: hand.form("role-end", _other(hand).grants.get().id),
        leaves="role end",
    ),
    Door(
        Action.PEOPLE,
        "password-anew",
        lambda hand: hand.form("password-anew", _other(hand).id, first_password="a long first word"),
        leaves="first password",
    ),
    Door(
        Action.PEOPLE,
        "account-end",
        lambda hand: hand.form("account-end", _other(hand).id),
        leaves="account end",
    ),
    Door(Action.TOKENS, "tokens", _token, leaves="token"),
    Door(
        Action.TOKENS,
        "token-revoke",
        lambda hand: hand.form("token-revoke", token_of(hand)),
        leaves="token end",
        not_mine=404,
    ),
)
