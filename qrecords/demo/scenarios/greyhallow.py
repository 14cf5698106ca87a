"""The clean reference record: a 22320 C3 on the output shaft of a quarry conveyor drive. No flag."""

from collections.abc import Iterable

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.sheet import ALL_SHOTS, SPHERICAL, Machine, Sheet, asks
from qrecords.demo.walking import Walk

SHEET = Sheet(
    machine=Machine("Conveyor drive, output shaft", "Greyhallow quarry", "WO 26-0098", shaft="output"),
    requirement=asks("22320 C3", "100 n6 D215 B73", "GQ-2210-14", "D", clearance_group="3", **SPHERICAL),
    begun="2026-03-17 07:00",
    fitter="brandreth",
    lot="L-4471",
    date_code="2545",
    inside="rollers",
    journal="36 34 35/35 34 34/33 34 33",
    bore="-8 -7 -8/-9 -8 -8",
    shaft_c="19",
    air_c="19",
    g0="118",
    set_to="110",
    peak="110",
    outer="90",
    carried_s=16,
    pressed_s=360,
    g1="84",
)


def pictures() -> Iterable[Drawing]:
    return map(SHEET.picture, ALL_SHOTS)


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, SHEET)
    walk.before_heat()
    walk.release("fit")
    walk.mount()
    walk.after_heat()
    walk.sign()
