"""Every number green, and the wrong way round: a pair drawn back to back was mounted face to face. The
photo of the pair told it before the signature. Pulled off through the balls, the pair was scrapped, and a
new one mounted.

A matched pair is delivered and kept as one set: one bearing of the register, one mounting."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.demo.darkroom import Drawing, drawing
from qrecords.demo.hall import ADJUSTING, Hall
from qrecords.demo.said import Said
from qrecords.demo.sheet import ALL_SHOTS, MINUTES, Machine, Sheet, asks
from qrecords.demo.walking import Walk
from qrecords.ledger.identifiers import new_id
from qrecords.signoff.actions import give_back

FIRST = Sheet(
    machine=Machine("Homogeniser crankshaft", "Hawmead dairy", "WO 26-0240", shaft="crank"),
    requirement=asks(
        "7310", "50 k5 D110 B54", "HD-H3-07", "A", clearance_kind="adjusted", width_source="a pair of 27 mm"
    ),
    begun="2026-10-06 06:55",
    fitter="brandreth",
    lot="L-4583",
    serial="PS-118 A+B",
    journal="8 8 9/8 7 8/8 8 8",
    bore="-4 -4 -4/-4 -4 -4",
    shaft_c="23",
    air_c="23",
    set_to="95",
    peak="92",
    carried_s=12,
    pressed_s=180,
    field="0.8",
)
SECOND = replace(FIRST, begun="2026-10-08 07:00", lot="L-4601", serial="PS-126 A+B")
DRAWN, FOUND = "back to back", "face to face"


def pictures() -> Iterable[Drawing]:
    for sheet, arrangement in ((FIRST, FOUND), (SECOND, DRAWN)):
        yield from map(sheet.picture, ALL_SHOTS)
        yield _pair(sheet, arrangement)


def _pair(sheet: Sheet, arrangement: str) -> Drawing:
    return drawing("pair", sheet.moment(MINUTES["blade"] + 2), arrangement=arrangement)


def tell(hall: Hall) -> None:
    walk = Walk.begin(hall, FIRST, procedure=ADJUSTING)
    _mounted(walk, FIRST, FOUND)
    walk.release("cold")
    walk.close()
    _found_in_the_photo(walk)
    again = walk.once_more(SECOND, another_bearing=True)
    _mounted(again, SECOND, DRAWN)
    again.release("cold")
    again.close()
    again.sign()


def _mounted(walk: Walk, sheet: Sheet, arrangement: str) -> None:
    """Up to the cold check. What the fitter says of the pair is what the drawing says, both times."""
    walk.before_heat()
    walk.release("fit")
    walk.mount()
    walk.check_cold()
    walk.keep("pair", _pair(sheet, arrangement))
    said: dict[str, Said] = {
        "arranged_on_drawing": DRAWN,
        "arranged": DRAWN,
        "marked_face": "no mark",
        "pair_serials": sheet.serial,
        "pair_marks": "in line",
        "lock_tab": "bent in",
    }
    walk.say("arrangement", said)
    walk.say("end_play", {"drawing_asks": "neither"})


def _found_in_the_photo(walk: Walk) -> None:
    walk.wait_until(MINUTES["covered"] + 45)
    give_back(
        acting=walk.acting("delacour"),
        mounting=walk.mounting,
        entry_id=new_id(),
        items=[("photo pair", "the arrows point at each other: face to face; the drawing has them apart")],
    )
    walk.say("arrangement", {"arranged": FOUND}, reason="looked again: the inspector's photo is right")
    walk.decide(
        "delacour",
        "scrap",
        ("arranged-as-drawn",),
        "Mounted face to face. It had to be pulled off through the balls: both of the pair are scrap.",
    )
