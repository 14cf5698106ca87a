"""The probe sat on the outer ring: a 22326 C4 S1 reached 134 °C where the panel said 114. The engineer
concedes, because the bearing is stabilised to 200 °C and has a brass cage."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.papers import hand_in, sheet
from qrecords.demo.sheet import ALL_SHOTS, SPHERICAL, Machine, Sheet, asks
from qrecords.demo.walking import Walk
from qrecords.steps.granting import Saying

SHEET = Sheet(
    machine=Machine(
        "Dryer section 2, cylinder 5", "Two Alders paper mill", "WO 26-0114", position="drive side"
    ),
    requirement=asks(
        "22326 C4 S1",
        "130 p6 D280 B93",
        "TA-5127",
        "B",
        clearance_group="4",
        mass_kg="29",
        mass_from="measured",
        stabilised_c=200,
        **SPHERICAL,
    ),
    begun="2026-04-14 06:30",
    fitter="vaskova",
    lot="L-4502",
    serial="TA-88213",
    inside="rollers",
    journal="56 55 55/55 54 55/54 55 55",
    bore="-12 -12 -11/-12 -13 -12",
    shaft_c="31",
    air_c="27",
    g0="212",
    probe="outer ring",
    set_to="115",
    peak="114",
    cross_check="134",
    carried_s=24,
    pressed_s=420,
    g1="157",
)
CROSS_CHECKED = replace(SHEET, probe="inner ring", peak="134", begun="2026-04-14 06:31")
"""What the contact thermometer showed a minute later, held on the inner ring."""
BECAUSE = (
    "Inner ring 134 °C by contact thermometer, 190 s above 120 °C; S1 is stabilised to 200 °C, brass cage, "
    "no polymer, no temper colour. Not worse than the steel allows."
)


CURVE = sheet(
    [
        "Two Alders paper mill, dryer section 2, cylinder 5, drive side: 22326 C4 S1",
        "Inner ring by contact thermometer, noted by hand at the heater.",
        "134 °C at most; 190 s above 120 °C.",
    ],
    [(0, 27), (300, 62), (600, 96), (800, 120), (900, 134), (990, 120), (1000, 118)],
)


def pictures() -> Iterable[Drawing]:
    yield from map(SHEET.picture, ALL_SHOTS)
    yield CROSS_CHECKED.picture("probe")


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, SHEET)
    walk.before_heat()
    walk.release("fit", "ngata")
    walk.mount()
    walk.keep("probe", CROSS_CHECKED.picture("probe"))
    walk.after_heat("ngata")
    hand_in(walk, "heating-curve", "hollin", CURVE)
    walk.decide(
        "hollin",
        "concession",
        ("probe-on-inner-ring", "peak temperature"),
        BECAUSE,
        "Probe training for the shift before its next heating.",
        Saying(states=frozenset({"no-temper-colour"})),
    )
    walk.sign("ngata")
