"""The mean that looks fine: a pump motor's seat for a 6316 C3 is 5 µm under its limit at one end. Stopped at
the hold, sleeved and reground, re-measured by the inspector; released, and the heater is waiting."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.sheet import Machine, Sheet, asks
from qrecords.demo.walking import Walk

WORN = Sheet(
    machine=Machine("Pump motor 2", "Sallowmere water works", "WO 26-0270"),
    requirement=asks("6316 C3", "80 k5 D170 B39", "SW-PM-120", "C", clearance_group="3"),
    begun="2026-11-12 07:10",
    fitter="brandreth",
    lot="L-4615",
    journal="11 10 11/6 5 6/-5 -6 -5",
    bore="-6 -6 -5/-6 -7 -6",
    shaft_c="16",
    air_c="16",
    shown="C 60",
)
REGROUND = replace(
    WORN, begun="2026-11-17 07:00", journal="9 8 9/8 8 8/8 9 8", shaft_c="18", gauge_c="18", air_c="18"
)
BEFORE_HEAT = ("package", "marking", "seat", "micrometer")


def pictures() -> Iterable[Drawing]:
    yield from map(WORN.picture, BEFORE_HEAT)
    yield REGROUND.picture("micrometer")


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, WORN)
    walk.before_heat()
    walk.decide(
        "hollin",
        "rework",
        ("journal size", "journal taper"),
        "Plane C is under the limit, 16 µm of taper on diameter; the mean of +3.7 does not help. Sleeve and "
        "regrind the seat, measure every plane again by somebody else.",
    )
    walk.change(begun=REGROUND.begun, journal=REGROUND.journal, shaft_c="18", gauge_c="18", air_c="18")
    walk.wait_until(150)
    walk.measure_again("seat sleeved and reground, every place measured anew", who="ngata", check=True)
    walk.photograph("micrometer")
    walk.release("fit")
