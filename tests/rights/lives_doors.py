"""How what becomes of a bearing, and what comes with it, is said at the pages."""

from collections.abc import Callable

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions import bearing_life as life
from qrecords.people.permissions import Action
from qrecords.workshop import material_actions as materials
from qrecords.workshop.models import Bearing, Part
from tests.cast import MORNING
from tests.rights.night import stood_in
from tests.rights.scenes import Came, Door, Hand, measured

DAY = MORNING.date()
REMOVAL = {"on": DAY, "why": "runs hot", "method": "pulled on the inner ring"}


def _say(event: str, **fields: object) -> Callable[[Hand], Came]:
    return lambda hand: hand.form("bearing-event", hand.job.bearing.id, event, on=DAY, **fields)


def lying(hand: Hand) -> Bearing:
    """The bearing of the job, set aside by who worked on it."""
    bearing = hand.job.bearing
    life.set_aside(
        acting=hand.job.shop.acting("fitter"), entry_id=new_id(), bearing=bearing, on=DAY, why="to be seen"
    )
    hand.prepared()
    return bearing


def a_part(hand: Hand) -> Part:
    part = materials.register_part(
        acting=hand.job.shop.acting("fitter"), site=hand.job.shop.site, part_id=new_id(), kind="spacer",
        name="spacer 60 × 20", lot="heat 77120",
    )  # fmt: skip
    hand.prepared()
    return part


def a_delivery(hand: Hand) -> str:
    row = materials.deliver(
        acting=hand.job.shop.acting("fitter"), site=hand.job.shop.site, delivery_id=new_id(),
        supplier="Corvane", note="LS-1", order="", on=DAY,
        lines=[{"designation": "6212 C3", "lot": "", "quantity": 2}],
    )  # fmt: skip
    hand.prepared()
    return str(row.id)


def _removal(hand: Hand) -> Came:
    return hand.form("bearing-event", hand.job.bearing.id, "removal", journal=hand.job.journal.id, **REMOVAL)


def _delivery(hand: Hand) -> Came:
    lines = {"designation.1": "6212 C3", "lot.1": "L-9", "quantity.1": "6"}
    return hand.form("delivery-new", supplier="Corvane", note="LS-4471", order="P-88", on=DAY, **lines)


def _shaft(hand: Hand) -> Came:
    from qrecords.workshop import actions as workshop

    job = hand.job
    other = workshop.register_machine(
        acting=job.shop.acting("fitter"),
        site=job.shop.site,
        machine_id=new_id(),
        name="Spare",
        owner="Ostrey",
    )
    hand.prepared()
    shaft = f"{job.machine.id} {job.journal.shaft}"
    return hand.form("shaft-moved", shaft=shaft, to_machine=other.id, on=DAY)


LIVES: tuple[Door, ...] = (
    Door(
        Action.REVIEW,
        "re-review",
        lambda hand: hand.on("re-review", agreed="yes", shown=hand.job.shown()),
        stood_in,
        "re-review",
    ),
    Door(
        Action.ASSESS,
        "eyesight-new",
        lambda hand: hand.form(
            "eyesight-new",
            person=hand.job.shop.people["second_fitter"].id,
            tested_on="2026-03-02",
            valid_to="2028-03-02",
        ),
        leaves="eyesight",
    ),
    Door(Action.REGISTER, "bearing-event", _removal, leaves="removal"),
    Door(Action.REGISTER, "bearing-event", _say("failure", what="seized"), leaves="failure"),
    Door(Action.REGISTER, "bearing-event", _say("quarantine", why="doubt"), leaves="quarantine"),
    Door(
        Action.REGISTER,
        "bearing-event",
        lambda hand: hand.form(
            "bearing-event", hand.job.bearing.id, "delivery", on=DAY, delivery=a_delivery(hand)
        ),
        leaves="bearing delivery",
    ),
    Door(
        Action.ACCEPT,
        "bearing-clear",
        lambda hand: hand.form("bearing-clear", lying(hand).id, on=DAY, why="looked at"),
        measured,
        "quarantine end",
    ),
    Door(
        Action.SCRAP,
        "bearing-scrap",
        lambda hand: hand.form("bearing-scrap", lying(hand).id, on=DAY, why="brinelled"),
        measured,
        "bearing scrap",
    ),
    Door(Action.REGISTER, "delivery-new", _delivery, leaves="delivery"),
    Door(
        Action.REGISTER,
        "part-new",
        lambda hand: hand.form("part-new", kind="nut", name="KM 12", lot="heat 4"),
        leaves="part",
    ),
    Door(
        Action.REGISTER,
        "machine-moved",
        lambda hand: hand.form("machine-moved", machine=hand.job.machine.id, on=DAY, to_place="north face"),
        leaves="move",
    ),
    Door(Action.REGISTER, "shaft-moved", _shaft, leaves="move"),
    Door(
        Action.RECORD,
        "parts-used",
        lambda hand: hand.on("parts-used", part=a_part(hand).id, place="between the rings"),
        leaves="part used",
    ),
    Door(
        Action.REGISTER,
        "old-bearing",
        lambda hand: hand.on("old-bearing", designation="6212", serial="OLD 7", **REMOVAL),
        leaves="removal",
    ),
)
