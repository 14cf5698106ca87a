"""Three times the house limit of residual field before mounting: the inner ring of an NU 318 was left at
6.4 A/cm by the first heating, and at 1.2 A/cm after a second one with the heater's cycle put right."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.sheet import CYLINDRICAL, Machine, Sheet, asks
from qrecords.demo.walking import Walk

SHEET = Sheet(
    machine=Machine(
        "Crane hoist motor", "Brackwater container quay", "WO 26-0167", position="NDE", scheme="lifting"
    ),
    requirement=asks(
        "NU 318", "90 m5 D190 B43", "BW-HM-33", "C", kinds=["separable_inner_ring"], **CYLINDRICAL
    ),
    begun="2026-06-23 21:10",
    fitter="vaskova",
    lot="L-4533",
    inside="inner ring",
    journal="22 21 21/21 20 21/21 21 21",
    bore="-9 -9 -8/-9 -10 -9",
    shaft_c="22",
    air_c="22",
    g0="70",
    setup="on the core leg",
    set_to="110",
    peak="112",
    carried_s=12,
    pressed_s=240,
    field="6.4",
    g1="45",
)
SECOND_CYCLE = replace(SHEET, field="1.2")


def pictures() -> Iterable[Drawing]:
    yield from map(SHEET.picture, ("package", "marking", "seat", "micrometer", "field"))
    yield from map(SECOND_CYCLE.picture, ("probe", "held", "blade", "covered"))


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, SHEET)
    walk.before_heat()
    walk.release_by_telephone("ngata")
    walk.set_up_heater()
    walk.heat(from_minutes=180)
    walk.say("heating", {"peak": (SHEET.peak, "°C")})
    walk.say("demagnetisation", {"cycle": "done"})
    walk.wait_until(205)
    walk.say_field()
    walk.keep("field", SHEET.picture("field"))
    walk.decide(
        "ngata",
        "measure again",
        ("residual field",),
        "Not on the shaft yet. The heater's cycle stopped after 1 s; put right. Run it again, measure cold.",
    )
    walk.change(field="1.2")
    walk.wait_until(290)
    walk.say_clearance("felt again on the cooled ring, before the second cycle")
    walk.release("fit", "ngata")
    walk.heat(from_minutes=300)
    walk.press_home()
    walk.say("heating", {"probe": SHEET.probe})
    walk.say_peak(cycle=False)
    walk.photograph("held")
    walk.check_cold(reason="after the second cycle, on the shaft, cold")
    walk.release("cold", "ngata")
    walk.close()
    walk.sign("ngata")
