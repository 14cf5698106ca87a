"""How each worked-out number of a plan came about: one fold a number, under the name it has on the page."""

from collections.abc import Mapping
from decimal import Decimal

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.result import Result
from qrecords.steps.planner.plan import FitPlan, Left, results
from qrecords.web import parts
from qrecords.web.figures import with_unit
from qrecords.web.names import ceiling_name
from qrecords.web.showing import FIGURES
from qrecords.web.workings import figure_written, worked_out

NAMES: Mapping[str, str] = {
    "interference": _("interference, mean"),
    "interference_most": _("interference, most"),
    "interference_least": _("interference, least"),
    "class_least": _("the classes allow, least"),
    "class_most": _("the classes allow, most"),
    "class_mean": _("the classes allow, mean"),
    "class_probable_least": _("99.73 % of all pairs, from"),
    "class_probable_most": _("99.73 % of all pairs, to"),
    "share_below": _("chance of less than the classes allow"),
    "share_above": _("chance of more than the classes allow"),
    "effective_interference": _("interference once the seat has smoothed"),
    "pressure": _("pressure on the seat"),
    "hoop_stress": _("hoop stress, with its allowance"),
    "raceway_growth": _("the raceway grows by"),
    "axial_force": _("force along the shaft"),
    "loss_factor": _("share of it that goes off the clearance"),
    "clearance_left": _("left when cold"),
    "ring_difference": _("inner hotter than outer, safe up to"),
    "ring_difference_clamped": _("inner hotter than outer, clamped at"),
    "at_contact": _("at contact"),
    "to_aim_for": _("to aim for"),
    "growth": _("the bore grows by"),
    "carry_drop": _("lost on the way, 30 s"),
    "even": _("the rings even out to"),
    "carry": _("carry within"),
    "grip": _("it grips after"),
    "pressing": _("keep pressing"),
}
OF_FIT = (
    "interference",
    "interference_most",
    "interference_least",
    "class_least",
    "class_most",
    "class_mean",
    "class_probable_least",
    "class_probable_most",
    "share_below",
    "share_above",
)
OF_STRESS = ("effective_interference", "pressure", "hoop_stress", "raceway_growth", "axial_force")
OF_HEAT = ("at_contact", "to_aim_for", "growth", "carry_drop", "even", "carry", "grip", "pressing")


def workings(plan: FitPlan, names: tuple[str, ...]) -> tuple[parts.Working, ...]:
    found = results(plan)
    return tuple(fold(gettext(NAMES[name]), found[name]) for name in names if name in found)


def of_clearance(plan: FitPlan) -> tuple[parts.Working, ...]:
    """The loss, and for each bearing what is left of its clearance, at worst and probably."""
    found = [fold(gettext(NAMES["loss_factor"]), plan.left[0].factor)]
    for left in plan.left:
        if left.forecast is not None:
            summary = f"{left.candidate.name}: {gettext(NAMES['clearance_left'])}"
            found.append(fold(summary, left.forecast.mean, _extremes(left)))
    return tuple(found)


def of_heat(plan: FitPlan) -> tuple[parts.Working, ...]:
    """Each number of the heating plan, and how much hotter than the outer ring the inner may be."""
    left = plan.heated_left
    rings = (("ring_difference", left.safe), ("ring_difference_clamped", left.clamped))
    told = tuple(fold(gettext(NAMES[name]), result) for name, result in rings if result is not None)
    return (*workings(plan, OF_HEAT), *told)


def ceiling_line(plan: FitPlan) -> str:
    return gettext("Ceiling: {kind}, {t}; {source}.").format(
        kind=ceiling_name(plan.ceiling.kind),
        t=with_unit(f"{plan.ceiling.cap_c:g}", "°C"),
        source=plan.ceiling.source,
    )


def _extremes(left: Left) -> tuple[tuple[str, str], ...]:
    found = left.forecast
    if found is None:
        return ()
    rows = (
        (gettext("at worst"), found.worst_low_um, found.worst_high_um),
        (gettext("99.73 % of all"), found.probable_low_um, found.probable_high_um),
    )
    return tuple(
        (name, with_unit(FIGURES.span(_tenths(low), _tenths(high)), "µm")) for name, low, high in rows
    )


def _tenths(value_um: float) -> Decimal:
    return round(Decimal(repr(value_um)), 1)


def fold(name: str, result: Result, more: tuple[tuple[str, str], ...] = ()) -> parts.Working:
    """Four figures, and in the summary as many as are worth reading."""
    spread = "" if result.u is None else f" ± {result.u:.2g}"
    places = 0 if abs(result.value) >= 100 else 2 if result.unit in ("1", "kN") else 1
    figure = FIGURES.plain(Decimal(repr(result.value)), places)
    return worked_out(
        summary=f"{name} ({figure_written(figure, result.unit)})",
        formula=result.formula,
        put_in=result.put_in,
        figure=f"{result.value:.4g}{spread}",
        unit=result.unit,
        assumptions=result.assumptions,
        source=result.source,
        unconfirmed=dict.fromkeys(result.unconfirmed),
        more=more,
    )
