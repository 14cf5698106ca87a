"""Open work for each role: small mountings of the last days, each standing where somebody has to go on."""

from collections.abc import Iterable

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.said import NO_FIELD
from qrecords.demo.sheet import ALL_SHOTS, CYLINDRICAL, Machine, Sheet, asks
from qrecords.demo.walking import Walk

BEFORE_HEAT = ("package", "marking", "seat", "micrometer")

OVER = Sheet(
    machine=Machine("Sieve drum", "Hob's Wharf ropeworks", "WO 26-0274"),
    requirement=asks("6211 C3", "55 k5 D100 B21", "HW-6-11", "A", clearance_group="3"),
    begun="2026-11-18 07:00",
    fitter="pell",
    lot="L-4620",
    journal="18 19 18/18 18 17/18 18 18",
    bore="-6 -6 -7/-6 -5 -6",
    shaft_c="18",
    air_c="18",
)
"""A journal 4 µm over its upper limit: the engineer's."""

READY = Sheet(
    machine=Machine("Roll stand 4", "Thornlea felt mill", "WO 26-0276"),
    requirement=asks("6312 C3", "60 k5 D130 B31", "TF-401", "B", clearance_group="3"),
    begun="2026-11-19 07:00",
    fitter="vaskova",
    lot="L-4622",
    date_code="2634",
    journal="9 9 8/8 9 9/9 8 9",
    bore="-6 -5 -6/-6 -6 -7",
    shaft_c="19",
    air_c="19",
    set_to="85",
    peak="86",
    carried_s=13,
    pressed_s=150,
    field="0.6",
)
"""Performed and signed by the fitter, without a flag: the inspector's."""

HOLD = Sheet(
    machine=Machine("Capstan motor", "Dunlin Quay shipyard", "WO 26-0284"),
    requirement=asks("6314 C3", "70 k5 D150 B35", "DQ-CM-5", "A", clearance_group="3"),
    begun="2026-11-20 06:30",
    fitter="vaskova",
    lot="L-4628",
    journal="10 9 9/9 9 10/9 9 9",
    bore="-7 -7 -6/-7 -7 -8",
    shaft_c="17",
    air_c="17",
)
"""Measured, waiting for release before heat: the inspector's."""

UNCOVERED = Sheet(
    machine=Machine("Agitator gearbox", "Saltern Row salt works", "WO 26-0281", shaft="intermediate"),
    requirement=asks("6310 C3", "50 k5 D110 B27", "SR-G-19", "A", clearance_group="3"),
    begun="2026-11-20 10:00",
    fitter="vaskova",
    lot="L-4519",
    journal="7 8 8/8 7 7/7 8 8",
    bore="-5 -4 -5/-5 -5 -6",
    shaft_c="18",
    air_c="18",
    set_to="95",
    peak="96",
    carried_s=14,
    pressed_s=200,
    field="0.9",
)
"""Checked cold, still uncovered: the inspector's second hold point."""

COOLING = Sheet(
    machine=Machine("Winder, idler shaft", "Carrow Ford cable hall", "WO 26-0279", shaft="idler"),
    requirement=asks("NU 214", "70 m5 D125 B24", "CF-88", "C", **CYLINDRICAL),
    begun="2026-11-23 06:30",
    fitter="pell",
    lot="L-4625",
    inside="rollers",
    journal="17 17 18/17 16 17/17 17 17",
    bore="-8 -8 -7/-8 -9 -8",
    shaft_c="18",
    air_c="18",
    g0="60",
    heater="OV-1",
    setup="in an oven, on a plate or in a bath",
    set_to="100",
    peak="101",
    carried_s=20,
    pressed_s=240,
)
"""Mounted from the oven and cooling: the fitter's cold check."""

MEASURING = Sheet(
    machine=Machine("Wind pump gearbox", "Kestrel Moor estate", "WO 26-0286", shaft="input"),
    requirement=asks("6208 C3", "40 k5 D80 B18", "KM-7", "B", clearance_group="3"),
    begun="2026-11-23 13:30",
    fitter="brandreth",
    lot="L-4630",
    journal="8 7 8/7 7",
    bore="",
    shaft_c="17",
    air_c="17",
)
"""In the middle of measuring: the fitter's."""


def pictures() -> Iterable[Drawing]:
    yield from map(OVER.picture, BEFORE_HEAT)
    yield from map(READY.picture, ALL_SHOTS)
    yield from map(HOLD.picture, BEFORE_HEAT)
    yield from map(UNCOVERED.picture, (*BEFORE_HEAT, "probe", "held", "blade"))
    yield from map(COOLING.picture, (*BEFORE_HEAT, "probe", "held"))
    yield from map(MEASURING.picture, ("package", "marking", "seat"))


def tell(hall: Hall) -> None:
    Walk.begin(hall, OVER).before_heat()
    ready = Walk.begin(hall, READY)
    ready.before_heat()
    ready.release("fit")
    ready.mount()
    ready.after_heat()
    Walk.begin(hall, HOLD).before_heat()
    uncovered = Walk.begin(hall, UNCOVERED)
    uncovered.before_heat()
    uncovered.release("fit", "ngata")
    uncovered.mount()
    uncovered.check_cold()
    cooling = Walk.begin(hall, COOLING)
    cooling.before_heat(NO_FIELD)
    cooling.release("fit", "ngata")
    cooling.mount()
    measuring = Walk.begin(hall, MEASURING)
    measuring.receive()
    measuring.begin_measuring()
