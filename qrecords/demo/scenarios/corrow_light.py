"""Held 20 s where 64 s were needed: a 6310 C3 sat cocked on a winch shaft. Pulled on the inner ring, heated a
second time, held by the nut; both sets of readings are kept."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.sheet import ALL_SHOTS, Machine, Sheet, asks
from qrecords.demo.walking import Walk

FIRST = Sheet(
    machine=Machine("Mooring winch", "MV Corrow Light", "WO 26-0131", scheme="marine class"),
    requirement=asks("6310 C3", "50 k5 D110 B27", "CL-0418", "A", clearance_group="3"),
    begun="2026-05-06 07:20",
    fitter="pell",
    lot="L-4519",
    date_code="2602",
    journal="9 8 8/8 8 7/8 8 8",
    bore="-5 -5 -4/-5 -6 -5",
    shaft_c="14",
    air_c="14",
    g0="27",
    setup="on the core leg",
    set_to="100",
    peak="98",
    outer="84",
    carried_s=41,
    pressed_s=20,
    held_by="hand",
    gaps=("0", "0.05", "0.08", "0.03"),
)
SECOND = replace(
    FIRST,
    begun="2026-05-07 07:15",
    peak="96",
    outer="85",
    carried_s=19,
    pressed_s=300,
    held_by="nut",
    gaps=("0", "0", "0", "0"),
    field="0.8",
    g1="15",
)
BEFORE_PULLING = ("package", "marking", "seat", "micrometer", "probe", "blade")


def pictures() -> Iterable[Drawing]:
    yield from map(FIRST.picture, BEFORE_PULLING)
    yield from map(SECOND.picture, ALL_SHOTS)


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, FIRST)
    walk.before_heat()
    walk.release("fit")
    walk.mount()
    walk.check_cold()
    walk.decide(
        "delacour",
        "rework",
        ("pressed home", "shoulder gap"),
        "Cocked, let go too early: 0° and 180° together as 90° and 270°, so a tilted ring and no dirt. Pull "
        "on the inner ring only, cool, measure field and clearance again, hold with the nut.",
    )
    again = walk.once_more(SECOND, another_bearing=False)
    again.before_heat()
    again.release("fit")
    again.mount()
    again.after_heat()
    again.sign()
