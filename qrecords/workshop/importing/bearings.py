"""Bearings as delivered: a row is one physical bearing.

One with a serial is known by designation and serial. Without one the bearings of a delivery cannot be told
apart: of so many alike rows as many are here already as there are bearings alike; only what is over is new.
"""

import uuid
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from django.db.models import Count

from qrecords.people.acting import Acting
from qrecords.workshop.actions import register_bearing
from qrecords.workshop.importing.cells import Cells
from qrecords.workshop.importing.fates import Fate, Row, What, compared, refused
from qrecords.workshop.models import Bearing

COLUMNS = ("designation", "serial", "lot", "date_code", "delivery")
REQUIRED = ("designation",)
LONGEST = {"designation": 60, "serial": 40, "lot": 40, "date_code": 20, "delivery": 60}
ALIKE = ("designation", "lot", "date_code", "delivery")
NewId = Callable[[str], uuid.UUID]


def plan(rows: Sequence[Row], site: uuid.UUID) -> list[Fate]:
    """Two queries, however many rows."""
    read = [_read(row) for row in rows]
    wanted = {fate.values["designation"] for fate in read if fate.values}
    here = Bearing.objects.filter(site=site, designation__in=wanted)
    by_serial = {(b.designation, b.serial): b for b in here.exclude(serial="").order_by("-id")}
    alike = here.filter(serial="").values(*ALIKE).annotate(n=Count("pk"))
    in_stock = Counter({tuple(row[name] for name in ALIKE): row["n"] for row in alike})
    seen: dict[tuple[str, str], int] = {}
    nth: Counter[tuple[str, ...]] = Counter()
    fates = []
    for fate in read:
        if fate.wrong:
            fates.append(fate)
        elif fate.values["serial"]:
            fates.append(_with_serial(fate, by_serial, seen))
        else:
            like = tuple(fate.values[name] for name in ALIKE)
            nth[like] += 1
            what = What.SAME if nth[like] <= in_stock[like] else What.NEW
            fates.append(fate.become(what, values={**fate.values, "nth": nth[like]}))
    return fates


def _read(row: Row) -> Fate:
    cells = Cells(row)
    values = {name: cells.text(name, most, optional=name not in REQUIRED) for name, most in LONGEST.items()}
    return refused(row, cells.wrong) if cells.wrong else Fate(row, What.NEW, values=values)


def _with_serial(
    fate: Fate, by_serial: Mapping[tuple[str, str], Bearing], seen: dict[tuple[str, str], int]
) -> Fate:
    key = fate.values["designation"], fate.values["serial"]
    first = seen.setdefault(key, fate.row.line)
    if first != fate.row.line:
        return fate.become(What.DUPLICATE, first=first)
    bearing = by_serial.get(key)
    if bearing is None:
        return fate
    pairs = {name: (getattr(bearing, name), fate.values[name]) for name in ("lot", "date_code", "delivery")}
    return compared(fate.row, pairs, fate.values)


def write(acting: Acting, site: uuid.UUID, values: Mapping[str, Any], new_id: NewId) -> bool:
    """The bearing, unless it came meanwhile."""
    said = {name: values[name] for name in LONGEST}
    like = said if said["serial"] else {name: said[name] for name in ALIKE} | {"serial": ""}
    if said["serial"]:
        like = {"designation": said["designation"], "serial": said["serial"]}
    if Bearing.objects.filter(site=site, **like).count() >= values.get("nth", 1):
        return False
    register_bearing(acting=acting, site=site, bearing_id=new_id("bearing"), **said)
    return True
