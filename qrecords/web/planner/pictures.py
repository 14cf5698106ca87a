"""The pictures of a plan: fit, how probable it is, clearance before and after, heat."""

from decimal import Decimal
from typing import Literal

from django.utils.translation import gettext

from qrecords.engineering import heating
from qrecords.engineering.cooling import carry_drop
from qrecords.engineering.result import Result
from qrecords.steps.findings import Verdict
from qrecords.steps.planner.judging import Judged
from qrecords.steps.planner.plan import FitPlan, Left, ring_of
from qrecords.web.pictures.clearance import Bearing, ClearancePicture, clearance_picture
from qrecords.web.pictures.fit import FitPicture, Part, fit_picture
from qrecords.web.pictures.fit_distribution import Bell, FitDistribution, Shares, fit_distribution
from qrecords.web.pictures.heat_curve import Curve, HeatCurve, Note, heat_curve
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import THIN_GAP
from qrecords.wording.lettering import Lettering

POINTS = 24
DRAWN_PAST = 1.35
"""The curve goes on past the last moment at which the ring may meet its seat."""
LEAST_S = 60.0


def fit(plan: FitPlan, letters: Lettering) -> FitPicture | None:
    """The zones of both classes with what was read; None without a class of the shaft, which has no zone."""
    asked = plan.asked
    if asked.journal is None:
        return None
    thousandths = letters.thousandths
    readings = tuple(dict.fromkeys(asked.journal_nm or ()))
    shaft = Part(
        gettext("shaft {name}").format(name=asked.journal.tolerance_class),
        thousandths(asked.journal.lower_nm),
        thousandths(asked.journal.upper_nm),
        tuple(thousandths(nm) for nm in readings),
    )
    bore = Part(
        gettext("bore, {name}").format(name=asked.bore.tolerance_class),
        thousandths(asked.bore.lower_nm),
        thousandths(asked.bore.upper_nm),
        () if asked.bore_nm is None else (thousandths(asked.bore_nm),),
    )
    return fit_picture(
        shaft, bore, figures=FIGURES, prefix="fit", unit=letters.small_unit, places=letters.places
    )


def distribution(plan: FitPlan, letters: Lettering) -> FitDistribution:
    """How probable each interference is, as far as it is measured; dashed what the classes alone tell."""
    by_class = None
    limits, shares = None, None
    if plan.allowed is not None and plan.outside is not None:
        ends = (plan.allowed.minimum, plan.allowed.maximum)
        limits = (_small(ends[0], letters), _small(ends[1], letters))
        shares = Shares(*(FIGURES.share(Decimal(repr(part.value))) for part in plan.outside))
        sigma = (plan.allowed.probable_high.value - plan.allowed.probable_low.value) / 6
        by_class = Bell(_small(plan.allowed.mean, letters), letters.thousandths(round(sigma * 1000)))
    mean = plan.fit.mean
    return fit_distribution(
        Bell(_small(mean, letters), letters.thousandths(round((mean.u or 0.0) * 1000))),
        figures=FIGURES,
        prefix="probable",
        limits_nm=limits,
        shares=shares,
        behind=by_class if plan.measured else None,
        unit=letters.small_unit,
        places=letters.places,
    )


def _small(result: Result, letters: Lettering) -> int:
    return letters.thousandths(round(result.value * 1000))


def clearance(
    plan: FitPlan, verdicts: tuple[Judged | None, ...], letters: Lettering
) -> ClearancePicture | None:
    """Before and after for each bearing of which something is known."""
    drawn = tuple(
        found
        for left, judged in zip(plan.left, verdicts, strict=True)
        if judged and (found := _bearing(left, judged, letters))
    )
    if not drawn:
        return None
    least = letters.thousandths(round(plan.asked.least_um * 1000))
    return clearance_picture(
        drawn,
        figures=FIGURES,
        prefix="clearance",
        least_nm=least,
        unit=letters.small_unit,
        places=letters.places,
    )


def _bearing(left: Left, judged: Judged, letters: Lettering) -> Bearing | None:
    candidate = left.candidate
    if left.forecast is None:
        return None
    g0 = None if candidate.g0_nm is None else letters.thousandths(candidate.g0_nm)
    if candidate.limits is not None:
        ends = (candidate.limits.min_um * 1000, candidate.limits.max_um * 1000)
        group = (letters.thousandths(round(ends[0])), letters.thousandths(round(ends[1])))
    else:
        group = (g0 or 0, g0 or 0)
    note = gettext("G0 by group") if candidate.g0_nm is None else _measured(candidate.g0_nm, letters)
    after = letters.thousandths(round(left.forecast.mean.value * 1000))
    return Bearing(candidate.name, note, group, after, g0, _standing(judged))


def _measured(g0_nm: int, letters: Lettering) -> str:
    return gettext("G0 {value} measured").format(value=letters.small(g0_nm, whole=False))


def _standing(judged: Judged) -> Literal["in", "close", "out"]:
    if judged.verdict == Verdict.NONCONFORMING:
        return "out"
    return "close" if judged.verdict == Verdict.NOT_PROVEN else "in"


def heat(plan: FitPlan, letters: Lettering) -> HeatCurve | None:
    """From *set* down to what must still be there; None without a plan, or where the ring never cools so
    far."""
    found = plan.heat
    if not isinstance(found, heating.Plan) or found.carry is None or plan.asked.air_c is None:
        return None
    start_c = found.start.value if found.start else float(found.set_c)
    carry_s = found.carry.value
    lasts_s = max(carry_s * DRAWN_PAST, LEAST_S)
    ring, air_c = ring_of(plan.asked), plan.asked.air_c
    moments_s = [lasts_s * n / POINTS for n in range(POINTS + 1)]
    course = [(s, start_c - carry_drop(ring, start_c, air_c, s).value) for s in moments_s]
    if found.start:
        course = [(0.0, float(found.set_c)), *course]
    points = tuple((seconds, letters.millidegrees(round(c * 1000))) for seconds, c in course)
    span = (
        (0.0, carry_s, gettext("carry ({time})").format(time=clock(found.carry_s or 0))) if carry_s else None
    )
    return heat_curve(
        (Curve(points),),
        ceiling_mdegc=letters.millidegrees(found.never_above_c * 1000),
        must_be_mdegc=letters.millidegrees(found.must_reach_c * 1000),
        figures=FIGURES,
        prefix="carry",
        notes=(Note(points[0], _set_words(found, letters), dot=True),),
        span=span,
        unit=letters.heat_unit,
    )


def _set_words(found: heating.Plan, letters: Lettering) -> str:
    words = gettext("{t}: set").format(t=letters.heat(found.set_c * 1000))
    if found.start is None:
        return words
    even = letters.heat(round(found.start.value * 1000), "down")
    return gettext("{set}; the rings even out to ({even})").format(set=words, even=even)


def clock(seconds: int) -> str:
    """`195` → `3 min 15 s`."""
    minutes, rest = divmod(seconds, 60)
    said = [f"{minutes}{THIN_GAP}min"] if minutes else []
    return " ".join([*said, f"{rest}{THIN_GAP}s"] if rest or not said else said)
