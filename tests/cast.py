"""The cast of the tests: one workshop with people of stated rights, gear in date, a machine to work on.

Everything is made through the same actions that a person uses. Names are invented.
"""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions.attaching import announce_file, receive_file
from qrecords.mountings.actions.finishing import ready
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.actions.recording import Given, Typed, record
from qrecords.mountings.actions.tapping import tap
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people import actions as people
from qrecords.people.acting import Acting
from qrecords.people.models import Person
from qrecords.people.passwords import seal
from qrecords.people.permissions import Role
from qrecords.signoff import actions as signoff
from qrecords.steps.answers import Absent
from qrecords.steps.findings import Finding
from qrecords.steps.procedure import STANDARD
from qrecords.steps.shown import Extent, shown_now
from qrecords.steps.telephone import answer_code, readings_code, readings_of
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import Bearing, Equipment, Journal, Machine, Rebuild
from qrecords.workshop.procedure_actions import put_in_force
from tests.kept import forget_pictures, kept, once

PASSWORD = "correct horse battery"
MORNING = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
ROLES = {
    "fitter": Role.FITTER,
    "second_fitter": Role.FITTER,
    "inspector": Role.INSPECTOR,
    "engineer": Role.ENGINEER,
    "quality": Role.QUALITY,
    "auditor": Role.AUDITOR,
}
REQUIREMENT: dict[str, Any] = {
    "nominal_mm": "60", "shaft_class": "m6", "drawing": "TH-4410", "revision": "C",
    "designation": "6212 C3", "clearance_kind": "deep_groove_ball_cyl_bore", "clearance_group": "3",
    "outside_mm": "110", "width_mm": "22", "seat_width_mm": "40", "size_source": "table",
}  # fmt: skip
SEEN_BEFORE_HEAT, SEEN_COLD = (
    ("marking", "package", "seat", "micrometer", "probe"),
    ("held", "blade", "covered"),
)
"""The wanted photos, by when what they show can be seen."""
JOURNAL_UM = {"A": ("18", "17", "18"), "B": ("17", "17", "18"), "C": ("17", "16", "17")}
"""A sound journal 60 m6 (+11…+30), µm from nominal by plane."""
U_HALF_UM = {"resolution": 1000, "expanded_u": 1000, "repeatability": 0, "due": "2099-01-31"}


@dataclass
class Workshop:
    """The workshop, its clock and its people by role name."""

    site: uuid.UUID
    clock: datetime
    people: dict[str, Person] = field(default_factory=dict)
    gear: dict[str, Equipment] = field(default_factory=dict)

    def acting(self, who: str, **changes: Any) -> Acting:
        """An act of one of the cast now; the clock moves on by ten seconds each time."""
        self.clock += timedelta(seconds=10)
        acting = Acting(author=self.people[who], now=self.clock, zone="Europe/Berlin")
        return replace(acting, **changes)

    def proved(self, who: str) -> Acting:
        return self.acting(who, identity="proved")


def make_workshop(now: datetime = MORNING) -> Workshop:
    """Site, people, competences, gear and the standard procedure in force."""
    return once(_workshop_of_the_morning) if now == MORNING else _workshop(now)


def _workshop_of_the_morning() -> Workshop:
    return _workshop(MORNING)


def _workshop(now: datetime) -> Workshop:
    shop = Workshop(site=new_id(), clock=now)
    sealed = seal(PASSWORD)
    admin = people.enrol_first_administrator(
        now=now, site=shop.site, person_id=new_id(), sign_in="admin", name="A. Dahlgren", password=sealed
    )
    shop.people["administrator"] = admin
    workshop.open_site(
        acting=shop.proved("administrator"), site_id=shop.site, code="TH", name="Test hall", zone="UTC"
    )
    for name, role in ROLES.items():
        acting = shop.proved("administrator")
        person = people.enrol(
            acting=acting, site=shop.site, person_id=new_id(), sign_in=name, name=f"{name.title()} Person",
            password=sealed,
        )  # fmt: skip
        shop.people[name] = own_password(person)
        people.grant_role(acting=acting, site=shop.site, grant_id=new_id(), person=person, role=role)
    for name in ("fitter", "second_fitter"):
        for task in ("measure", "heat", "mount"):
            make_competent(shop, name, task)
    for name in ("inspector", "engineer"):
        make_competent(shop, name, "measure")
    for key, (kind, document) in GEAR.items():
        add_gear(shop, key, kind, document)
    put_in_force(acting=shop.proved("quality"), procedure_id=new_id(), site=shop.site, document=STANDARD)
    return shop


def own_password(person: Person) -> Person:
    """As if the person had signed in and kept the word; what choosing one says is tested where it is done."""
    Person.objects.filter(id=person.id).update(first_password=False)
    person.first_password = False
    return person


GEAR: dict[str, tuple[str, dict[str, Any]]] = {
    "micrometer": ("outside micrometer", U_HALF_UM),
    "bore_gauge": ("bore gauge", U_HALF_UM),
    "master": ("setting master", U_HALF_UM),
    "feeler": (
        "feeler set",
        {"due": "2099-01-31", "blades_nm": [30_000, 40_000, 50_000, 60_000, 80_000, 100_000]},
    ),
    "thermometer": ("thermometer", {"due": "2099-01-31", "expanded_u": 2000, "resolution": 100}),
    "meter": ("field meter", {"due": "2099-01-31", "expanded_u": 20_000, "resolution": 1000}),
    "heater": ("heater", {"heater_kind": "induction", "expanded_u": 2000, "due": "2099-01-31"}),
}


def add_gear(shop: Workshop, key: str, kind: str, document: Mapping[str, Any], mark: str = "") -> Equipment:
    shop.gear[key] = workshop.register_equipment(
        acting=shop.acting("quality"), site=shop.site, equipment_id=new_id(), version_id=new_id(), kind=kind,
        mark=mark or key.upper().replace("_", "-")[:12] + "-1", document={"status": "in use", **document},
        valid_from=shop.clock - timedelta(days=30),
    )  # fmt: skip
    return shop.gear[key]


def make_competent(shop: Workshop, who: str, task: str) -> None:
    people.assess(
        acting=shop.acting("quality"), site=shop.site, competence_id=new_id(), person=shop.people[who],
        task=task, basis="six supervised jobs", assessor=shop.people["quality"], from_mm=Decimal("10"),
        to_mm=Decimal("400"), valid_from=date(2025, 1, 1), valid_to=date(2099, 1, 1),
    )  # fmt: skip


@dataclass
class Job:
    """One mounting of the tests with its workshop, and the taps of a whole job as methods."""

    shop: Workshop
    mounting: Mounting
    machine: Machine
    journal: Journal
    rebuild: Rebuild
    bearing: Bearing

    def say(
        self,
        step: str,
        who: str = "fitter",
        reason: str = "",
        check: bool = False,
        at_device: datetime | None = None,
        **given: Any,
    ) -> Entry:
        """Record fields of a step; `__` in a name stands for the dot of a place (`gap__90`)."""
        fields: dict[str, Given] = {
            key.replace("__", "."): value if isinstance(value, Typed | Absent) else Typed(*_pair(value))
            for key, value in given.items()
        }
        return record(
            acting=self.shop.acting(who, at_device=at_device), mounting=self.mounting, entry_id=new_id(),
            step_id=step, given=fields, reason=reason, check=check,
        )  # fmt: skip

    def tap(self, what: str, who: str = "fitter", after_s: float = 0, **names: Any) -> Entry:
        self.shop.clock += timedelta(seconds=after_s)
        return tap(
            acting=self.shop.acting(who), mounting=self.mounting, entry_id=new_id(), what=what, **names
        )

    @kept
    def release(self, hold: str = "fit", who: str = "inspector") -> Entry:
        """Release as an inspector does: before heat he reads the ring himself, if none has yet."""
        if hold == "fit" and who == "inspector" and not case_of(self.mounting).checks.get("identification"):
            self.own_reading(who)
        return signoff.release(
            acting=self.shop.acting(who), mounting=self.mounting, entry_id=new_id(), hold=hold,
            shown=self.shown(),
        )  # fmt: skip

    def release_by_telephone(self, who: str = "inspector") -> str:
        """Release on what the fitter reads out; the code that is read back to him."""
        case = case_of(self.mounting)
        readings = readings_of(case)
        released = signoff.release_by_telephone(
            acting=self.shop.acting(who), mounting=self.mounting, entry_id=new_id(),
            code=readings_code(case.mounting, readings), lowest_nm=min(readings.values()),
            highest_nm=max(readings.values()),
        )  # fmt: skip
        return answer_code(self.leaf(released))

    def shown(self) -> Extent:
        """The whole record, as a page shows it now."""
        return shown_now(case_of(self.mounting))

    def leaf(self, entry: Entry) -> str:
        return next(said.leaf for said in entries_of(self.mounting.id) if said.id == entry.id)

    @kept
    def ready(self, who: str = "fitter") -> Entry:
        return ready(
            acting=self.shop.proved(who), mounting=self.mounting, entry_id=new_id(), shown=self.shown()
        )

    @kept
    def sign(self, who: str = "inspector") -> Entry:
        return signoff.sign(
            acting=self.shop.proved(who), mounting=self.mounting, entry_id=new_id(), shown=self.shown()
        )

    def decide(
        self, kind: str, *about: str, who: str = "engineer", reason: str = "seen", **more: Any
    ) -> Entry:
        return signoff.decide(
            acting=self.shop.proved(who), mounting=self.mounting, entry_id=new_id(), kind=kind,
            digests=[self.finding(name).digest for name in about], reason=reason, **more,
        )  # fmt: skip

    def findings(self) -> dict[str, Finding]:
        return {finding.characteristic: finding for finding in judged_now(self.mounting).findings}

    def finding(self, characteristic: str) -> Finding:
        return self.findings()[characteristic]

    def flags(self) -> dict[str, str]:
        """What is flagged: everything but *conforming* and *missing*."""
        return {
            name: finding.verdict.value
            for name, finding in self.findings().items()
            if finding.verdict.value not in ("conforming", "missing")
        }

    # The parts of a sound job, in the order of the work.
    @kept
    def receive(self) -> None:
        self.say("identification", marking=self.mounting.bearing.designation, package="intact")
        self.say(
            "preparation", edge_burrs="removed", shoulder_burrs="none", fillet="clears the ring", wiped="yes",
            gear_ready="yes", zone="yes",
        )  # fmt: skip

    @kept
    def measure(self, shaft_c: str = "20", readings: Mapping[str, tuple[str, ...]] = JOURNAL_UM) -> None:
        nominal = self.mounting.journal.requirements.get().document["nominal_mm"]
        unit = f"um from {nominal} mm"
        places = {
            f"journal__{plane}__{direction}": (text, unit)
            for plane, texts in readings.items()
            for direction, text in zip(("0", "60", "120"), texts, strict=False)
        }
        gear = self.shop.gear
        self.say(
            "measurement", gauge=str(gear["micrometer"].id), master=str(gear["master"].id),
            master_before=("0", "um"), thermometer=str(gear["thermometer"].id), shaft=(shaft_c, "°C"),
            bearing=(shaft_c, "°C"), gauge_temp=(shaft_c, "°C"), air=(shaft_c, "°C"), **places,
        )  # fmt: skip

    @kept
    def bore(self, deviation_um: str = "-6") -> None:
        nominal = self.mounting.journal.requirements.get().document["nominal_mm"]
        unit = f"um from {nominal} mm"
        places = {f"bore__{plane}__{at}": (deviation_um, unit) for plane in "AB" for at in ("0", "60", "120")}
        self.say("bore", source="measured", gauge=str(self.shop.gear["bore_gauge"].id), **places)

    @kept
    def heat(self, peak_c: str = "95", carry_s: float = 16, press_s: float = 60, **named: str) -> None:
        """`named`: the leaf of the release that heat relies on, or the code read back."""
        self.say(
            "heating", heater=str(self.shop.gear["heater"].id), setup="on the core leg", probe="inner ring",
        )  # fmt: skip
        self.tap("heater on", **named)
        self.tap("lifted off", after_s=240)
        self.tap("home", after_s=carry_s - 10)
        self.tap("let go", after_s=press_s - 10)
        self.say("heating", peak=(peak_c, "°C"))
        self.say(
            "demagnetisation", cycle="done", field=("0.9", "A/cm"), where="ring edge",
            meter=str(self.shop.gear["meter"].id),
        )  # fmt: skip

    @kept
    def check_cold(self, **gaps: str) -> None:
        self.say(
            "seating", film="thin oil", went_home="in one move", dropped="no", hammered="no", held_by="hand"
        )
        felt = {f"gap__{at}": (gaps.get(f"at_{at}", "0"), "mm") for at in ("0", "90", "180", "270")}
        self.say(
            "shoulder_gap", feeler=str(self.shop.gear["feeler"].id), ring_temp=("21", "°C"),
            shaft_temp=("20", "°C"), **felt,
        )  # fmt: skip

    @kept
    def close(self) -> None:
        self.say("running", turns="smooth")
        self.say("protection", covered="yes")

    @kept
    def own_reading(self, who: str = "inspector") -> None:
        self.say("identification", who=who, check=True, marking=self.mounting.bearing.designation)

    @kept
    def photograph(self, *shots: str) -> None:
        """Take the wanted photos, each another drawing."""
        from qrecords.evidence.intake import take_in
        from tests.drawing import small_jpeg

        wanted = shots or tuple(shot["id"] for shot in STANDARD["photos"])
        for shot in wanted:
            taken = take_in([small_jpeg(f"{self.mounting.id} {shot}")])
            forget_pictures(taken.sha256)
            announce_file(
                acting=self.shop.acting("fitter"), mounting=self.mounting, entry_id=new_id(), shot=shot,
                sha256=taken.sha256, size=taken.size, media=taken.photo.media, camera=True,
            )  # fmt: skip
            receive_file(acting=self.shop.acting("fitter"), mounting=self.mounting, taken=taken)

    @kept
    def whole(self) -> None:
        """A sound job from opening to sign-off."""
        self.until_signature()
        self.sign()

    @kept
    def until_signature(self) -> None:
        """A sound job from opening to *ready*; the inspector read the ring before he released it."""
        self.receive()
        self.measure()
        self.bore()
        self.photograph(*SEEN_BEFORE_HEAT)
        released = self.release("fit")
        self.heat(release=self.leaf(released))
        self.check_cold()
        self.photograph(*SEEN_COLD)
        self.release("cold")
        self.close()
        self.ready()


def _pair(value: Any) -> tuple[str, str]:
    return value if isinstance(value, tuple) else (str(value), "")


@kept
def start(shop: Workshop, position: str = "DE", **changes: Any) -> Job:
    """Register a machine, journal and bearing, and open the mounting."""
    document = {**REQUIREMENT, **changes}
    acting = shop.acting("fitter")
    machine = workshop.register_machine(
        acting=acting, site=shop.site, machine_id=new_id(), name="Quarry pump 3", owner="Greyhallow quarry"
    )
    rebuild = workshop.open_rebuild(acting=acting, rebuild_id=new_id(), machine=machine, work_order="WO-1001")
    return again(shop, machine, rebuild, position, document)


def again(
    shop: Workshop,
    machine: Machine,
    rebuild: Rebuild,
    position: str,
    document: Mapping[str, Any],
    who: str = "fitter",
) -> Job:
    """Another journal of the same machine and rebuild."""
    acting = shop.acting(who)
    journal = workshop.register_journal(
        acting=acting, journal_id=new_id(), machine=machine, shaft="1", position=position
    )
    workshop.require_of_journal(acting=acting, requirement_id=new_id(), journal=journal, document=document)
    bearing = workshop.register_bearing(
        acting=acting, site=shop.site, bearing_id=new_id(), designation=document["designation"], lot="L-77"
    )
    mounting = open_mounting(
        acting=shop.acting(who), mounting_id=new_id(), journal=journal, bearing=bearing, rebuild=rebuild
    )
    return Job(shop, mounting, machine, journal, rebuild, bearing)
