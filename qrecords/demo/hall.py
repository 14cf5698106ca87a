"""The workshop of the demonstration: Tarn Hollow Rebuild Hall, its people, its gear, its procedure."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from qrecords.demo.darkroom import Darkroom
from qrecords.ledger.identifiers import new_id
from qrecords.people import actions as people
from qrecords.people.acting import PROVED, Acting
from qrecords.people.models import Person
from qrecords.people.passwords import Sealed, seal
from qrecords.people.permissions import Role
from qrecords.steps.procedure import STANDARD
from qrecords.steps.tasks import STAND_IN
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import Equipment
from qrecords.workshop.procedure_actions import approve_procedure, draft_procedure, put_in_force

ZONE = "Europe/London"
CODE = "TH"
NAME = "Tarn Hollow Rebuild Hall"
PASSWORD = "tarn-hollow-2026"  # noqa: S105 - printed for everybody who tries the demonstration
OPENED = datetime(2026, 2, 23, 8, 0, tzinfo=ZoneInfo(ZONE))


@dataclass(frozen=True)
class Member:
    """One person of the hall; `begins` says in plain words what to look at first."""

    sign_in: str
    name: str
    role: Role
    begins: str
    stands_in: str = ""
    """Where to begin as a stand-in on a shift without an inspector; '' for who does not stand in."""


ADMINISTRATOR = Member("ashgrove", "R. Ashgrove", Role.ADMINISTRATOR, "people and their roles")
MEMBERS = (
    Member("brandreth", "O. Brandreth", Role.FITTER, "6208 C3 half measured; 6316 C3 released, to be heated"),
    Member(
        "vaskova",
        "I. Vaskova",
        Role.FITTER,
        "6314 C3 waits for release before heat",
        "the same list as the inspectors, but for what she worked on",
    ),
    Member("pell", "J. Pell", Role.FITTER, "NU 214 is on and cooling: the cold check"),
    Member(
        "delacour",
        "M. Delacour",
        Role.INSPECTOR,
        "what waits: hold points first, then the felt mill's, ready",
    ),
    Member("ngata", "S. Ngata", Role.INSPECTOR, "the same list; re-measured the pump shaft of Sallowmere"),
    Member(
        "hollin", "P. Hollin", Role.ENGINEER, "the sieve drum: a journal over its limit waits for a decision"
    ),
    Member("tremaine", "L. Tremaine", Role.QUALITY, "Registers: MIC-118 is due on 4 December 2026; its uses"),
    Member("lindqvaern", "T. Lindqvaern", Role.AUDITOR, "search 22320 C3, WO 26-0131 or NU 318"),
    ADMINISTRATOR,
)
FITTERS = tuple(member.sign_in for member in MEMBERS if member.role == Role.FITTER)
INSPECTORS = tuple(member.sign_in for member in MEMBERS if member.role == Role.INSPECTOR)


@dataclass(frozen=True)
class Piece:
    """One gauge, master, meter or heater as it was calibrated last: `document` in base units, U with k = 2.

    `from_mm` and `to_mm` are what it measures; `calibrated` and `due` are days.
    """

    mark: str
    kind: str
    calibrated: str
    due: str
    document: Mapping[str, Any]
    from_mm: int = 0
    to_mm: int = 1000


def _length(u_nm: int) -> dict[str, Any]:
    """A gauge with a 1 µm step. With U = 1 µm its u is 0.58 µm."""
    return {"resolution": 1000, "expanded_u": u_nm, "repeatability": 0}


def _range(piece: "Piece") -> dict[str, Any]:
    """Of gauges that measure a size."""
    sized = piece.kind in ("outside micrometer", "bore gauge")
    return {"range_nm": [piece.from_mm * 1_000_000, piece.to_mm * 1_000_000]} if sized else {}


def _micrometer(mark: str, from_mm: int, to_mm: int, calibrated: str, due: str) -> Piece:
    return Piece(mark, "outside micrometer", calibrated, due, _length(1000), from_mm, to_mm)


_INCH = {"resolution": 2540, "expanded_u": 3000, "repeatability": 0, "resolution_in_u": True}
"""Reads to a ten-thousandth of an inch."""
_BLADES = {"blades_nm": [blade * 1000 for blade in (30, 40, 50, 60, 80, 100)], "expanded_u": 2000}
_HEATED = {"expanded_u": 2000, "resolution": 100}
_INDUCTION: dict[str, Any] = {**_HEATED, "heater_kind": "induction"}
GEAR = (
    _micrometer("MIC-109", 25, 50, "2026-02-02", "2027-02-01"),
    _micrometer("MIC-112", 51, 75, "2026-02-02", "2027-02-01"),
    _micrometer("MIC-118", 76, 100, "2025-12-05", "2026-12-04"),
    _micrometer("MIC-114", 76, 100, "2025-10-13", "2026-10-12"),
    _micrometer("MIC-126", 101, 150, "2026-02-09", "2027-02-08"),
    Piece("MIC-203", "outside micrometer", "2026-02-02", "2027-02-01", _INCH, 51, 76),
    Piece("BG-219", "bore gauge", "2026-02-02", "2027-02-01", _INCH, 51, 76),
    Piece("BG-204", "bore gauge", "2026-01-19", "2027-01-18", _length(1000), 18, 60),
    Piece("BG-211", "bore gauge", "2026-01-19", "2027-01-18", _length(1000), 61, 160),
    Piece("SM-31", "setting master", "2025-09-01", "2027-08-31", {**_length(600), "resolution": 0}),
    Piece("FG-07", "feeler set", "2026-01-12", "2027-01-11", _BLADES),
    Piece("DI-05", "dial indicator", "2026-01-12", "2027-01-11", _length(1000)),
    Piece("TH-14", "thermometer", "2026-01-26", "2027-01-25", {"expanded_u": 1000, "resolution": 100}),
    Piece("FM-03", "field meter", "2026-02-16", "2027-02-15", {"expanded_u": 10_000, "resolution": 1000}),
    Piece("IH-1", "heater", "2026-02-16", "2027-02-15", _INDUCTION | {"power_w": 3600}),
    Piece("IH-2", "heater", "2026-02-16", "2027-02-15", _INDUCTION),
    Piece("OV-1", "heater", "2026-02-16", "2027-02-15", {**_HEATED, "heater_kind": "oven"}),
)


@dataclass
class Hall:
    site: uuid.UUID
    darkroom: Darkroom
    people: dict[str, Person] = field(default_factory=dict)
    gear: dict[str, Equipment] = field(default_factory=dict)

    def acting(self, who: str, at: datetime) -> Acting:
        """An act of a person of the hall who proved who he is."""
        return Acting(author=self.people[who], now=at, identity=PROVED, zone=ZONE)

    def fits(self, kind: str, size_mm: Decimal) -> str:
        """The id of the gauge of this kind that takes a size."""
        mark = next(p.mark for p in GEAR if p.kind == kind and p.from_mm <= size_mm <= p.to_mm)
        return self.named(mark)

    def named(self, mark: str) -> str:
        return str(self.gear[mark].id)


def open_hall(site: uuid.UUID, darkroom: Darkroom) -> Hall:
    """Enrol everybody, register the gear and put the standard procedure in force."""
    hall, sealed = Hall(site, darkroom), seal(PASSWORD)
    first = ADMINISTRATOR
    hall.people[first.sign_in] = people.enrol_first_administrator(
        now=OPENED, site=site, person_id=new_id(), sign_in=first.sign_in, name=first.name, password=sealed
    )
    acting = hall.acting(first.sign_in, OPENED)
    workshop.open_site(acting=acting, site_id=site, code=CODE, name=NAME, zone=ZONE)
    for member in MEMBERS:
        if member != first:
            _enrol(hall, acting, member, sealed)
    quality = next(member.sign_in for member in MEMBERS if member.role == Role.QUALITY)
    keeping = hall.acting(quality, OPENED)
    for who in FITTERS:
        for task in ("measure", "heat", "mount"):
            _assess(hall, keeping, who, task)
    for who in INSPECTORS:
        _assess(hall, keeping, who, "measure")
    for member in MEMBERS:
        if member.stands_in:
            _grant(hall, acting, member.sign_in, Role.STAND_IN)
            _assess(hall, keeping, member.sign_in, STAND_IN)
    for piece in GEAR:
        hall.gear[piece.mark] = _register(hall, keeping, piece)
    put_in_force(acting=keeping, procedure_id=new_id(), site=site, document=STANDARD)
    _agree(hall, for_adjusted())
    return hall


ADJUSTING = "HM-2"
"""The procedure for bearings that are set against each other when mounted."""


def for_adjusted() -> dict[str, Any]:
    """The standard procedure, and how the pair stands, its end play and a photo of both."""
    steps, photos = list(STANDARD["steps"]), list(STANDARD["photos"])
    after = steps.index("shoulder_gap") + 1
    steps[after:after] = ["arrangement", "end_play"]
    photos.append({"id": "pair", "step": "arrangement"})
    named = {"name": ADJUSTING, "revision": "A", "contract": "pairs and tapered rollers"}
    return {**STANDARD, **named, "steps": steps, "photos": photos}


def _agree(hall: Hall, document: Mapping[str, Any]) -> None:
    """Drafted by the engineer; approved by him and by who keeps the gauges."""
    draft = draft_procedure(
        acting=hall.acting("hollin", OPENED),
        site=hall.site,
        draft_id=new_id(),
        document=document,
        reason="pairs and tapered roller bearings are set when mounted: their own steps and a photo",
    )
    for who in ("hollin", "tremaine"):
        approve_procedure(acting=hall.acting(who, OPENED), act_id=new_id(), draft=draft)


def _enrol(hall: Hall, acting: Acting, member: Member, sealed: Sealed) -> None:
    person = people.enrol(
        acting=acting,
        site=hall.site,
        person_id=new_id(),
        sign_in=member.sign_in,
        name=member.name,
        password=sealed,
    )
    people.choose_password(
        acting=Acting(author=person, now=OPENED, identity=PROVED, zone=ZONE),
        entry_id=new_id(),
        password=sealed,
    )
    hall.people[member.sign_in] = Person.objects.get(id=person.id)
    _grant(hall, acting, member.sign_in, member.role)


def _grant(hall: Hall, acting: Acting, who: str, role: Role) -> None:
    people.grant_role(acting=acting, site=hall.site, grant_id=new_id(), person=hall.people[who], role=role)


def _assess(hall: Hall, acting: Acting, who: str, task: str) -> None:
    people.assess(
        acting=acting,
        site=hall.site,
        competence_id=new_id(),
        person=hall.people[who],
        task=task,
        basis="six supervised jobs",
        assessor=hall.people["hollin"],
        from_mm=Decimal(10),
        to_mm=Decimal(400),
        valid_from=date(2025, 9, 1),
        valid_to=date(2028, 8, 31),
    )


def _register(hall: Hall, acting: Acting, piece: Piece) -> Equipment:
    calibrated = datetime.fromisoformat(piece.calibrated).replace(tzinfo=ZoneInfo(ZONE))
    document = {
        "status": "in use",
        "due": piece.due,
        "certificate": f"TH-CAL {piece.calibrated[:4]}/{piece.mark}",
        **piece.document,
        **_range(piece),
    }
    return workshop.register_equipment(
        acting=acting,
        site=hall.site,
        equipment_id=new_id(),
        version_id=new_id(),
        kind=piece.kind,
        mark=piece.mark,
        document=document,
        valid_from=calibrated,
    )
