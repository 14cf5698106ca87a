"""An inch shop's job: a pair of 30314 set by shims. End play came out at 0.0055 in where 0.002 to 0.004
in was asked; a shim of 0.0025 in was taken out, and 0.0030 in was found. What an inch gauge cannot tell
stands as its uncertainty."""

from collections.abc import Iterable
from decimal import Decimal

from qrecords.demo.darkroom import Drawing, drawing
from qrecords.demo.hall import ADJUSTING, Hall
from qrecords.demo.said import Said
from qrecords.demo.sheet import DIRECTIONS, MINUTES, Machine, Sheet, asks
from qrecords.demo.walking import Walk

OWN_BORE = {"bore_um": ["-15", "0"], "bore_source": "the bearing's own sheet"}
"""A tapered roller bearing has tolerances of its own."""
SHEET = Sheet(
    machine=Machine("Chain drive, head shaft", "Linder chain ferry", "WO 26-0198", shaft="head"),
    requirement=asks("30314", "70 m6 D150 B38", "LF-14", "D", clearance_kind="adjusted", **OWN_BORE),
    begun="2026-09-02 07:05",
    fitter="pell",
    lot="L-4590",
    inside="rollers",
    journal="20 20 20/20 20 20/18 18 18",
    bore="-8 -8 -8/-8 -8 -8",
    shaft_c="20",
    air_c="20",
    peak="109",
    carried_s=18,
    pressed_s=240,
    field="1.1",
)
PLANES = {"A": "2.7567", "B": "2.7567", "C": "2.7566"}
"""As the inch micrometer shows them, in inches: the same in every direction."""
BORE = "2.7556"
ROOM, PEAK = ("68", "°F"), ("228", "°F")
FOUND, LEFT = "0.0055", "0.0030"
BEFORE_HEAT = ("package", "marking", "seat")
AFTER_HEAT = ("held", "blade", "covered")


def pictures() -> Iterable[Drawing]:
    yield from map(SHEET.picture, BEFORE_HEAT)
    yield _display()
    yield _probe()
    yield from map(SHEET.picture, AFTER_HEAT)
    yield _pair()


def _display() -> Drawing:
    at = SHEET.moment(MINUTES["micrometer"])
    return drawing("micrometer", at, value_mm=PLANES["A"], mark="A 0°", unit="in")


def _probe() -> Drawing:
    at = SHEET.moment(MINUTES["probe"])
    return drawing("probe", at, shown_c=PEAK[0], on_inner_ring=True, inside="rollers")


def _pair() -> Drawing:
    return drawing("pair", SHEET.moment(MINUTES["blade"] + 2), arrangement="face to face")


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, SHEET, procedure=ADJUSTING)
    walk.receive()
    _measure(walk)
    walk.release("fit")
    _mount(walk)
    _check_cold(walk)
    walk.release("cold")
    walk.close()
    walk.sign()


def _measure(walk: Walk) -> None:
    hall = walk.hall
    gear: dict[str, Said] = {
        "gauge": hall.named("MIC-203"),
        "master": hall.named("SM-31"),
        "master_before": ("0", "in"),
        "thermometer": hall.named("TH-14"),
    }
    room: dict[str, Said] = dict.fromkeys(("shaft", "bearing", "gauge_temp", "master_temp", "air"), ROOM)
    walk.wait_until(MINUTES["micrometer"] - 8)
    walk.say("measurement", gear | room)
    journal: dict[str, Said] = {
        f"journal.{plane}.{way}": (text, "in") for plane, text in PLANES.items() for way in DIRECTIONS
    }
    walk.wait_until(MINUTES["micrometer"] + 2)
    walk.say("measurement", {**journal, "master_after": ("0", "in")})
    walk.keep("micrometer", _display())
    bore: dict[str, Said] = {f"bore.{plane}.{way}": (BORE, "in") for plane in "AB" for way in DIRECTIONS}
    walk.say("bore", {"source": "measured", "gauge": hall.named("BG-219"), **bore})


def _mount(walk: Walk) -> None:
    walk.set_up_heater()
    walk.heat()
    walk.press_home()
    walk.wait_until(MINUTES["probe"] + 9)
    walk.say("heating", {"peak": PEAK})
    walk.say("demagnetisation", {"cycle": "done"})
    walk.keep("probe", _probe())
    walk.photograph("held")


def _check_cold(walk: Walk) -> None:
    """Cold: how the pair stands, and its end play, found too much and shimmed."""
    walk.check_cold()
    walk.keep("pair", _pair())
    walk.say(
        "arrangement",
        {
            "arranged_on_drawing": "face to face",
            "arranged": "face to face",
            "marked_face": "no mark",
            "pair_marks": "none",
            "lock_tab": "bent in",
        },
    )
    asked: dict[str, Said] = {
        "drawing_asks": "end play",
        "play_least": ("0.002", "in"),
        "play_most": ("0.004", "in"),
        "play_dial": walk.hall.named("DI-05"),
        "play_force": ("200", "N"),
        "turns_before": ("10", "turns"),
    }
    walk.say("end_play", {**asked, "end_play": (FOUND, "in"), "shims_old": "0.0120 in"})
    out = Decimal(FOUND) - Decimal(LEFT)
    walk.clock += SHEET.moment(20) - SHEET.moment(0)
    walk.say(
        "end_play",
        {"end_play": (LEFT, "in"), "shims_new": "0.0095 in"},
        reason=f"a shim of {out} in taken out, turned ten times, measured again",
    )
