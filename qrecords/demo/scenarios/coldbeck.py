"""A micrometer that read 9 µm high: MIC-114 was found out at its yearly calibration, and the five mountings
measured with it were judged again. All were fine at the time; two are not proven then, one does not conform.

Its setting rod of 75 mm showed nothing, for the error grows with the size."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import OPENED, ZONE, Hall
from qrecords.demo.sheet import ALL_SHOTS, SPHERICAL, Machine, Sheet, asks
from qrecords.demo.walking import Walk
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.looking_back import answer, give_to, judge_for, say_judged
from qrecords.workshop.actions import calibrate
from qrecords.workshop.look_back_actions import open_look_back
from qrecords.workshop.models import LookBack, LookBackAction

MIXER = Sheet(
    machine=Machine("Sand mixer", "Coldbeck foundry", "WO 26-0176", shaft="mixer"),
    requirement=asks("22218 C3", "90 m6 D160 B40", "CB-118", "B", clearance_group="3", **SPHERICAL),
    begun="2026-07-28 06:50",
    fitter="vaskova",
    lot="L-4538",
    inside="rollers",
    micrometer="MIC-114",
    journal="20 20 21/20 20 20/20 20 20",
    bore="-10 -10 -9/-10 -10 -10",
    shaft_c="24",
    air_c="24",
    g0="119",
    set_to="110",
    peak="108",
    outer="90",
    carried_s=16,
    pressed_s=300,
    g1="94",
)


def _like(um: int, begun: str, machine: Machine, g1: str, drawing: str) -> Sheet:
    """Another seat of the same size, drawing and bearing, measured with the same micrometer."""
    journal = f"{um} {um} {um + 1}/{um} {um} {um}/{um} {um} {um}"
    requirement = {**MIXER.requirement, "drawing": drawing, "revision": "A"}
    return replace(MIXER, machine=machine, begun=begun, journal=journal, g1=g1, requirement=requirement)


SHAKER = Machine("Shake-out drum", "Coldbeck foundry", "WO 26-0181", shaft="drum")
PUG_MILL = Machine("Pug mill", "Marl Hollow brickworks", "WO 26-0193", shaft="knife")
PULPER = Machine("Pulper", "Eskby board mill", "WO 26-0211", shaft="rotor")
CRUSHER = Machine("Roll crusher", "Winterscale lime works", "WO 26-0219", shaft="fixed roll")
SHEETS = (
    MIXER,
    _like(24, "2026-08-11 07:05", SHAKER, "91", "CB-204"),
    _like(17, "2026-08-25 07:00", PUG_MILL, "97", "MH-31"),
    _like(31, "2026-09-08 06:45", PULPER, "85", "EB-770"),
    _like(28, "2026-09-22 07:10", CRUSHER, "87", "WL-1206"),
)
POINTS = tuple(
    {"size": mm * 1_000_000, "error": um * 1000, "u": 1500}
    for mm, um in ((76, 0), (83, 5), (90, 9), (100, 12))
)
"""As found: so many µm too high, each with U = 3 µm (k = 2)."""
FOUND = datetime(2026, 10, 12, 9, 30, tzinfo=ZoneInfo(ZONE))
LAST_GOOD = datetime(2025, 10, 13, tzinfo=ZoneInfo(ZONE))


def pictures() -> Iterable[Drawing]:
    for sheet in SHEETS:
        yield from map(sheet.picture, ALL_SHOTS)


def tell(hall: Hall) -> None:
    walks = [_mounted(hall, sheet) for sheet in SHEETS]
    _found_out(hall)
    _look_back(hall, walks)


def _mounted(hall: Hall, sheet: Sheet) -> Walk:
    walk = Walk.begin(hall, sheet)
    walk.before_heat()
    walk.release("fit", "ngata")
    walk.mount()
    walk.after_heat("ngata")
    walk.sign("ngata")
    return walk


def _found_out(hall: Hall) -> None:
    document: dict[str, Any] = {
        "status": "quarantine",
        "due": "2026-10-12",
        "certificate": "TH-CAL 2026/MIC-114",
        "resolution": 1000,
        "expanded_u": 3000,
        "range_nm": [76_000_000, 100_000_000],
        "mpe": 4000,
        "found_points": [
            {"size": point["size"], "error": point["error"], "expanded_u": 2 * point["u"]} for point in POINTS
        ],
        "laboratory": "Marl Hollow calibration room",
        "place": "quarantine shelf",
        "interval_months": 12,
    }
    acting = hall.acting("tremaine", FOUND)
    piece = hall.gear["MIC-114"]
    calibrate(acting=acting, version_id=new_id(), equipment=piece, document=document, valid_from=FOUND)


def _look_back(hall: Hall, walks: list[Walk]) -> None:
    """Opened on the day it was found; the mixer's action is closed, of the others one is under way."""
    at = FOUND + timedelta(hours=1)
    document = {
        "subject": "equipment",
        "of": str(hall.gear["MIC-114"].id),
        "since": max(LAST_GOOD, OPENED).isoformat(),
        "until": FOUND.isoformat(),
        "points": list(POINTS),
    }
    look_back = open_look_back(
        acting=hall.acting("tremaine", at),
        site=hall.site,
        look_back_id=new_id(),
        document=document,
        why="calibration TH-CAL 2026/MIC-114: 9 µm high at 90 mm, though its 75 mm rod showed nothing",
    )
    for number, walk in enumerate(walks, start=1):
        acting = hall.acting("tremaine", at + timedelta(seconds=number))
        judge_for(acting=acting, look_back=look_back, mounting=walk.mounting)
    judged = hall.acting("tremaine", at + timedelta(minutes=1))
    say_judged(acting=judged, look_back=look_back, entry_id=new_id())
    mixer, drum, pug_mill, *_ = walks
    first = _given(hall, look_back, mixer, "2026-10-30", "compare G1 as found with the smaller fit")
    _given(hall, look_back, drum, "2026-11-13", "compare G1 as found with the smaller fit")
    what = "tell the brickworks; take the ring off at its winter stop and measure the seat again"
    _given(hall, look_back, pug_mill, "2026-12-18", what)
    answer(
        acting=hall.acting("hollin", datetime(2026, 10, 21, 14, 20, tzinfo=ZoneInfo(ZONE))),
        action=first,
        answer_id=new_id(),
        how="I 21 in the mean and 19 at least, enough for its load; G1 94 within 2 u of the forecast: stays",
    )


def _given(hall: Hall, look_back: LookBack, walk: Walk, due: str, what: str) -> LookBackAction:
    return give_to(
        acting=hall.acting("tremaine", FOUND + timedelta(hours=2)),
        look_back=look_back,
        mounting=walk.mounting,
        action_id=new_id(),
        owner=hall.people["hollin"],
        due=date.fromisoformat(due),
        what=what,
    )
