"""How gauges are cared for and looked back on, at the pages and at the API."""

import hashlib
import uuid
from datetime import date
from typing import Any

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.looking_back import give_to
from qrecords.outbox.jobs import drain
from qrecords.people.permissions import Action
from qrecords.workshop.models import LookBack, LookBackAction
from tests.papers import pdf
from tests.rights.scenes import Came, Door, Hand, measured, problem_of
from tests.tracing.coldbeck import document_of, opened

LOOK_BACK = "look-backs/<uuid:id>/"
PDF = pdf("MIC-114")


def _check_gauge(hand: Hand) -> Came:
    gear = hand.job.shop.gear
    told = {"master": gear["master"].id, "when": "after", "off": "1"}
    return hand.form("gauge-check", gear["micrometer"].id, **told)


def _look_back(hand: Hand) -> Came:
    piece = hand.job.shop.gear["micrometer"].id
    day = hand.job.shop.clock.date().isoformat()
    query = f"?subject=equipment&of={piece}"
    told = {"since": day, "found": day, "why": "reads high", "way": "open"}
    return hand.form("look-back-new", query=query, **told)


def in_doubt(hand: Hand, **changes: Any) -> LookBack:
    """A look-back that puts the hand's mounting in doubt, and was judged."""
    row = opened(hand.job.shop, **changes)
    drain()
    hand.prepared()
    return row


def _in_doubt(hand: Hand) -> tuple[uuid.UUID, uuid.UUID]:
    return in_doubt(hand).id, hand.job.mounting.id


def given_to(hand: Hand) -> dict[str, str]:
    owner = str(hand.job.shop.people["engineer"].id)
    return {"owner": owner, "due": "2099-01-01", "what": "measure again"}


def given_out(hand: Hand) -> LookBackAction:
    """An action on the hand's mounting that waits for its answer."""
    shop, row = hand.job.shop, in_doubt(hand)
    action = give_to(
        acting=shop.acting("quality"), look_back=row, mounting=hand.job.mounting, action_id=new_id(),
        owner=shop.people["engineer"], due=date(2099, 1, 1), what="measure again",
    )  # fmt: skip
    hand.prepared()
    return action


def _answer_doubt(hand: Hand) -> Came:
    action = given_out(hand)
    return hand.form("look-back-answer", action.look_back_id, hand.job.mounting.id, how="stays")


def _end_look_back(hand: Hand) -> Came:
    return hand.form("look-back-end", in_doubt(hand).id, reason="nothing was touched")


def _check_gauge_by_api(hand: Hand) -> Came:
    gear = hand.job.shop.gear
    told = {"master": gear["master"].id, "when": "after", "off": {"typed": "1", "unit": "um"}}
    return hand.post(f"equipment/{gear['micrometer'].id}/checks/", **told)


def _certificate_by_api(hand: Hand) -> Came:
    piece, sha256 = hand.job.shop.gear["micrometer"].id, hashlib.sha256(PDF).hexdigest()
    address = f"equipment/{piece}/certificates/{sha256}/"
    return problem_of(hand.caller.send("PUT", address, PDF, "application/pdf"))


def _damage_by_api(hand: Hand) -> Came:
    return hand.post(f"equipment/{hand.job.shop.gear['micrometer'].id}/damages/", what="dropped")


def _look_back_by_api(hand: Hand) -> Came:
    return hand.post("look-backs/", document=document_of(hand.job.shop), reason="reads high")


def _give_by_api(hand: Hand) -> Came:
    row = in_doubt(hand)
    return hand.post(f"look-backs/{row.id}/actions/", mounting=hand.job.mounting.id, **given_to(hand))


def _answer_by_api(hand: Hand) -> Came:
    action = given_out(hand)
    told = {"action": action.id, "how": "stays", **hand.proof()}
    return hand.post(f"look-backs/{action.look_back_id}/answers/", **told)


def _end_by_api(hand: Hand) -> Came:
    return hand.post(f"look-backs/{in_doubt(hand).id}/end/", reason="nothing was touched")


WEB: tuple[Door, ...] = (
    Door(Action.CHECK_GAUGE, "gauge-check", _check_gauge, leaves="master check"),
    Door(
        Action.DAMAGE,
        "gauge-damage",
        lambda hand: hand.form("gauge-damage", hand.job.shop.gear["micrometer"].id, what="dropped"),
        leaves="equipment damage",
    ),
    Door(Action.LOOK_BACK, "look-back-new", _look_back, leaves="look-back"),
    Door(
        Action.LOOK_BACK,
        "look-back-action",
        lambda hand: hand.form("look-back-action", *_in_doubt(hand), **given_to(hand)),
        measured,
        "look-back action",
    ),
    Door(Action.LOOK_BACK, "look-back-end", _end_look_back, leaves="look-back end"),
    Door(Action.ANSWER_DOUBT, "look-back-answer", _answer_doubt, measured, "look-back answer"),
)
API: tuple[Door, ...] = (
    Door(
        Action.EQUIP,
        "PUT equipment/<uuid:id>/certificates/<str:sha256>/",
        _certificate_by_api,
        leaves="certificate received",
    ),
    Door(Action.CHECK_GAUGE, "POST equipment/<uuid:id>/checks/", _check_gauge_by_api, leaves="master check"),
    Door(Action.DAMAGE, "POST equipment/<uuid:id>/damages/", _damage_by_api, leaves="equipment damage"),
    Door(Action.LOOK_BACK, "POST look-backs/", _look_back_by_api, leaves="look-back"),
    Door(Action.LOOK_BACK, f"POST {LOOK_BACK}actions/", _give_by_api, measured, "look-back action"),
    Door(Action.ANSWER_DOUBT, f"POST {LOOK_BACK}answers/", _answer_by_api, measured, "look-back answer"),
    Door(Action.LOOK_BACK, f"POST {LOOK_BACK}end/", _end_by_api, leaves="look-back end"),
)
