"""The heater was set for an open ball bearing: a 6309 with two rubber seals got 112 °C, 80 °C was the most.
Scrapped; a new one went on at 76 °C, which was enough."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.sheet import ALL_SHOTS, Machine, Sheet, asks
from qrecords.demo.walking import Walk

FIRST = Sheet(
    machine=Machine("Vent fan, traverser pit", "Ostrey tram depot", "WO 26-0205", scheme="rail"),
    requirement=asks("6309", "45 k5 D100 B25", "OT-VF-7", "B", kinds=["sealed"]),
    begun="2026-07-21 07:05",
    fitter="pell",
    lot="L-4561",
    inside="seal",
    journal="7 7 8/7 6 7/7 7 7",
    bore="-4 -4 -3/-4 -5 -4",
    shaft_c="20",
    air_c="20",
    setup="on the core leg",
    set_to="110",
    peak="112",
    carried_s=10,
    pressed_s=120,
)
SECOND = replace(
    FIRST,
    begun="2026-07-22 07:10",
    lot="L-4563",
    bore="-3 -3 -2/-3 -4 -3",
    set_to="75",
    peak="76",
    field="0.7",
)
UNTIL_SCRAPPED = ("package", "marking", "seat", "micrometer", "probe")


def pictures() -> Iterable[Drawing]:
    yield from map(FIRST.picture, UNTIL_SCRAPPED)
    yield from map(SECOND.picture, ALL_SHOTS)


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, FIRST)
    walk.before_heat()
    walk.release("fit")
    walk.set_up_heater()
    walk.heat()
    walk.say_peak()
    walk.decide(
        "delacour",
        "scrap",
        ("peak temperature",),
        "32 K over the cap of a sealed bearing: grease and seal lips are done for. Never went on the shaft.",
    )
    again = walk.once_more(SECOND, another_bearing=True)
    again.before_heat()
    again.release("fit")
    again.mount()
    again.after_heat()
    again.sign()
