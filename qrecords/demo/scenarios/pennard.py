"""A cold shaft under a warm micrometer: 12 K apart the readings of a 22215 seat proved nothing, though they
looked undersize. Five hours later, at one temperature, they were sound; a needless sleeve was saved."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.heater_logs import log_text
from qrecords.demo.sheet import SPHERICAL, Machine, Sheet, asks
from qrecords.demo.walking import Walk

COLD = Sheet(
    machine=Machine("Bucket elevator, head shaft", "Pennard grain terminal", "WO 26-0244", shaft="head"),
    requirement=asks("22215", "75 m5 D130 B31", "PG-1180", "E", **SPHERICAL),
    begun="2026-10-13 06:40",
    fitter="brandreth",
    lot="L-4588",
    inside="rollers",
    journal="5 5 6/5 4 5/5 5 5",
    bore="-7 -7 -6/-7 -8 -7",
    shaft_c="9",
    gauge_c="21",
    air_c="17",
    g0="65",
    set_to="105",
    peak="104",
    carried_s=18,
    pressed_s=240,
    field="1.1",
    g1="45",
)
EQUALISED = replace(
    COLD, begun="2026-10-13 11:40", journal="15 15 16/15 14 15/15 15 15", shaft_c="19", gauge_c="19"
)


def pictures() -> Iterable[Drawing]:
    yield from map(COLD.picture, ("package", "marking", "seat", "micrometer"))
    yield from map(EQUALISED.picture, ("micrometer", "probe", "held", "blade", "covered"))


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, COLD)
    walk.receive()
    walk.measure()
    walk.decide(
        "ngata",
        "measure again",
        ("one temperature", "journal size", "journal roundness", "journal taper"),
        "Shaft 9 °C, gauge 21 °C: brought to 20 °C it would be about +15, inside. Leave them side by side "
        "until they are at one temperature, then measure again.",
    )
    walk.change(**{name: getattr(EQUALISED, name) for name in ("begun", "journal", "shaft_c", "gauge_c")})
    walk.wait_until(150)
    walk.measure_again("shaft, micrometer and master five hours side by side, 19 °C")
    walk.photograph("micrometer")
    walk.measure_bearing()
    walk.release("fit", "ngata")
    walk.mount()
    walk.hand_in_log(log_text(walk.sheet))
    walk.after_heat("ngata")
    walk.sign("ngata")
