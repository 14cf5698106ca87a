"""How each worked-out number of a plan came about: one fold a number, under the name it has on the page."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.result import Result
from qrecords.steps.planner.plan import FitPlan, Left, results
from qrecords.web import parts
from qrecords.web.doubts import told
from qrecords.web.showing import FIGURES
from qrecords.web.workings import figure_written, worked_out
from qrecords.wording.ceilings import ceiling_name
from qrecords.wording.figures import ELLIPSIS, with_unit
from qrecords.wording.lettering import Lettering

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

OF_RINGS = ("ring_difference", "ring_difference_clamped")


METRIC = Lettering()


@dataclass(frozen=True)
class Workings:
    """Every number of one plan, worked out once, in one reader's units."""

    plan: FitPlan
    found: Mapping[str, Result]
    letters: Lettering

    @classmethod
    def of(cls, plan: FitPlan, letters: Lettering) -> "Workings":
        return cls(plan, results(plan), letters)

    def folds(self, names: tuple[str, ...]) -> tuple[parts.Working, ...]:
        return tuple(fold(gettext(NAMES[n]), self.found[n], self.letters) for n in names if n in self.found)

    def of_clearance(self) -> tuple[parts.Working, ...]:
        """The loss, and for each bearing what is left of its clearance, at worst and probably."""
        told = [*self.folds(("loss_factor",))]
        for left, name in zip(self.plan.left, ("clearance_left", "other_clearance_left"), strict=False):
            if name in self.found:
                summary = f"{left.candidate.name}: {gettext(NAMES['clearance_left'])}"
                told.append(fold(summary, self.found[name], self.letters, _extremes(left, self.letters)))
        return tuple(told)

    def of_heat(self) -> tuple[parts.Working, ...]:
        """Each number of the heating plan, and how much hotter than the outer ring the inner may be."""
        rings = ((name, self.found.get(self._of_heated(name))) for name in OF_RINGS)
        rows = tuple(fold(gettext(NAMES[name]), result, self.letters) for name, result in rings if result)
        return (*self.folds(OF_HEAT), *rows)

    def heat_doubts(self) -> tuple[str, ...]:
        return self.doubts((*OF_HEAT, *map(self._of_heated, OF_RINGS)))

    def _of_heated(self, name: str) -> str:
        """The result's name of whichever bearing the heat is planned for."""
        return f"other_{name}" if self.plan.heated else name

    def doubts(self, names: Iterable[str], others: Iterable[str] = ()) -> tuple[str, ...]:
        """What is to be said of what these numbers, and others, rest on, each once."""
        doubts = [d for n in names if n in self.found for d in self.found[n].unconfirmed]
        return told((*doubts, *others))


def fold(
    name: str, result: Result, letters: Lettering = METRIC, more: tuple[tuple[str, str], ...] = ()
) -> parts.Working:
    """Four figures, and in the summary as many as are worth reading."""
    lettered = letters.result(result)
    spread = "" if lettered.u is None else f" ± {lettered.u:.2g}"
    return worked_out(
        summary=f"{name} ({_read(lettered)})",
        formula=lettered.formula,
        put_in=lettered.put_in,
        figure=f"{lettered.value:.4g}{spread}",
        unit=lettered.unit,
        assumptions=lettered.assumptions,
        source=lettered.source,
        unconfirmed=dict.fromkeys(lettered.unconfirmed),
        more=more,
        validity=lettered.validity,
    )


def _read(result: Result) -> str:
    """A result as it is read: a chance in %, else with as many places as are worth reading."""
    if result.formula.startswith("P = "):
        return FIGURES.share(Decimal(repr(result.value)))
    return figure_written(FIGURES.plain(Decimal(repr(result.value)), _places(result)), result.unit)


def _places(result: Result) -> int:
    return 0 if abs(result.value) >= 100 else 2 if result.unit in ("1", "kN", "thou") else 1


def ceiling_line(plan: FitPlan, letters: Lettering) -> str:
    return gettext("Ceiling: {kind}, {t}; {source}.").format(
        kind=ceiling_name(plan.ceiling.kind),
        t=letters.heat_with_unit(round(plan.ceiling.cap_c * 1000), "down"),
        source=plan.ceiling.source,
    )


def _extremes(left: Left, letters: Lettering) -> tuple[tuple[str, str], ...]:
    found = left.forecast
    if found is None:
        return ()
    rows = (
        (gettext("at worst"), found.worst_low_um, found.worst_high_um),
        (gettext("99.73 % of all"), found.probable_low_um, found.probable_high_um),
    )
    return tuple(
        (name, ELLIPSIS.join((letters.fine(low), with_unit(letters.fine(high), letters.small_unit))))
        for name, low, high in rows
    )
