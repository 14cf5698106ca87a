"""Sheets of the tests, and what came of their rows in short."""

import hashlib
from uuid import UUID

from qrecords.ledger.identifiers import new_id
from qrecords.workshop.importing.fates import Fate
from qrecords.workshop.importing.taking_in import KINDS, Told, dry_run, take_in
from tests.cast import Workshop

ORDERS = """work_order;machine;owner;scheme;shaft;position
WO-31;Hoist motor 2;Ostrey tram depot;lifting;1;DE
WO-31;Hoist motor 2;Ostrey tram depot;;1;NDE
WO-31;Hoist motor 3;Ostrey tram depot;;;
"""
BEARINGS = """designation,serial,lot,date_code,delivery
6212 C3,,L-78,2545,DN 9
6212 C3,,L-78,2545,DN 9
NU 318,4471-A,L-12,,DN 9
"""
GAUGES = """mark;kind;due;expanded_u;resolution;measures_from;measures_up_to;blades;heater_kind;power
MIC-131;outside micrometer;2027-01-31;1,0;1;50;75;;;
FG-09;feeler set;2027-01-31;2;;;;0,03 0,05 0.1;;
IH-3;heater;;2;0.1;;;;induction;3600
"""
PEOPLE = """sign_in;name;role
o.brandreth;O. Brandreth;Fitter
delacour;M. Delacour;inspector
"""
WHO = {"work orders": "fitter", "bearings": "fitter", "gauges": "quality", "people": "administrator"}
SHEETS = {"work orders": ORDERS, "bearings": BEARINGS, "gauges": GAUGES, "people": PEOPLE}


def looked_at(shop: Workshop, kind: str, text: str | bytes) -> Told:
    return dry_run(KINDS[kind], text if isinstance(text, bytes) else text.encode(), shop.site)


def taken(shop: Workshop, kind: str, text: str | bytes, who: str = "", import_id: UUID | None = None) -> Told:
    raw = text if isinstance(text, bytes) else text.encode()
    return take_in(
        acting=shop.proved(who or WHO[kind]), kind=KINDS[kind], site=shop.site,
        import_id=import_id or new_id(), raw=raw, sha256=hashlib.sha256(raw).hexdigest(),
    )  # fmt: skip


def fates(told: Told) -> list[str]:
    return [fate.what.value for fate in told.fates]


def why(fate: Fate) -> list[tuple[str, str, str]]:
    """Field, what stands there (or here → file), and what is allowed."""
    wrong = [(w.field, f"{w.value} {w.unit}".strip(), w.allowed) for w in fate.wrong]
    return wrong + [(d.field, f"{d.here} → {d.file}", "") for d in fate.differs]
