"""Walking through one mounting as its people do: the same actions, one after another, at their times."""

import uuid
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any, Self

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import ZONE, Hall
from qrecords.demo.orders import Place, open_at, take_delivery, take_order, take_place
from qrecords.demo.said import Said, given
from qrecords.demo.sheet import ANGLES, MINUTES, Sheet
from qrecords.evidence.intake import take_in, take_in_log
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions.attaching import announce_file, hand_in_log, receive_file
from qrecords.mountings.actions.finishing import ready
from qrecords.mountings.actions.recording import record
from qrecords.mountings.actions.tapping import tap
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.acting import PROVED, SESSION, Acting
from qrecords.signoff import actions as signoff
from qrecords.steps.acts import LogSaid
from qrecords.steps.granting import NOTHING, Saying
from qrecords.steps.shown import Extent, shown_now
from qrecords.steps.telephone import answer_code, readings_code, readings_of

ON_THE_ROAD = timedelta(seconds=1)
"""From the device's tap to the server's receipt."""
PACE = timedelta(seconds=24)
"""From one act to the next where the sheet names no moment."""


class Walk:
    """One mounting on its way, with its sheet and the hall's clock."""

    def __init__(self, hall: Hall, sheet: Sheet, mounting: Mounting, clock: datetime) -> None:
        self.hall, self.sheet, self.mounting, self.clock = hall, sheet, mounting, clock
        self.release_leaf = ""
        self.code = ""

    @classmethod
    def begin(cls, hall: Hall, sheet: Sheet, *, procedure: str = "") -> Self:
        """Register the order and open its mounting; under the hall's own procedure where none is named."""
        acting = _first(hall, sheet)
        mounting = open_at(acting, take_order(hall, acting, sheet), procedure)
        return cls(hall, sheet, mounting, sheet.moment(0))

    def other_end(self, sheet: Sheet) -> Self:
        """The other end of the same shaft, in the same rebuild."""
        acting = _first(self.hall, sheet)
        place = take_place(self.hall, acting, sheet, self.mounting.rebuild)
        return type(self)(self.hall, sheet, open_at(acting, place), sheet.moment(0))

    def once_more(self, sheet: Sheet, *, another_bearing: bool) -> Self:
        """A second mounting of the same journal, with the same bearing or another one."""
        acting = _first(self.hall, sheet)
        place = Place.of(self.mounting)
        if another_bearing:
            place = replace(place, bearing=take_delivery(self.hall, acting, sheet))
        return type(self)(self.hall, sheet, open_at(acting, place), sheet.moment(0))

    def acting(self, who: str, *, at: datetime | None = None, proved: bool = False) -> Acting:
        self.clock = at or self.clock + PACE
        return Acting(
            author=self.hall.people[who],
            now=self.clock + ON_THE_ROAD,
            at_device=self.clock,
            identity=PROVED if proved else SESSION,
            zone=ZONE,
        )

    def wait_until(self, minutes: float) -> None:
        """The work goes on so many minutes after it was begun; time never runs backwards."""
        self.clock = max(self.clock, self.sheet.moment(minutes))

    def change(self, **changes: Any) -> None:
        """From here on the sheet says something else."""
        self.sheet = replace(self.sheet, **changes)

    def say(
        self,
        step: str,
        said: Mapping[str, Said],
        *,
        who: str = "",
        check: bool = False,
        reason: str = "",
        at: datetime | None = None,
    ) -> None:
        record(
            acting=self.acting(who or self.sheet.fitter, at=at),
            mounting=self.mounting,
            entry_id=new_id(),
            step_id=step,
            given=given(said),
            check=check,
            reason=reason,
        )

    def photograph(self, *shots: str) -> None:
        for shot in shots:
            self.keep(shot, self.sheet.picture(shot))

    def keep(self, shot: str, picture: Drawing) -> None:
        """Announce a photo and send it."""
        taken = take_in([self.hall.darkroom.develop(picture)])
        acting = self.acting(self.sheet.fitter)
        announce_file(
            acting=acting,
            mounting=self.mounting,
            entry_id=new_id(),
            shot=shot,
            sha256=taken.sha256,
            size=taken.size,
            media=taken.photo.media,
            camera=True,
        )
        receive_file(acting=acting, mounting=self.mounting, taken=taken)

    def hand_in_log(self, content: bytes) -> None:
        """The file that the heater wrote: first column the inner ring, second the outer."""
        taken = take_in_log([content])
        acting = self.acting(self.sheet.fitter)
        hand_in_log(
            acting=acting,
            mounting=self.mounting,
            entry_id=new_id(),
            sha256=taken.sha256,
            size=taken.size,
            media=taken.photo.media,
            said=LogSaid({"inner ring": 2, "outer ring": 3}),
        )
        receive_file(acting=acting, mounting=self.mounting, taken=taken)

    def receive(self, zone: Said = "yes") -> None:
        """What the ring says, and that everything is clean and at hand."""
        marks = {"serial": self.sheet.serial, "lot": self.sheet.lot, "date_code": self.sheet.date_code}
        self.wait_until(MINUTES["package"])
        self.say(
            "identification",
            {"marking": self.sheet.designation, "package": "intact"} | {k: v for k, v in marks.items() if v},
        )
        self.wait_until(MINUTES["marking"] + 1)
        self.photograph("package", "marking")
        self.wait_until(MINUTES["seat"] + 1)
        self.photograph("seat")
        self.say(
            "preparation",
            {
                "edge_burrs": "removed",
                "shoulder_burrs": "none",
                "fillet": "clears the ring",
                "wiped": "yes",
                "gear_ready": "yes",
                "zone": zone,
            },
        )

    def temperatures(self) -> dict[str, Said]:
        sheet = self.sheet
        gauge = (sheet.gauge_c or sheet.shaft_c, "°C")
        return {
            "shaft": (sheet.shaft_c, "°C"),
            "bearing": gauge,
            "gauge_temp": gauge,
            "master_temp": gauge,
            "air": (sheet.air_c, "°C"),
        }

    def set_up_gauge(self) -> dict[str, Said]:
        fits, sheet = self.hall.fits, self.sheet
        own = self.hall.named(sheet.micrometer) if sheet.micrometer else ""
        return {
            "gauge": own or fits("outside micrometer", sheet.nominal_mm),
            "master": self.hall.named("SM-31"),
            "master_before": ("0", "um"),
            "thermometer": self.hall.named("TH-14"),
        }

    def journal(self) -> dict[str, Said]:
        return {f"journal.{place}": (text, "mm") for place, text in self.sheet.readings().items()}

    def measure(self) -> None:
        """The journal, with gauge, master and temperatures, and the photo of the display."""
        self.wait_until(MINUTES["micrometer"] - 8)
        self.say("measurement", self.set_up_gauge() | self.temperatures())
        self.wait_until(MINUTES["micrometer"] + 2)
        self.say("measurement", {**self.journal(), "master_after": ("0", "um")})
        self.photograph("micrometer")

    def begin_measuring(self) -> None:
        """The readings taken so far; the rest is to come."""
        self.wait_until(MINUTES["micrometer"] - 8)
        self.say("measurement", self.set_up_gauge() | self.temperatures())
        self.say("measurement", self.journal())

    def measure_again(self, reason: str, *, who: str = "", check: bool = False) -> None:
        """Another set of readings in place of the first, which stays readable."""
        said = self.temperatures() | self.journal()
        self.say("measurement", said, who=who, check=check, reason=reason)

    def measure_bearing(self) -> None:
        """The bore, and the clearance before the fit where a feeler reaches it."""
        unit = f"um from {self.sheet.nominal_mm} mm"
        bores: dict[str, Said] = {key: (text, unit) for key, text in self.sheet.bores().items()}
        gauge = self.hall.fits("bore gauge", self.sheet.nominal_mm)
        master = self.hall.named("SM-31")
        self.say("bore", {"source": "measured", "gauge": gauge, "master": master} | bores)
        if self.sheet.g0:
            self.say_clearance()

    def say_clearance(self, reason: str = "") -> None:
        self.say("clearance_before", {"g0": (self.sheet.g0, "um")} | self.found_by(), reason=reason)

    def found_by(self) -> dict[str, Said]:
        """Blades between rollers and ring; a dial on the outer ring of balls, where no blade fits."""
        if self.sheet.inside == "balls":
            return {"gauge": self.hall.named("DI-05"), "method": "dial indicator"}
        return {"gauge": self.hall.named("FG-07"), "method": "feeler"}

    def release(self, hold: str, who: str = "delacour") -> None:
        """Before heat the inspector reads the ring himself."""
        if hold == "fit":
            self.read_marking(who)
        entry = signoff.release(
            acting=self.acting(who),
            mounting=self.mounting,
            entry_id=new_id(),
            hold=hold,
            shown=self._shown(),
        )
        if hold == "fit":
            self.release_leaf, self.code = self._leaf(entry.id), ""

    def release_by_telephone(self, who: str) -> None:
        """The fitter reads out the code; the inspector enters it and reads back the one of his release."""
        case = judged_now(self.mounting).case
        readings = readings_of(case)
        entry = signoff.release_by_telephone(
            acting=self.acting(who),
            mounting=self.mounting,
            entry_id=new_id(),
            code=readings_code(case.mounting, readings),
            lowest_nm=min(readings.values()),
            highest_nm=max(readings.values()),
        )
        self.code = answer_code(self._leaf(entry.id))

    def _shown(self) -> Extent:
        """The whole record, as a page shows it."""
        return shown_now(case_of(self.mounting))

    def _leaf(self, entry: uuid.UUID) -> str:
        return next(said.leaf for said in entries_of(self.mounting.id) if said.id == entry)

    def tap(self, what: str, at: datetime, **names: Any) -> None:
        acting = self.acting(self.sheet.fitter, at=at)
        tap(acting=acting, mounting=self.mounting, entry_id=new_id(), what=what, **names)

    def set_up_heater(self) -> None:
        said: dict[str, Said] = {
            "heater": self.hall.named(self.sheet.heater),
            "setup": self.sheet.setup,
            "probe": self.sheet.probe,
        }
        if self.sheet.set_to:
            said["set_to"] = (self.sheet.set_to, "°C")
        self.say("heating", said)

    def heat(self, from_minutes: float = 190) -> None:
        """Heater on, naming the release; lifted off after ten minutes."""
        on = self.sheet.moment(from_minutes)
        self.tap("heater on", on, **({"code": self.code} if self.code else {"release": self.release_leaf}))
        self.tap("lifted off", on + timedelta(minutes=10))

    def press_home(self) -> None:
        home = self.clock + timedelta(seconds=self.sheet.carried_s)
        self.tap("home", home)
        self.tap("let go", home + timedelta(seconds=self.sheet.pressed_s))

    def say_peak(self, *, cycle: bool = True) -> None:
        """What nobody types while the ring is hot."""
        hot = {"peak": self.sheet.peak, "peak_outer": self.sheet.outer, "cross_check": self.sheet.cross_check}
        self.wait_until(MINUTES["probe"] + 9)
        self.say("heating", {key: (text, "°C") for key, text in hot.items() if text})
        if cycle and self.sheet.heater != "OV-1":
            self.say("demagnetisation", {"cycle": "done"})
        self.photograph("probe")

    def mount(self) -> None:
        """Heat, carry, press home, and say afterwards how it went."""
        self.set_up_heater()
        self.heat()
        self.press_home()
        self.say_peak()
        if self.sheet.held_by == "nut":
            self.photograph("held")

    def check_cold(self, reason: str = "") -> None:
        """Cold again: how it was seated, the gap by angles, the field, the clearance found."""
        sheet = self.sheet
        self.wait_until(MINUTES["blade"] - 4)
        self.say(
            "seating",
            {
                "film": "thin oil",
                "went_home": "in one move",
                "dropped": "no",
                "hammered": "no",
                "held_by": sheet.held_by,
            },
        )
        gaps: dict[str, Said] = {
            f"gap.{angle}": (gap, "mm") for angle, gap in zip(ANGLES, sheet.gaps, strict=True)
        }
        cold: dict[str, Said] = {
            "feeler": self.hall.named("FG-07"),
            "ring_temp": (str(int(sheet.air_c) + 2), "°C"),
            "shaft_temp": (sheet.air_c, "°C"),
        }
        self.say("shoulder_gap", cold | gaps)
        self.photograph("blade")
        if sheet.heater != "OV-1":
            self.say_field(reason)
        if sheet.g1:
            self.say("clearance_after", {"g1": (sheet.g1, "um")} | self.found_by())

    def say_field(self, reason: str = "") -> None:
        meter = self.hall.named("FM-03")
        said: dict[str, Said] = {"field": (self.sheet.field, "A/cm"), "where": "ring edge", "meter": meter}
        self.say("demagnetisation", said, reason=reason)

    def close(self) -> None:
        """Turned by hand and covered; the fitter signs what was performed."""
        self.wait_until(MINUTES["covered"] - 2)
        self.say("running", {"turns": "smooth"})
        self.say("protection", {"covered": "yes", "wrap": "film and tape"})
        self.photograph("covered")
        ready(
            acting=self.acting(self.sheet.fitter, proved=True),
            mounting=self.mounting,
            entry_id=new_id(),
            shown=self._shown(),
        )

    def decide(
        self, who: str, kind: str, characteristics: tuple[str, ...], reason: str, *said: str | Saying
    ) -> None:
        """One decision about findings with one cause; `said` are its conditions and what else it names."""
        standing = {finding.characteristic: finding.digest for finding in judged_now(self.mounting).findings}
        signoff.decide(
            acting=self.acting(who, proved=True),
            mounting=self.mounting,
            entry_id=new_id(),
            kind=kind,
            digests=[standing[name] for name in characteristics],
            reason=reason,
            conditions="".join(each for each in said if isinstance(each, str)),
            saying=next((each for each in said if isinstance(each, Saying)), NOTHING),
        )

    def read_marking(self, who: str) -> None:
        """The inspector's own reading of the ring, once."""
        if "identification" in case_of(self.mounting).checks:
            return
        self.say("identification", {"marking": self.sheet.designation}, who=who, check=True)

    def sign(self, who: str = "delacour") -> None:
        """The next hour the inspector signs what he was shown; the ring he reads himself, if none has yet."""
        self.wait_until(MINUTES["covered"] + 60)
        self.read_marking(who)
        signoff.sign(
            acting=self.acting(who, proved=True),
            mounting=self.mounting,
            entry_id=new_id(),
            shown=self._shown(),
        )

    def before_heat(self, zone: Said = "yes") -> None:
        """Everything up to the hold point."""
        self.receive(zone)
        self.measure()
        self.measure_bearing()

    def after_heat(self, inspector: str = "delacour") -> None:
        """From the cold check to the fitter's signature, with the cold hold released between."""
        self.check_cold()
        self.release("cold", inspector)
        self.close()


def _first(hall: Hall, sheet: Sheet) -> Acting:
    """The fitter's first act on this sheet."""
    at = sheet.moment(0)
    return Acting(author=hall.people[sheet.fitter], now=at + ON_THE_ROAD, at_device=at, zone=ZONE)
