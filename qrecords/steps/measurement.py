"""Measuring the journal: raw readings by plane and direction, with gauge, master and temperatures."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from qrecords.engineering import measurement as metrology
from qrecords.engineering.materials import ALPHA_SHAFT, REFERENCE_C
from qrecords.engineering.result import Result
from qrecords.steps.case import Answered, Case, once_a_case
from qrecords.steps.chosen_rows import OF_FORM, OF_GAUGE, OF_LOST, OF_SIZE
from qrecords.steps.fields import Choice, Field, Gear, Quantity
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.form_limits import form_limit
from qrecords.steps.gauges import STEP_ID, dated, fine_enough, master_off, on_master, shift_off
from qrecords.steps.gear import GearRecord
from qrecords.steps.rules import ENGINEER, Rule, Stage, absent, entries, said_absent, standing
from qrecords.steps.step import Step

LENGTHS = ("mm", "um", "in")
TEMPERATURES = ("°C", "°F")
HOUSE_U_T_MK = 1000
"""u of a temperature where no thermometer is named: U = 2 K (house rule)."""
NARROW_SEAT_MM = 30
"""Below this width two planes by two directions are enough (common practice, no source)."""

_ROOM = Quantity("temperature", TEMPERATURES, 0, 45_000)
_ALONG = Quantity("length", LENGTHS, 0, 2_000_000_000)
ACROSS = Quantity("length", LENGTHS, 1_000_000, 2_000_000_000)
PLACE = r"[A-Z]\.(?:0|[1-9][0-9]?|1[0-7][0-9])(\.[1-9][0-9]?)?"
"""Plane, direction in degrees, and the number of a repeat: `A.60.2`."""
WARMTHS = ("air", "shaft", "bearing", "gauge_temp", "master_temp")
_OFF_MASTER = Quantity("length", LENGTHS, -20_000, 20_000)


@dataclass(frozen=True)
class Point:
    """One place on seat or bore: its repeats averaged, brought to 20 °C, as deviation from nominal."""

    plane: str
    direction: str
    deviation_nm: int
    typed: str
    repeats: int
    correction_nm: int


@dataclass(frozen=True)
class Measured:
    """All points of one surface with their common standard uncertainty (None: the gauge proves none)."""

    points: tuple[Point, ...]
    u_nm: int | None
    gauge_u_nm: int | None
    rests: tuple[str, ...]
    """The entries it rests on: readings, gauge, temperatures."""
    working: Result | None

    def planes(self) -> list[list[int]]:
        names = list(dict.fromkeys(point.plane for point in self.points))
        return [[p.deviation_nm for p in self.points if p.plane == name] for name in names]

    @property
    def mean_nm(self) -> int:
        return round(sum(point.deviation_nm for point in self.points) / len(self.points))


def wanted_places(case: Case) -> list[tuple[str, str]]:
    """Planes × directions of the procedure; two by two on a narrow seat."""
    planes, directions = case.procedure.planes, case.procedure.directions
    if case.requirement.seat_width_mm < NARROW_SEAT_MM:
        planes, directions = planes[:2], directions[:2]
    return [(plane, direction) for plane in planes for direction in directions]


@dataclass(frozen=True)
class Warmth:
    """Temperatures of a part and of what its gauge was set on, and how much the part grows per kelvin."""

    part_c: float
    gauge_c: float
    part_alpha: float


def points_of(answers: Sequence[Answered], nominal_nm: int, warmth: Warmth) -> list[Point]:
    """Repeats of one point are averaged, different points never; each is brought to 20 °C exactly."""
    places: dict[tuple[str, str], list[Answered]] = {}
    for answered in answers:
        _, plane, direction = answered.key.split(".")[:3]
        places.setdefault((plane, direction), []).append(answered)
    found = []
    for (plane, direction), repeats in places.items():
        raw = round(sum(answered.base for answered in repeats) / len(repeats))
        at_20_mm = metrology.length_at_20(raw / 1_000_000, warmth.part_c, warmth.gauge_c, warmth.part_alpha)
        exact = round(at_20_mm * 1_000_000)
        typed = " · ".join(str(answered.answer.typed) for answered in repeats)  # type: ignore[union-attr]
        found.append(Point(plane, direction, exact - nominal_nm, typed, len(repeats), exact - raw))
    return found


@once_a_case
def temperature_u_mk(case: Case) -> int:
    """u of one temperature: the named thermometer's, else the house's U = 2 K."""
    thermometer = case.gear(STEP_ID, "thermometer")
    if thermometer is None or thermometer.standard_u is None:
        return HOUSE_U_T_MK
    return thermometer.standard_u


def uncertainty(
    case: Case, gauge: GearRecord | None, repeats: int, part_alpha: float = ALPHA_SHAFT
) -> tuple[int | None, Result | None]:
    """u of a reading in nm, rounded up: gauge, temperature of part and of gauge (ruling 1)."""
    if gauge is None or gauge.expanded_u is None:
        return None, None
    own = metrology.gauge_uncertainty(
        gauge.expanded_u / 1000,
        gauge.resolution / 1000,
        gauge.repeatability / 1000,
        repeats,
        gauge.resolution_in_u,
        gauge.error_u / 1000,
    )
    u_t = temperature_u_mk(case) / 1000
    whole = metrology.reading_uncertainty(own.value, float(case.requirement.nominal_mm), u_t, u_t, part_alpha)
    return -int(-whole.value * 1000 // 1), whole


def celsius(case: Case, key: str) -> float | None:
    found = case.value_of(STEP_ID, key)
    return found.base / 1000 if found else None


def gauge_set_c(case: Case, step: str) -> float | None:
    """The temperature a reading's gauge counts with: that of the master where it was set on one (ruling 3),
    which is the gauge's own unless it was said to differ."""
    set_on_master = case.value_of(step, "master") is not None
    own = celsius(case, "master_temp") if set_on_master else None
    return celsius(case, "gauge_temp") if own is None else own


def measured(case: Case, step: str, head: str, part: str, part_alpha: float) -> Measured | None:
    """What was measured of a surface, with `part` naming whose temperature it had; None without readings."""
    answers = [a for a in case.many(step, head) if case.value_of(step, a.key)]
    if not answers:
        return None
    part_c, gauge_c = celsius(case, part), gauge_set_c(case, step)
    if part_c is None or gauge_c is None:
        part_c = gauge_c = REFERENCE_C  # uncorrected; the set is not proven without its temperatures
    points = points_of(answers, case.requirement.nominal_nm, Warmth(part_c, gauge_c, part_alpha))
    gauge = case.gear(step, "gauge")
    fewest = min(point.repeats for point in points)
    u_nm, working = uncertainty(case, gauge, fewest, part_alpha)
    own = gauge.standard_u if gauge else None
    rests = [*case.many(step, head), *standing(case, step, "gauge", "master"), *temperatures(case)]
    return Measured(tuple(points), u_nm, own, entries(rests), working)


@once_a_case
def journal(case: Case) -> Measured | None:
    return measured(case, STEP_ID, "journal", "shaft", ALPHA_SHAFT)


@once_a_case
def temperatures(case: Case) -> tuple[Answered, ...]:
    """What the temperatures of the set, and their u, rest on."""
    return tuple(standing(case, STEP_ID, "shaft", "bearing", "gauge_temp", "master_temp", "thermometer"))


def spread_mk(case: Case) -> int | None:
    """Largest difference among shaft, bearing, gauge and master; None while one of them is not known."""
    keys = ("shaft", "bearing", "gauge_temp")
    known = [case.value_of(STEP_ID, key) for key in keys]
    if any(found is None for found in known):
        return None
    master = case.value_of(STEP_ID, "master_temp")
    bases = [found.base for found in [*known, master] if found is not None]
    return max(bases) - min(bases)


def temperature_doubt(case: Case) -> str:
    """Why readings prove nothing by their temperatures, as a message ending; empty if they may be judged."""
    spread = spread_mk(case)
    if spread is None:
        return "temperatures-unknown"
    if spread > case.procedure.spread_limit_mk:
        return "not-one-temperature"
    return ""


@once_a_case
def set_rests(case: Case) -> tuple[Answered, ...]:
    """What else than its readings decides whether a set of journal readings may be judged."""
    return (*standing(case, STEP_ID, "master_before", "master_after", "gauge"), *temperatures(case))


@once_a_case
def set_doubt(case: Case) -> str:
    """Why the whole set of journal readings proves nothing, as a message ending; else empty."""
    off = (
        f"{key.replace('_', '-')}-off" for key in ("master_before", "master_after") if master_off(case, key)
    )
    return temperature_doubt(case) or next(off, "master-after-off" if shift_off(case) else "")


def _one_temperature(rule: Rule, case: Case) -> list[Finding]:
    for key in ("shaft", "bearing", "gauge_temp"):
        if case.value_of(STEP_ID, key) is None:
            return absent(rule, case, STEP_ID, key, "one temperature", temperatures(case))
    spread = spread_mk(case)
    assert spread is not None  # noqa: S101 - every temperature was just found
    limit = case.procedure.spread_limit_mk
    verdict = Verdict.CONFORMING if spread <= limit else Verdict.NOT_PROVEN
    inputs = standing(case, STEP_ID, "shaft", "bearing", "gauge_temp", "master_temp")
    finding = rule.finding("one temperature", verdict, inputs=inputs, spread_mk=spread, limit_mk=limit)
    return [replace(finding, unit="mK", value=spread, upper=limit)]


def worst_verdict(verdicts: Sequence[str]) -> Verdict:
    for verdict in (Verdict.NONCONFORMING, Verdict.NOT_PROVEN):
        if verdict.value in verdicts:
            return verdict
    return Verdict.CONFORMING


def _size(rule: Rule, case: Case) -> list[Finding]:
    """Every reading is judged, never the mean; the finding names the worst (ISO 14253-1)."""
    found = journal(case)
    if found is None:
        first = ".".join(("journal", *wanted_places(case)[0]))
        return no_journal(rule, case, "journal size") or absent(rule, case, STEP_ID, first, "journal size")
    limits = case.requirement.journal
    margins = {
        p: min(p.deviation_nm - limits.lower_nm, limits.upper_nm - p.deviation_nm) for p in found.points
    }
    worst = min(found.points, key=lambda point: (margins[point], point.repeats))
    doubt = set_doubt(case) or ("" if found.u_nm is not None else "no-uncertainty")
    factor = case.procedure.guard_factor
    gauge = case.gear(STEP_ID, "gauge")
    u_of = {n: uncertainty(case, gauge, n)[0] or 0 for n in {point.repeats for point in found.points}}
    verdicts = [
        metrology.decide(p.deviation_nm, limits.lower_nm, limits.upper_nm, u_of[p.repeats], factor)
        for p in found.points
    ]
    verdict = Verdict.NOT_PROVEN if doubt else worst_verdict(verdicts)
    return [
        Finding(
            rule=rule.id,
            version=rule.version,
            characteristic="journal size",
            verdict=verdict,
            message=f"{rule.id}.{doubt or verdict.value.replace(' ', '-')}",
            facts={
                "plane": worst.plane,
                "direction": worst.direction,
                "value_nm": worst.deviation_nm,
                "margin_nm": margins[worst],
                "guard_nm": metrology.guard(u_of[worst.repeats], factor),
                "mean_nm": found.mean_nm,
                "correction_nm": worst.correction_nm,
                "limit_nm": _nearer(worst.deviation_nm, limits.lower_nm, limits.upper_nm),
                "count": len(found.points),
            },
            unit="nm",
            value=worst.deviation_nm,
            u=u_of[worst.repeats] if found.u_nm is not None else None,
            lower=limits.lower_nm,
            upper=limits.upper_nm,
            source=f"{limits.source}; {case.procedure.edition}",
            inputs=entries([*found.rests, *set_rests(case)]),
            working=found.working,
            unconfirmed=limits.unconfirmed,
        )
    ]


def _nearer(value: int, lower: int, upper: int) -> int:
    return lower if value - lower < upper - value else upper


def _complete(rule: Rule, case: Case) -> list[Finding]:
    """Every wanted place has a reading; one that is lost or was not possible stays visible."""
    wanted = [f"journal.{plane}.{direction}" for plane, direction in wanted_places(case)]
    lacking = [key for key in wanted if case.value_of(STEP_ID, key) is None]
    if not case.many(STEP_ID, "journal"):
        return []  # the size finding already says that nothing was entered
    rests = case.many(STEP_ID, "journal")
    if not lacking:
        return [rule.finding("journal readings", Verdict.CONFORMING, inputs=rests, count=len(wanted))]
    first = case.said(STEP_ID, lacking[0])
    if first is not None:
        return absent(rule, case, STEP_ID, lacking[0], "journal readings", rests)
    places = ", ".join(key.removeprefix("journal.").replace(".", " ") for key in lacking)
    return [
        rule.finding(
            "journal readings",
            Verdict.MISSING,
            "incomplete",
            inputs=rests,
            places=places,
            count=len(lacking),
        )
    ]


def no_journal(rule: Rule, case: Case, characteristic: str) -> list[Finding]:
    """What follows from readings of the journal that were said not to be there."""
    readings = case.many(STEP_ID, "journal")
    return said_absent(rule, case, characteristic, [(STEP_ID, a.key) for a in readings], readings)


def _form_rule(name: str) -> Rule:
    def judge(rule: Rule, case: Case) -> list[Finding]:
        found = journal(case)
        planes = found.planes() if found else []
        usable = [plane for plane in planes if len(plane) > 1] if name == "roundness" else planes
        if found is None or not usable or (name == "taper" and len(planes) < 2):
            return no_journal(rule, case, f"journal {name}")
        form = metrology.roundness(usable) if name == "roundness" else metrology.taper(planes)
        limit, source, unconfirmed = form_limit(case, name)
        own = found.gauge_u_nm or 0
        u_nm = -int(-metrology.form_uncertainty_um(own / 1000) * 1000 // 1)
        decision = metrology.decide(form.radial_nm, None, limit, u_nm, case.procedure.guard_factor)
        unproved = found.gauge_u_nm is None or bool(set_doubt(case))
        verdict = Verdict.NOT_PROVEN if unproved else Verdict(decision)
        return [
            Finding(
                rule=rule.id,
                version=rule.version,
                characteristic=f"journal {name}",
                verdict=verdict,
                message=f"{rule.id}.{verdict.value.replace(' ', '-')}",
                facts={
                    "half_nm": form.radial_nm,
                    "whole_nm": round(form.difference_nm),
                    "limit_nm": limit,
                    "mean_nm": found.mean_nm,
                },
                unit="nm",
                value=form.radial_nm,
                u=u_nm,
                upper=limit,
                source=source,
                inputs=entries([*found.rests, *set_rests(case)]),
                unconfirmed=unconfirmed,
            )
        ]

    return Rule(
        f"journal-{name}",
        4,
        Stage.MEASURE,
        "ISO 1101; half of IT5, from memory",
        judge,
        ENGINEER,
        hold="fit",
        row=OF_FORM,
    )


_PRACTICE = "common practice, no source"
STEP = Step(
    id=STEP_ID,
    version=1,
    row=12,
    stage=Stage.MEASURE,
    task="measure",
    fields=(
        Field("gauge", Gear(("outside micrometer",), ("journal",))),
        Field("master", Gear(("setting master",), ("journal",))),
        Field("master_before", _OFF_MASTER),
        Field("master_after", _OFF_MASTER, optional=True),
        Field("thermometer", Gear(("thermometer", "temperature probe"), WARMTHS), optional=True),
        Field("shaft", _ROOM),
        Field("bearing", _ROOM),
        Field("gauge_temp", _ROOM),
        Field("master_temp", _ROOM, optional=True),
        Field("air", _ROOM, optional=True),
        Field("plane_at", _ALONG, many=True, place="[A-Z]", optional=True),
        Field("journal", ACROSS, many=True, place=PLACE),
        Field("noted_first", Choice(("yes", "no")), optional=True),
    ),
    rules=(
        Rule("gauge-in-date", 3, Stage.MEASURE, "ISO 9001:2015 7.1.5.2, from memory", dated, row=OF_GAUGE),
        Rule("gauge-fine-enough", 2, Stage.MEASURE, "textbook practice: U at most a quarter", fine_enough),
        Rule("master-check", 4, Stage.MEASURE, "house rule", on_master, hold="fit"),
        Rule("one-temperature", 2, Stage.MEASURE, "ISO 1; 5 K: house rule", _one_temperature, hold="fit"),
        Rule("journal-size", 4, Stage.MEASURE, "ISO 286-2; ISO 14253-1", _size, ENGINEER, "fit", row=OF_SIZE),
        Rule("journal-readings", 1, Stage.MEASURE, _PRACTICE, _complete, hold="fit", row=OF_LOST),
        _form_rule("roundness"),
        _form_rule("taper"),
    ),
)  # fmt: skip
