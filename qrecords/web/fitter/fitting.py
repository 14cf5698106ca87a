"""The fit before heat: interference, forecast, the heating plan in one line, and their working."""

from decimal import Decimal

from django.utils.translation import gettext

from qrecords.engineering import fits, heating
from qrecords.engineering.errors import EngineeringError
from qrecords.mountings.judging import Judged
from qrecords.steps.bore import bore, from_class
from qrecords.steps.case import Case
from qrecords.steps.clearance import before, forecast, group
from qrecords.steps.fit import heating_plan, interference
from qrecords.steps.measurement import journal
from qrecords.web import parts
from qrecords.web.doubts import told
from qrecords.web.pictures.fit import FitPicture, Part, fit_picture
from qrecords.web.pictures.fit_distribution import Bell, FitDistribution, Shares, fit_distribution
from qrecords.web.showing import FIGURES
from qrecords.web.workings import figure_written, worked_out
from qrecords.wording.ceilings import ceiling_name
from qrecords.wording.figures import ELLIPSIS, with_unit

WORTH_DRAWING = 0.001
"""Where less than this can lie outside, and the bore was measured, the distribution tells nothing more."""


def plan_of(case: Case) -> heating.Plan | None:
    """The plan, or None while there can be none."""
    found = heating_plan(case)
    return found if isinstance(found, heating.Plan) else None


def plan_line(case: Case) -> parts.HeatingPlan | None:
    """The plan in one line: targets to 5 K, must-be up, seconds down."""
    plan = plan_of(case)
    if plan is None:
        return None
    return parts.HeatingPlan(
        set_to=_celsius(plan.set_c),
        must_be=_celsius(plan.must_reach_c),
        never_above=_celsius(plan.never_above_c),
        carry=_carry(plan.carry_s),
        press=with_unit(str(plan.pressing_s), "s")
        if plan.pressing_s is not None
        else gettext("till it grips"),
        working=_working(plan),
    )


def no_plan(case: Case) -> parts.Said | None:
    """Why heat alone cannot mount this fit; None if it can, or if the readings are still to come."""
    found = heating_plan(case)
    if not isinstance(found, EngineeringError):
        return None
    if isinstance(found, heating.UnreachableError):
        lead = gettext("It needs {needed} °C,").format(needed=f"{found.needed_c:.0f}")
        rest = gettext(
            "{cap} °C is the most ({kind}), less its guard. The shaft at {shaft} °C would have to cool to "
            "{cold} °C. Call the engineer."
        ).format(
            cap=f"{found.cap_c:.0f}",
            kind=ceiling_name(found.ceiling_kind),
            shaft=f"{found.shaft_c:.0f}",
            cold=f"{found.shaft_at_most_c:.0f}",
        )
    else:
        lead, rest = gettext("No heating plan:"), str(found)
    return parts.Said(parts.Verdict("not-proven"), (parts.Sentence(lead, rest),))


def _celsius(value: int) -> str:
    return with_unit(str(value), "°C")


def _carry(seconds: int | None) -> str:
    """Seconds down to 5; over five minutes, whole minutes down."""
    if seconds is None:
        return gettext("as little time as you can")
    return with_unit(str(seconds // 60), "min") if seconds >= 300 else with_unit(str(seconds), "s")


def _working(plan: heating.Plan) -> parts.Working:
    contact = plan.contact
    spread = "" if contact.u is None else f" ± {contact.u:.1f}"
    others = [result for result in (plan.wanted, plan.carry, plan.pressing and plan.pressing.hold) if result]
    grown = gettext("the bore grows by {formula}").format(formula=plan.grown.formula)
    more = [(grown, with_unit(FIGURES.plain(Decimal(repr(plan.grown.value)), 1), "µm"))]
    for result in others:
        more.append((result.formula, figure_written(f"{result.value:.3g}", result.unit)))
    more.append(
        (gettext("ceiling: {kind}").format(kind=ceiling_name(plan.ceiling.kind)), plan.ceiling.source)
    )
    more.append((gettext("guard of the temperature"), with_unit(f"{plan.guard_k:.1f}", "K")))
    return worked_out(
        summary=gettext("working"),
        formula=contact.formula,
        put_in=contact.put_in,
        figure=f"{contact.value:.1f}{spread}",
        unit="°C",
        assumptions=contact.assumptions,
        source=contact.source,
        unconfirmed=contact.unconfirmed,
        validity=contact.validity,
        more=more,
    )


def sentences(judged: Judged) -> tuple[parts.Sentence, ...]:
    """Interference and clearance left, worked out: ( )."""
    case = judged.case
    fit, left = interference(case), forecast(case)
    found = []
    if fit is not None:
        low, mean, high = (
            FIGURES.plain(Decimal(repr(r.value)), 0) for r in (fit.local_min, fit.mean, fit.local_max)
        )
        found.append(
            parts.Sentence(
                gettext("Interference ({mean}) µm,").format(mean=mean),
                gettext("anywhere from ({low}) to ({high}).").format(low=low, high=high),
            )
        )
    if left is not None:
        measured = before(case)
        source = gettext("G0 measured") if measured and measured[0].measured else gettext("G0 from its group")
        found.append(
            parts.Sentence(
                gettext("Clearance left ({mean}) µm,").format(
                    mean=FIGURES.plain(Decimal(repr(left.mean.value)), 0)
                ),
                gettext("{source}; at worst ({low}).").format(
                    source=source, low=FIGURES.plain(Decimal(repr(left.worst_low_um)), 0)
                ),
            )
        )
    g0 = before(case) if left is not None else None
    rests_on = (*(fit.mean.unconfirmed if fit else ()), *(g0[2] if g0 else ()))
    said = told(rests_on, rows_only=True)
    return (*found, *(parts.Sentence(rest=each, follows=True) for each in said))


def class_line(case: Case) -> str:
    """What *from class* and *from group* would mean for this bearing."""
    limits = case.requirement.bore
    said = gettext("Bore by class {name}: {span} µm ({source}).").format(
        name=case.requirement.bore_class,
        span=FIGURES.signed_span_um(limits.lower_nm, limits.upper_nm),
        source=limits.source,
    )
    clearance = group(case)
    if clearance is None:
        none = gettext("No table knows this clearance group: measure G0.")
        return " ".join((said, none, *told(limits.unconfirmed)))
    span = f"{clearance.min_um:g}{ELLIPSIS}{clearance.max_um:g}"
    more = gettext("G0 by group {group}: {span} µm ({source}).").format(
        group=clearance.group, span=span, source=clearance.source
    )
    return " ".join((said, more, *told((*limits.unconfirmed, *clearance.unconfirmed))))


def picture(case: Case) -> FitPicture | None:
    """Zones and readings of shaft and bore, with the interference; None without readings."""
    on, inside = journal(case), bore(case)
    if on is None:
        return None
    asked = case.requirement
    shaft = Part(
        f"{asked.nominal_mm.normalize():f} {asked.shaft_class}".strip(),
        asked.journal.lower_nm,
        asked.journal.upper_nm,
        tuple(point.deviation_nm for point in on.points),
    )
    ring = Part(
        gettext("bore {name}").format(name=asked.bore_class),
        asked.bore.lower_nm,
        asked.bore.upper_nm,
        tuple(point.deviation_nm for point in inside.points) if inside else (),
    )
    return fit_picture(shaft, ring, figures=FIGURES, prefix="fit")


def probable(case: Case) -> FitDistribution | None:
    """How probable each interference is, where that says more than the readings do: the bore was taken from
    its class, or the fit can lie outside of what drawing or classes allow."""
    found, asked = interference(case), case.requirement
    if found is None or not found.mean.u:
        return None
    low, high = asked.interference_nm or (
        asked.journal.lower_nm - asked.bore.upper_nm,
        asked.journal.upper_nm - asked.bore.lower_nm,
    )
    outside = fits.share_outside(found.mean, low / 1000, high / 1000)
    if not from_class(case) and max(part.value for part in outside) < WORTH_DRAWING:
        return None
    return fit_distribution(
        Bell(round(found.mean.value * 1000), found.mean.u * 1000),
        figures=FIGURES,
        prefix="probable",
        limits_nm=(low, high),
        shares=Shares(*(FIGURES.share(Decimal(repr(part.value))) for part in outside)),
    )
