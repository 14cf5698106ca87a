"""Which picture belongs to which finding: the number is shown where it lives."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.engineering.curve_events import Point
from qrecords.engineering.heating import Plan
from qrecords.steps import shoulder_gap
from qrecords.steps.bore import bore, from_class
from qrecords.steps.case import Case
from qrecords.steps.clearance import forecast, group
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.fit import heating_plan
from qrecords.steps.gauges import STEP_ID
from qrecords.steps.measurement import journal
from qrecords.steps.runs import Run, milliseconds, mounted_run
from qrecords.web import heat_logs
from qrecords.web.inspector.seat import seat_readings
from qrecords.web.pictures.bound import bound_picture
from qrecords.web.pictures.clearance import Bearing, clearance_picture
from qrecords.web.pictures.fit import Part, fit_picture
from qrecords.web.pictures.gap_dial import Gap, Tilt, gap_dial
from qrecords.web.pictures.heat_curve import Curve, HeatCurve, Note, heat_curve
from qrecords.web.pictures.heat_taps import Tap
from qrecords.wording.figures import Figures, with_unit

Found = Mapping[str, Finding]
"""Findings by characteristic."""


@dataclass(frozen=True)
class Drawing:
    """A picture for its part: `template` in `templates/parts/`, `p` what it places, `caption` below it."""

    template: str
    p: object
    caption: str = ""


def drawing_of(case: Case, found: Found, finding: Finding, figures: Figures, prefix: str) -> Drawing | None:
    """The picture that shows where this finding's number lives; None where there is none to draw."""
    draw = DRAWN.get(finding.rule)
    return draw(case, found, figures, prefix) if draw else None


def seat(case: Case, found: Found, figures: Figures, prefix: str) -> Drawing | None:
    """Readings on the seat."""
    readings = seat_readings(case, found.get("journal size"))
    if readings is None:
        return None
    nominal = figures.plain(case.requirement.nominal_mm.normalize())
    words = gettext("µm from %(nominal)s at 20 °C") % {"nominal": nominal}
    if readings.u_nm:
        words += f", u {figures.um(readings.u_nm, 1)}"
    return Drawing("parts/tolerance.html", readings.picture(figures, prefix), words)


def fit(case: Case, found: Found, figures: Figures, prefix: str) -> Drawing | None:
    """Zones of shaft and bore with their readings; for a bore nobody measured, where the fit can lie."""
    on, inside, asked = journal(case), bore(case), case.requirement
    if on is None:
        return None
    if inside is None:
        return _bound(case, figures, prefix)
    picture = fit_picture(
        Part(
            f"{asked.shaft_class} {gettext('shaft')}".strip(),
            asked.journal.lower_nm,
            asked.journal.upper_nm,
            tuple(point.deviation_nm for point in on.points),
        ),
        Part(
            gettext("bore, %(bore_class)s") % {"bore_class": asked.bore_class},
            asked.bore.lower_nm,
            asked.bore.upper_nm,
            tuple(point.deviation_nm for point in inside.points),
        ),
        figures=figures,
        prefix=prefix,
    )
    return Drawing("parts/fit.html", picture)


def _bound(case: Case, figures: Figures, prefix: str) -> Drawing | None:
    """Interference from the journal's readings and the limits of the bore's class, inside what is asked."""
    on, asked = journal(case), case.requirement
    if on is None:
        return None
    read = [point.deviation_nm for point in on.points]
    can = (min(read) - asked.bore.upper_nm, max(read) - asked.bore.lower_nm)
    must = asked.interference_nm or (
        asked.journal.lower_nm - asked.bore.upper_nm,
        asked.journal.upper_nm - asked.bore.lower_nm,
    )
    picture = bound_picture(
        window_nm=must, range_nm=can, what=gettext("interference"), figures=figures, prefix=prefix
    )
    spare = min(can[0] - must[0], must[1] - can[1])
    words = gettext("Worst %(spare)s µm inside – if the journal readings are believed.")
    if spare < 0:
        words = gettext("Worst %(spare)s µm outside of what is asked.")
    source = gettext("The bore was taken from its class.") if from_class(case) else ""
    return Drawing(
        "parts/bound.html", picture, f"{words % {'spare': figures.um(abs(spare))}} {source}".strip()
    )


def clearance(case: Case, found: Found, figures: Figures, prefix: str) -> Drawing | None:
    """Clearance before the fit and what is left when cold."""
    limits, left = group(case), forecast(case)
    said = found.get("clearance forecast")
    if limits is None or left is None or said is None:
        return None
    g0 = case.value_of("clearance_before", "g0")
    standing = {Verdict.NONCONFORMING: "out", Verdict.NOT_PROVEN: "close"}.get(said.verdict, "in")
    asked = case.requirement
    row = Bearing(
        name=gettext("this bearing"),
        note=gettext("G0 measured") if g0 else gettext("G0 from its group"),
        group_nm=(round(limits.min_um * 1000), round(limits.max_um * 1000)),
        left_nm=round(left.mean.value * 1000),
        measured_nm=g0.base if g0 else None,
        standing=standing,  # type: ignore[arg-type]  # the three words of a Standing, from a mapping
    )
    least = asked.clearance_min_nm or 0
    picture = clearance_picture((row,), figures=figures, prefix=prefix, least_nm=least)
    return Drawing("parts/clearance.html", picture)


def gap(case: Case, found: Found, figures: Figures, prefix: str) -> Drawing | None:
    """The ring from its end with the blades that go in."""
    limit = shoulder_gap.gap_limit_nm(case)
    felt = {round(shoulder_gap.angle(answered)): answered.base for answered in shoulder_gap.felt(case)}
    if not felt:
        return None
    angles = sorted({*felt, *(int(at) for at in shoulder_gap.wanted_angles(case))})
    gaps = tuple(Gap(at, felt.get(at), "out" if (felt.get(at) or 0) >= limit else "in") for at in angles)
    opened = any(g.standing == "out" for g in gaps)
    picture = gap_dial(
        gaps, figures=figures, prefix=prefix, tilt=_tilt(case) if opened else None, field_name=""
    )
    return Drawing("parts/gap_dial.html", picture)


def _tilt(case: Case) -> Tilt | None:
    fitted = shoulder_gap.plane(case)
    if fitted is None:
        return None
    turn = math.radians(fitted.widest_deg)
    amplitude_nm = fitted.tilt.value * shoulder_gap.radius_mm(case) * 1000
    return Tilt(fitted.mean_um * 1000, amplitude_nm * math.cos(turn), amplitude_nm * math.sin(turn))


def heat(case: Case, found: Found, figures: Figures, prefix: str) -> Drawing | None:
    """The course of heat between *never above* and *must still be*, as the plan says now: by the heater's own
    log where there is one."""
    plan = heating_plan(case)
    must_be = plan.must_reach_c * 1000 if isinstance(plan, Plan) else None
    by_log = logged(case, found, figures, prefix, must_be_mdegc=must_be)
    if by_log:
        return by_log
    picture = heat_course(case, found, figures, prefix, must_be_mdegc=must_be)
    words = gettext("Dots are readings; between them the line is only drawn.")
    return Drawing("parts/heat_curve.html", picture, words) if picture else None


def logged(
    case: Case, found: Found, figures: Figures, prefix: str, *, must_be_mdegc: int | None = None
) -> Drawing | None:
    """The heater's own log under *never above*: it tells nothing of the journal."""
    logs = heat_logs.newest_log(case)
    if not logs:
        return None
    curve = heat_logs.draw(logs, figures, prefix, must_be_mdegc=must_be_mdegc)
    return Drawing("parts/heat_curve.html", curve, f"{heat_logs.caption(logs, figures)} {curve.desc}")


def heat_course(
    case: Case,
    found: Found,
    figures: Figures,
    prefix: str,
    *,
    must_be_mdegc: int | None = None,
    size: tuple[float, float] = (460, 220),
) -> HeatCurve | None:
    """Temperature from *heater on* to the seat: readings as dots, in ( ) what a judgement worked out.

    Everything comes from readings, taps and findings as they were judged; only `must_be_mdegc` is given.
    """
    peak, run, start = found.get("peak temperature"), mounted_run(case), case.value_of(STEP_ID, "bearing")
    if peak is None or peak.value is None or peak.upper is None or run is None or start is None:
        return None
    lifted_s = (milliseconds(run.heater_on, run.lifted_off) or 0) / 1000
    dots: list[Point] = [(0.0, start.base), (lifted_s or 1.0, peak.value)]
    notes = [
        Note(dots[0], figures.celsius(start.base, 0), "end", dot=True),
        Note(dots[1], figures.celsius(peak.value, 0), "start", bold=True, dot=True),
    ]
    home_ms, slid = milliseconds(run.heater_on, run.home), found.get("could have slid on")
    if lifted_s and home_ms and slid is not None and slid.value is not None and home_ms / 1000 > lifted_s:
        seat_mdegc = int(slid.facts["seat_mdegc"])
        dots.append((home_ms / 1000, seat_mdegc))
        notes.append(Note(dots[2], figures.worked_out_celsius(seat_mdegc), "start"))
    return heat_curve(
        (Curve(tuple(dots)),),
        ceiling_mdegc=peak.upper,
        must_be_mdegc=must_be_mdegc,
        figures=figures,
        prefix=prefix,
        notes=tuple(notes),
        taps=_taps(run, figures),
        width=size[0],
        height=size[1],
    )


def _taps(run: Run, figures: Figures) -> tuple[Tap, ...]:
    """The taps of one heating that were made, each with the seconds since the one before it."""
    made = [tap for tap in (run.heater_on, run.lifted_off, run.home, run.let_go) if tap is not None]
    found = []
    for n, tap in enumerate(made):
        words = gettext(tap.what)
        if n:
            since_s = round((milliseconds(made[n - 1], tap) or 0) / 1000)
            words += f" +{with_unit(figures.plain(since_s), 's')}"
        found.append(Tap((milliseconds(run.heater_on, tap) or 0) / 1000, words))
    return tuple(found)


DRAWN = {
    "journal-size": seat,
    "journal-readings": seat,
    "journal-roundness": seat,
    "journal-taper": seat,
    "bore-in-class": fit,
    "interference": fit,
    "clearance-in-group": clearance,
    "clearance-forecast": clearance,
    "clearance-found": clearance,
    "clearance-as-forecast": clearance,
    "peak-temperature": heat,
    **dict.fromkeys(heat_logs.LOG_RULES, logged),
    "slid-on": heat,
    "ring-difference": heat,
    "pressed-home": heat,
    "shoulder-gap": gap,
    "gap-plane": gap,
    "cold-when-checked": gap,
}


def drawn_from_readings(rule: str) -> bool:
    """Whether the picture of a rule gives the journal's readings away, or what is worked out from them."""
    return DRAWN.get(rule) in (seat, fit, clearance, heat)
