"""One sound mounting from receiving the bearing to its cover, as the record hears of it."""

import random
from datetime import timedelta
from typing import Any

from qrecords.engineering import heating as model
from qrecords.engineering.cooling import Ring, mass_estimate
from qrecords.steps.fit import heating_plan
from qrecords.steps.heating import difference_allowed
from qrecords.steps.requirement import Requirement
from qrecords.steps.seating import needed_ms
from qrecords.steps.shoulder_gap import wanted_angles
from tests.everyday.heater_log import heater_log
from tests.everyday.shop import Fitter, Sort, gauge
from tests.everyday.truth import Points, Truth, draw, read
from tests.steps.casebook import Book

BLADE_UM, FELT_UM = 5.0, 2.0
"""Clearances are felt to 5 µm by laying blades together, and felt a little wrong."""
TEMPERATURE_U_K = 1.0
"""Half of a thermometer's U = 2 K."""
POWER_W = 8000
"""Rated power of the heater."""


class NotToBeHeatedError(Exception):
    """The plan says that this pair cannot go together under its ceiling: a sound fitter takes another."""


class Mounting:
    """A mounting of one sort by one fitter; `book` is its record."""

    def __init__(self, seed: int, sort: Sort, fitter: Fitter, inch: bool, cp: float) -> None:
        self.dice = random.Random(seed)
        self.sort, self.fitter, self.inch = sort, fitter, inch
        self.book = Book(requirement=sort.requirement())
        self.asked: Requirement = self.book.case().requirement
        zone = self.asked.journal.upper_nm - self.asked.journal.lower_nm
        bore_zone = self.asked.bore.upper_nm - self.asked.bore.lower_nm
        self.book.gear["micrometer"] |= gauge(inch, zone, fitter.data_output)
        self.book.gear["bore_gauge"] |= gauge(inch, bore_zone, fitter.data_output)
        self.book.gear["heater"] |= {"power_w": POWER_W}
        sizes = float(sort.bore_mm), float(sort.outside_mm), float(sort.width_mm)
        self._mass_kg = mass_estimate(Ring(*sizes)).value * self.dice.uniform(0.9, 1.1)
        self.truth: Truth = draw(self.dice, self.asked, cp)
        self.thermometer_k = self.dice.gauss(0, TEMPERATURE_U_K)

    def receive_and_measure(self) -> None:
        self._receive()
        self._measure()
        self._bore()

    def whole(self) -> Book:
        self.receive_and_measure()
        self._clearance("clearance_before", "g0", self.truth.g0_um)
        released = self.book.release("fit")
        self._heat(released.leaf)
        self._cold()
        return self.book

    def _wait(self, least_s: float, most_s: float) -> None:
        self.book.now += timedelta(seconds=self.dice.uniform(least_s, most_s))

    def _celsius(self, true_c: float) -> tuple[str, str]:
        """As the thermometer of the day shows it; an inch shop reads °F."""
        shown = true_c + self.thermometer_k + self.dice.gauss(0, 0.15)
        return (f"{shown * 1.8 + 32:.1f}", "°F") if self.inch else (f"{shown:.1f}", "°C")

    def _receive(self) -> None:
        say = self.book.say
        say("identification", marking=self.asked.designation, package="intact", serial="0417",
            lot="L-77", date_code="FR26")  # fmt: skip
        burrs = self.dice.choice(("none", "removed"))
        say("preparation", edge_burrs=burrs, shoulder_burrs="none", fillet="clears the ring", wiped="yes",
            gear_ready="yes", zone="yes")  # fmt: skip
        self.book.photograph("marking", "package", "seat")

    def _measure(self) -> None:
        truth = self.truth
        first: dict[str, Any] = {"noted_first": "yes"} if self.fitter.noted_first else {}
        off = ("0", "in") if self.inch else ("0", "um")
        self.book.say(
            "measurement", gauge="micrometer", master="master", master_before=off, thermometer="thermometer",
            shaft=self._celsius(truth.shaft_c), bearing=self._celsius(truth.bearing_c),
            gauge_temp=self._celsius(truth.gauge_c), air=self._celsius(truth.air_c), **first,
        )  # fmt: skip
        kind = self.book.gear["micrometer"]
        self._readings("measurement", "journal", truth.journal, truth.shaft_c, kind)
        self.book.photograph("micrometer")
        self.book.say("measurement", master_after=off)

    def _readings(self, step: str, head: str, points: Points, part_c: float, kind: dict[str, Any]) -> None:
        """Plane by plane, each its own capture after the seconds its readings took."""
        bias_um = self.dice.gauss(0, kind["expanded_u"] / 2000)
        nominal = float(self.asked.nominal_mm)
        for plane in dict.fromkeys(plane for plane, _ in points):
            given: dict[str, Any] = {}
            for name, way in points:
                if name != plane:
                    continue
                self.book.now += timedelta(seconds=max(1.0, self.dice.gauss(*self.fitter.reading_s)))
                warmth = part_c, self.truth.gauge_c
                seen_nm = read(self.dice, points[name, way], nominal, *warmth, kind, bias_um)
                given[f"{head}__{plane}__{way}"] = self._typed(seen_nm)
            self.book.say(step, **given)

    def _typed(self, nm: int) -> tuple[str, str]:
        if self.inch:
            return f"{(float(self.asked.nominal_mm) + nm / 1e6) / 25.4:.5f}", "in"
        return f"{round(nm / 1000)}", f"um from {self.asked.document['nominal_mm']} mm"

    def _bore(self) -> None:
        # Under a low ceiling the class's worst bore asks for more heat than there may be: it is measured.
        if self.dice.random() < 0.5 and not self.asked.kinds:
            self.book.say("bore", source="from class")
            return
        self.book.say("bore", source="measured", gauge="bore_gauge")
        self._readings("bore", "bore", self.truth.bore, self.truth.bearing_c, self.book.gear["bore_gauge"])

    def _clearance(self, step: str, field: str, true_um: float) -> None:
        if self.sort.roller:
            felt = round((true_um + self.dice.gauss(0, FELT_UM)) / BLADE_UM) * BLADE_UM
            given: dict[str, Any] = {field: (f"{max(felt, 0):.0f}", "um")}
            self.book.say(step, method="feeler", **given)

    def _heat(self, leaf: str) -> None:
        plan = heating_plan(self.book.case())
        if not isinstance(plan, model.Plan):
            raise NotToBeHeatedError(str(plan))
        dice, say, tap = self.dice, self.book.say, self.book.tap
        setup = dice.choice(("on the core leg", "on a crossbar through the bore"))
        say("heating", heater="heater", setup=setup, probe="inner ring")
        self.book.photograph("probe")
        tap("heater on", release=leaf)
        heated_s = self._heated_s(plan.set_c)
        tap("lifted off", after_s=heated_s)
        tap("home", after_s=dice.uniform(5, 25))
        # The heater stops at what it was set to, give or take a kelvin.
        peak = plan.set_c + dice.gauss(0, 0.6)
        say("heating", peak=self._hot(peak))
        if self.fitter.logs:
            text = heater_log(dice, self.truth.bearing_c, peak, heated_s, self.inch)
            self.book.log(text, columns={"inner ring": 2, "outer ring": 3})
        needed = needed_ms(self.book.case())
        assert needed
        tap("let go", after_s=needed[0] / 1000 * dice.uniform(*self.fitter.presses))
        allowed = difference_allowed(self.book.case())
        if allowed and dice.random() < 0.5:
            behind = min(allowed[0].value * dice.uniform(0.2, 0.8), (peak - self.truth.air_c) * 0.4)
            say("heating", peak_outer=self._hot(peak - behind))

    def _heated_s(self, set_c: float) -> float:
        """As long as the heater's power takes, of which a third to a half reaches the ring."""
        joules = self._mass_kg * 460 * (set_c - self.truth.bearing_c)
        return joules / (POWER_W * self.dice.uniform(0.33, 0.5)) + self.dice.uniform(20, 60)

    def _hot(self, true_c: float) -> tuple[str, str]:
        return (f"{true_c * 1.8 + 32:.0f}", "°F") if self.inch else (f"{true_c:.0f}", "°C")

    def _cold(self) -> None:
        dice, say, truth = self.dice, self.book.say, self.truth
        field = max(0.1, min(1.6, dice.gauss(0.8, 0.3)))
        say("demagnetisation", cycle="done", field=(f"{field:.1f}", "A/cm"), where="ring edge", meter="meter")
        say("seating", film=dice.choice(("thin oil", "anti-fretting paste")), went_home="in one move",
            dropped="no", hammered="no", held_by="hand")  # fmt: skip
        self._wait(2000, 6000)
        gaps: dict[str, Any] = {f"gap__{at}": ("0", "mm") for at in wanted_angles(self.book.case())}
        warm = dice.uniform(0, 3)
        say("shoulder_gap", feeler="feeler", ring_temp=self._celsius(truth.shaft_c + warm),
            shaft_temp=self._celsius(truth.shaft_c), **gaps)  # fmt: skip
        self._clearance("clearance_after", "g1", truth.g1_um)
        self.book.photograph("held", "blade", "covered")
        self.book.release("cold")
        say("running", turns="smooth")
        say("protection", covered="yes")
        say("identification", author="inspector", check=True, marking=self.asked.designation)
        other = Mounting(self.dice.randrange(10**9), self.sort, self.fitter, self.inch, 1.0)
        self.book.look_elsewhere(other_end=other.digits())

    def digits(self) -> list[int]:
        """What this fitter would read of another journal of the kind, as the other end's record has it."""
        truth, kind = self.truth, self.book.gear["micrometer"]
        self._readings("measurement", "journal", truth.journal, truth.shaft_c, kind)
        return [answered.base for answered in self.book.case().many("measurement", "journal")]
