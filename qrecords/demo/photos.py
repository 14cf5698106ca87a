"""The photographs of the demonstration, drawn: each shows what its caption claims, and nothing is real.

Every function returns the bytes of a JPEG of 1600 × 1200 px with a capture time in its EXIF data.
"""

from datetime import datetime
from functools import lru_cache

from PIL import ImageChops

from qrecords.demo.bearings import Inside, bearing_face, rounded, stamp
from qrecords.demo.instruments import HOUSING, display, handheld
from qrecords.demo.picture import Picture
from qrecords.demo.shapes import annulus, box, disc, lettering, line, polygon, sagging
from qrecords.demo.surfaces import SIZE, cylinder, face_turned, grain, ground, ramp, steel, tinted

BENCH = (92, 104, 102)
WALL = (88, 92, 98)


def micrometer(value_mm: str, *, taken_at: datetime, mark: str = "", unit: str = "mm") -> bytes:
    """A micrometer across a journal seen from the shaft end, `value_mm` on its display, or inches.

    mark: what is chalked on the shaft end, such as the plane and direction `B 60°`.
    """
    picture = _micrometer_on_a_shaft().again()
    if mark:
        picture.light(lettering(mark, 540, 350, 74, turn_deg=4), 0.8)
    display(picture, value_mm, 1012, 404, 1508, 560, unit)
    return picture.as_jpeg(taken_at, f"micrometer {value_mm} {mark}")


@lru_cache(maxsize=1)
def _micrometer_on_a_shaft() -> Picture:
    picture = Picture(ground(WALL, "micrometer"))
    x, y, radius = 540, 500, 285
    picture.lay(disc(x, y, 372), face_turned(x, y, 96, "shoulder"), bevel_px=6, shadow_px=30)
    picture.lay(disc(x, y, radius), face_turned(x, y, 176, "end"), bevel_px=8, shadow_px=18)
    picture.lay(disc(x, y, 46), (52, 55, 58), bevel_px=4)
    picture.lay(disc(x, y, 20), (16, 17, 18))
    _frame(picture, x, y, radius)
    return picture


def _frame(picture: Picture, x: float, y: float, radius: float) -> None:
    """The bow below the shaft, anvil on the left, body with spindle and thimble on the right."""
    bow = ImageChops.multiply(annulus(x, y, radius + 235, radius + 110), box(0, y - 40, SIZE[0], SIZE[1]))
    picture.lay(bow, HOUSING, bevel_px=12, shadow_px=22)
    picture.lay(box(x - radius - 238, y - 66, x - radius - 92, y + 30, 26), HOUSING, bevel_px=10)
    for left, right in ((x - radius - 96, x - radius), (x + radius, 985)):
        bar = box(left, y - 30, right, y + 30)
        picture.lay(bar, cylinder(0, y - 30, SIZE[0], y + 30, "spindle"), shadow_px=8)
        edge = box(left if right > x else right - 16, y - 30, left + 16 if right > x else right, y + 30)
        picture.shade(edge, 0.35)
    picture.lay(box(950, 352, 1572, 672, 46), HOUSING, bevel_px=12, shadow_px=26)
    picture.lay(box(1572, 430, SIZE[0], 590), cylinder(0, 430, SIZE[0], 590, "thimble", 0.8))
    for left in (1040, 1180):
        picture.lay(
            box(left, 598, left + 96, 640, 18), (150, 46, 40) if left == 1040 else (98, 104, 110), bevel_px=4
        )
    picture.light(lettering("0.001 mm", 1400, 620, 28), 0.7)


def ring_marking(text: str, *, taken_at: datetime, inside: Inside = "balls") -> bytes:
    """The face of a ring with `text` stamped along it, lit flat across so that the stamp throws shadows."""
    x, y = 800, 1390
    picture = _bearing_on_the_bench("marking", x, y, 1210, inside).again()
    stamp(picture, text, x, y, 1112, 112, 1440)
    picture.shade(ramp([(0, 0), (0.42, 0), (1, 215)], SIZE, down=False), 0.62)
    picture.light(ramp([(0, 190), (0.3, 40), (0.5, 0), (1, 0)], SIZE, down=False), 0.3)
    return picture.as_jpeg(taken_at, f"marking {text}")


@lru_cache(maxsize=8)
def _bearing_on_the_bench(seed: str, x: int, y: int, outer: int, inside: Inside) -> Picture:
    picture = Picture(ground(BENCH, seed))
    bearing_face(picture, x, y, outer, inside)
    return picture


def box_label(
    designation: str,
    lot: str,
    *,
    taken_at: datetime,
    supplier: str = "Marlowe & Finch Supply",
    inside: Inside = "balls",
) -> bytes:
    """A carton with its label, and the bearing lying before it, its marking readable: both in one frame."""
    picture = _carton_and_bearing(inside).again()
    turn = 4.3
    picture.shade(
        lettering(designation, 545, 402, min(88, 860 / max(1, len(designation))), turn_deg=turn), 0.92
    )
    for row, text in enumerate((f"lot {lot}", "qty 1    do not open before use", supplier)):
        picture.shade(lettering(text, 545, 500 + row * 52, 34, turn_deg=turn), 0.85)
    stamp(picture, designation, 1190, 800, 331, 44, 660)
    return picture.as_jpeg(taken_at, f"label {designation} {lot}")


@lru_cache(maxsize=4)
def _carton_and_bearing(inside: Inside) -> Picture:
    picture = Picture(ground((118, 104, 84), "label"))
    top = polygon((110, 150), (770, 110), (900, 190), (190, 240))
    picture.lay(top, (176, 146, 104), bevel_px=3)
    picture.lay(
        polygon((190, 240), (900, 190), (880, 900), (215, 990)), (154, 124, 84), bevel_px=5, shadow_px=34
    )
    picture.lay(polygon((110, 150), (190, 240), (215, 990), (140, 850)), (112, 88, 58))
    picture.lay(polygon((250, 320), (845, 275), (832, 720), (262, 785)), (238, 237, 230), bevel_px=2)
    for bar in range(44):
        left = 300 + bar * 11
        slope = (left - 300) * 0.09
        picture.shade(box(left, 668 - slope, left + 3 + (bar * bar * 7) % 6, 742 - slope), 0.9)
    bearing_face(picture, 1190, 800, 360, inside)
    return picture


def feeler(blade_mm: str, *, taken_at: datetime, angle_deg: int, enters: bool) -> bytes:
    """A feeler blade with its number at the seam between shoulder and ring, at an angle from the keyway.

    The blade comes from the lower right, towards the viewer. If it enters, its end is out of sight in the
    seam; if not, its rounded tip stands before a seam that is closed.
    """
    picture = Picture(ground(WALL, "feeler"))
    seam = 11 if enters else 3
    shoulder, ring = box(-20, 90, 640, SIZE[1] + 20), box(640 + seam, 210, SIZE[0] + 20, SIZE[1] + 20)
    picture.lay(shoulder, cylinder(0, 90, SIZE[0], 1900, "shoulder", 0.8), bevel_px=8)
    picture.lay(ring, cylinder(0, 210, SIZE[0], 1700, "ring"), bevel_px=6)
    picture.shade(box(640, 90, 640 + seam, SIZE[1]), 0.95)
    picture.light(lettering(f"{angle_deg}°", 330, 470, 150, turn_deg=3), 0.78)
    edges = ((1620, 690), (1620, 1010))
    if enters:
        blade = polygon((640 + seam / 2, 520), *edges, (640 + seam / 2, 640))
    else:
        tip = [(676, 524), (654, 540), (644, 566), (643, 596), (654, 624), (676, 642)]
        blade = polygon(*tip[:1], *edges, *reversed(tip[1:]))
    picture.lay(blade, steel("blade", 214), bevel_px=4, shadow_px=20)
    if enters:
        picture.shade(box(640, 516, 652, 646), 0.6)
    picture.cut(lettering(blade_mm, 1190, 735, 118, turn_deg=-14), 3)
    return picture.as_jpeg(taken_at, f"feeler {blade_mm} {angle_deg} {enters}")


def wrapped_shaft(order: str, *, taken_at: datetime) -> bytes:
    """The bearing and its shaft end wrapped against dirt, tied and tagged with the work order."""
    picture = _wrapped_and_tagged().again()
    picture.shade(lettering(order, 1078, 866, min(66, 640 / max(1, len(order))), turn_deg=-5), 0.85)
    return picture.as_jpeg(taken_at, f"wrapped {order}")


@lru_cache(maxsize=1)
def _wrapped_and_tagged() -> Picture:
    picture = Picture(ground(BENCH, "wrapped"))
    picture.lay(box(0, 470, 700, 730), cylinder(0, 470, SIZE[0], 730, "bare"), shadow_px=26)
    wrapping = rounded(
        polygon(
        (560, 500), (640, 360), (760, 300), (1020, 290), (1140, 330), (1220, 450), (1480, 470), (1560, 540),
        (1565, 670), (1480, 735), (1220, 760), (1130, 890), (1000, 930), (760, 915), (640, 850), (560, 700),
        ),
        26,
    )  # fmt: skip
    paper = ramp([(0, 60), (0.24, 120), (0.36, 246), (0.5, 214), (0.68, 120), (0.8, 82), (1, 60)], SIZE)
    creases = grain((90, 60), "creases", 0.9).resize(SIZE).point(lambda value: 90 + value * 2 // 3)
    film = tinted(ImageChops.blend(paper, ImageChops.multiply(paper, creases), 0.6), (206, 190, 148))
    picture.lay(wrapping, film, bevel_px=14, shadow_px=30)
    for fold in range(16):
        start = (640 + fold * 54, 318 + (fold * 37) % 40)
        crease = line([start, (start[0] + (fold * 53) % 70 - 35, 880 - (fold * 61) % 220)], 5)
        picture.light(ImageChops.multiply(crease, wrapping), 0.2)
    for at in (620, 1215):
        picture.lay(
            line([(at, 455), (at + 8, 610), (at - 2, 750)], 12), (58, 62, 120), bevel_px=3, shadow_px=6
        )
    picture.lay(
        polygon((860, 760), (1280, 800), (1262, 1010), (842, 970)), (232, 222, 178), bevel_px=3, shadow_px=18
    )
    picture.lay(disc(884, 800, 13), (70, 60, 44))
    picture.shade(lettering("covered, do not open", 1056, 942, 34, turn_deg=-5), 0.8)
    return picture


def probe(shown_c: str, *, taken_at: datetime, on_inner_ring: bool = True, inside: Inside = "balls") -> bytes:
    """A temperature probe held on a ring by its magnet, its thermometer showing `shown_c` in °C."""
    x, y, outer = 520, 640, 500
    picture = _bearing_on_the_bench("probe", x, y, outer, inside).again()
    picture.lay(box(0, y - 62, SIZE[0] - 620, y + 62), steel("crossbar", 150), bevel_px=6, shadow_px=22)
    reach = outer * (0.57 if on_inner_ring else 0.92)
    at = (x + reach * 0.62, y - reach * 0.785)
    picture.lay(line(sagging(at, (1290, 260), 190), 17), (36, 38, 42), bevel_px=4, shadow_px=14)
    picture.lay(disc(*at, 44), (178, 148, 60), bevel_px=10, shadow_px=12)
    picture.lay(disc(*at, 15), (70, 60, 34), bevel_px=3)
    handheld(picture, 1070, 250, shown_c, "°C", "thermometer")
    return picture.as_jpeg(taken_at, f"probe {shown_c} {on_inner_ring}")


def field_meter(shown: str, *, taken_at: datetime, unit: str = "A/cm", inside: Inside = "balls") -> bytes:
    """A field meter with its flat probe at the edge of a ring, showing `shown`."""
    x, y, outer = 470, 660, 460
    picture = _bearing_on_the_bench("field", x, y, outer, inside).again()
    tip = (x + outer * 0.66, y - outer * 0.74)
    picture.lay(line(sagging((1000, 150), (1310, 300), 90), 18), (36, 38, 42), bevel_px=4, shadow_px=12)
    picture.lay(
        polygon((tip[0] + 6, tip[1] - 22), (980, 96), (1012, 178), (tip[0] + 20, tip[1] + 18)),
        (44, 62, 92),
        bevel_px=6,
        shadow_px=16,
    )
    picture.lay(
        polygon(
            (tip[0] - 20, tip[1] - 4),
            (tip[0] + 96, tip[1] - 66),
            (tip[0] + 112, tip[1] - 34),
            (tip[0] - 6, tip[1] + 24),
        ),
        (196, 168, 92),
        bevel_px=3,
    )
    handheld(picture, 1070, 290, shown, unit, "field meter")
    return picture.as_jpeg(taken_at, f"field {shown} {unit}")


def seat(*, taken_at: datetime, journal: str = "") -> bytes:
    """The bare journal between its shoulder and the shaft end, clean, in raking light; its name in chalk."""
    picture = _bare_journal().again()
    if journal:
        picture.light(lettering(journal, 240, 460, min(90, 620 / len(journal)), turn_deg=3), 0.75)
    return picture.as_jpeg(taken_at, f"seat {journal}")


@lru_cache(maxsize=1)
def _bare_journal() -> Picture:
    picture = Picture(ground(BENCH, "seat"))
    middle = 620
    for left, right, radius, tone in ((-20, 520, 430, 0.78), (540, 1320, 320, 1.0), (1320, 1620, 240, 0.9)):
        part = box(left, middle - radius, right, middle + radius, 6)
        surface = cylinder(0, middle - radius, SIZE[0], middle + radius, f"seat {radius}", tone)
        picture.lay(part, surface, bevel_px=8, shadow_px=24)
    fillet = box(520, middle - 318, 548, middle + 318, 10)
    picture.lay(fillet, cylinder(0, middle - 318, SIZE[0], middle + 318, "fillet", 0.62), bevel_px=5)
    picture.shade(polygon((1290, 300), (1320, 380), (1320, 860), (1290, 940)), 0.25)
    return picture


def pair(*, taken_at: datetime, arrangement: str) -> bytes:
    """Two bearings side by side on a shaft, seen from the side. Each outer ring is relieved towards its open
    face, and an arrow is marked on it that points there: away from each other is back to back, towards each
    other face to face."""
    picture = Picture(ground(WALL, "pair"))
    middle = 600
    for left, right, radius, tone in ((-20, 360, 330, 0.8), (360, 1620, 200, 1.0)):
        part = box(left, middle - radius, right, middle + radius, 4)
        surface = cylinder(0, middle - radius, SIZE[0], middle + radius, f"pair {radius}", tone)
        picture.lay(part, surface, bevel_px=4, shadow_px=18)
    away = arrangement == "back to back"
    for left, right, opens_left in ((400, 780, away), (784, 1164, not away)):
        thin, thick = 196, 150
        tops = (thin, thick) if opens_left else (thick, thin)
        ring = polygon((left, tops[0]), (right, tops[1]), (right, 1200 - tops[1]), (left, 1200 - tops[0]))
        picture.lay(ring, cylinder(0, 150, SIZE[0], 1050, f"ring {left}"), bevel_px=8, shadow_px=16)
        tip, tail = (left + 60, right - 70) if opens_left else (right - 60, left + 70)
        way = 1 if opens_left else -1
        picture.cut(line([(tail, middle), (tip + way * 96, middle)], 16), 3)
        picture.cut(polygon((tip, middle), (tip + way * 90, middle - 60), (tip + way * 90, middle + 60)), 3)
    return picture.as_jpeg(taken_at, f"pair {arrangement}")


def held_by_nut(*, taken_at: datetime) -> bytes:
    """A bearing pressed against its shoulder by a lock nut, the spanner still on it, from the side."""
    return _nut_and_spanner().as_jpeg(taken_at, "nut")


@lru_cache(maxsize=1)
def _nut_and_spanner() -> Picture:
    picture = Picture(ground(WALL, "nut"))
    middle = 600
    for left, right, radius, tone, seed in (
        (0, 430, 330, 0.8, "big"), (430, 620, 300, 0.9, "shoulder"), (620, 1600, 190, 1.0, "seat"),
    ):  # fmt: skip
        part = box(left, middle - radius, right, middle + radius, 4)
        picture.lay(
            part, cylinder(0, middle - radius, SIZE[0], middle + radius, seed, tone), bevel_px=4, shadow_px=18
        )
    for thread in range(1130, 1600, 15):
        picture.shade(polygon((thread, 410), (thread + 6, 410), (thread + 11, 790), (thread + 5, 790)), 0.5)
    picture.lay(
        box(622, 150, 960, 1050, 22), cylinder(0, 150, SIZE[0], 1050, "outer ring"), bevel_px=10, shadow_px=20
    )
    picture.lay(box(960, 330, 984, 870, 4), cylinder(0, 330, SIZE[0], 870, "washer", 0.7), bevel_px=3)
    picture.lay(
        box(984, 300, 1128, 900, 10), cylinder(0, 300, SIZE[0], 900, "nut", 0.86), bevel_px=7, shadow_px=16
    )
    for top in (330, 452, 690, 812):
        picture.lay(box(1000, top, 1128, top + 58, 4), (34, 36, 39), bevel_px=3)
    handle = polygon((1040, 560), (1150, 560), (1215, 1200), (1095, 1200))
    hook = box(992, 520, 1170, 628, 44)
    picture.lay(ImageChops.lighter(handle, hook), steel("spanner", 120), bevel_px=10, shadow_px=22)
    return picture
