"""The same at the API: what becomes of a bearing, what comes with it, and who is assessed."""

from collections.abc import Callable

from qrecords.ledger.identifiers import new_id
from qrecords.people.permissions import Action
from qrecords.workshop import actions as workshop
from tests.rights.lives_doors import DAY, a_delivery, a_part, lying
from tests.rights.scenes import Came, Door, Hand, measured

BEARING = "bearings/<uuid:id>/"
ON = DAY.isoformat()


def _say(address: str, **said: str) -> Callable[[Hand], Came]:
    return lambda hand: hand.post(f"bearings/{hand.job.bearing.id}/{address}/", on=ON, **said)


def _decide(address: str) -> Callable[[Hand], Came]:
    return lambda hand: hand.post(f"bearings/{lying(hand).id}/{address}/", on=ON, why="looked at")


def _delivery(hand: Hand) -> Came:
    line = {"designation": "6212 C3", "lot": "L-9", "quantity": 6}
    return hand.post("deliveries/", supplier="Corvane", note="LS-4471", on=ON, lines=[line])


def _came_with(hand: Hand) -> Came:
    delivery = a_delivery(hand)
    return hand.post(f"bearings/{hand.job.bearing.id}/deliveries/", on=ON, delivery=delivery)


def _move(hand: Hand) -> Came:
    job = hand.job
    other = workshop.register_machine(
        acting=job.shop.acting("fitter"),
        site=job.shop.site,
        machine_id=new_id(),
        name="Spare",
        owner="Ostrey",
    )
    hand.prepared()
    said = {"machine": str(job.machine.id), "shaft": job.journal.shaft, "to_machine": str(other.id)}
    return hand.post("moves/", on=ON, **said)


def _assess(hand: Hand) -> Came:
    people = hand.job.shop.people
    said = {
        "person": str(people["second_fitter"].id), "assessor": str(people["engineer"].id), "task": "heat",
        "basis": "six supervised jobs", "from_mm": "10", "to_mm": "400", "kinds": ["tapered roller"],
        "valid_from": ON, "valid_to": "2029-03-02", "jobs": 6,
    }  # fmt: skip
    return hand.post("competences/", **said)


def _eyesight(hand: Hand) -> Came:
    person = str(hand.job.shop.people["inspector"].id)
    return hand.post("eyesight/", person=person, tested_on=ON, valid_to="2028-03-02")


API_LIVES: tuple[Door, ...] = (
    Door(
        Action.REGISTER,
        f"POST {BEARING}removals/",
        _say("removals", why="runs hot", method="pressed off"),
        leaves="removal",
    ),
    Door(Action.REGISTER, f"POST {BEARING}failures/", _say("failures", what="seized"), leaves="failure"),
    Door(
        Action.REGISTER, f"POST {BEARING}quarantines/", _say("quarantines", why="doubt"), leaves="quarantine"
    ),
    Door(Action.REGISTER, f"POST {BEARING}deliveries/", _came_with, leaves="bearing delivery"),
    Door(Action.ACCEPT, f"POST {BEARING}clearances/", _decide("clearances"), measured, "quarantine end"),
    Door(Action.SCRAP, f"POST {BEARING}scrapping/", _decide("scrapping"), measured, "bearing scrap"),
    Door(Action.REGISTER, "POST deliveries/", _delivery, leaves="delivery"),
    Door(
        Action.REGISTER,
        "POST parts/",
        lambda hand: hand.post("parts/", kind="nut", name="KM 12", lot="heat 4"),
        leaves="part",
    ),
    Door(Action.REGISTER, "POST moves/", _move, leaves="move"),
    Door(
        Action.RECORD,
        "POST mountings/<uuid:mounting>/parts/",
        lambda hand: hand.act("parts/", part=str(a_part(hand).id)),
        leaves="part used",
    ),
    Door(Action.ASSESS, "POST competences/", _assess, leaves="competence"),
    Door(Action.ASSESS, "POST eyesight/", _eyesight, leaves="eyesight"),
)
