"""A negative forecast at the fit hold: a 6213 in the normal group would have lost all its clearance on this
seat. Exchanged for a 6213 C3 with G0 measured; the engineer revised the drawing. The heater's log of that one
lost its probe: its peak is not proven, and accepted."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.heater_logs import log_text
from qrecords.demo.sheet import ALL_SHOTS, Machine, Sheet, asks
from qrecords.demo.walking import Walk
from qrecords.ledger.identifiers import new_id
from qrecords.workshop.actions import require_of_journal

FIRST = Sheet(
    machine=Machine("Debarker rotor drive", "Fennick sawmill", "WO 26-0261"),
    requirement=asks("6213", "65 m5 D120 B23", "FS-DB-02", "A"),
    begun="2026-11-03 07:00",
    fitter="vaskova",
    lot="L-4602",
    journal="19 19 20/19 18 19/19 19 19",
    bore="-9 -9 -8/-9 -10 -9",
    shaft_c="11",
    air_c="11",
    g0="14",
)
REVISED = {**FIRST.requirement, "designation": "6213 C3", "clearance_group": "3", "revision": "B"}
SECOND = replace(
    FIRST,
    requirement=REVISED,
    begun="2026-11-05 07:00",
    lot="L-4610",
    g0="35",
    set_to="90",
    peak="91",
    carried_s=14,
    pressed_s=200,
    field="1.0",
    g1="12",
)
BEFORE_HEAT = ("package", "marking", "seat", "micrometer")


def pictures() -> Iterable[Drawing]:
    yield from map(FIRST.picture, BEFORE_HEAT)
    yield from map(SECOND.picture, ALL_SHOTS)


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, FIRST)
    walk.before_heat()
    walk.decide(
        "hollin",
        "rework",
        ("clearance forecast",),
        "No clearance would be left. Another bearing: 6213 C3 with its clearance measured. The worst C3 by "
        "class limits is below zero too, so the group alone will not do. This one goes back unheated.",
    )
    require_of_journal(
        acting=walk.acting("hollin"),
        requirement_id=new_id(),
        journal=walk.mounting.journal,
        document=REVISED,
    )
    again = walk.once_more(SECOND, another_bearing=True)
    again.before_heat()
    again.release("fit")
    again.mount()
    again.hand_in_log(log_text(SECOND, probe_off_at_s=340))
    again.after_heat()
    again.decide(
        "delacour",
        "accept",
        ("heating log peak",),
        "The log's probe fell off at 340 s. A hand probe read 91 °C on the inner ring at the end, and the "
        "outer ring's log ends at 81 °C: no more than this heater gives in ten minutes.",
    )
    again.sign()
