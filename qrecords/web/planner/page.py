"""Everything that the planner's page shows of one plan."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.engineering import heating
from qrecords.engineering.units import show
from qrecords.steps.designated import NO_TABLE
from qrecords.steps.findings import TO_DO_FIRST, Verdict
from qrecords.steps.planner.judging import Judged, judged, of
from qrecords.steps.planner.plan import FitPlan
from qrecords.web import parts
from qrecords.web.planner import pictures, workings
from qrecords.web.planner.said import said
from qrecords.web.planner.thumbs import thumbs
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import ELLIPSIS, with_unit
from qrecords.wording.lettering import Lettering, in_other_units

CLEARANCES = ("clearance", "other clearance")
HABITS = ("habit",)
"""Verdicts on what is always done, and none on this fit."""
EXAMPLE = {
    "bearing": "6213", "shaft_class": "m5", "journal_low": "+18", "journal_high": "+20", "bore": "-9",
    "g0": "14", "other_group": "3", "other_g0": "35", "shaft_temp": "11", "air_temp": "11", "kind": "open",
    "evenly": "5", "gauge_u": "2",
}  # fmt: skip


@dataclass(frozen=True)
class Choice:
    """One choice of units, and the same question in them."""

    words: str
    href: str
    here: bool


def unit_choices(typed: Mapping[str, str], letters: Lettering) -> tuple[tuple[Choice, ...], ...]:
    lengths = (("mm", gettext("mm, µm")), ("in", gettext("inch, thou")))
    heat = (("C", "°C"), ("F", "°F"))
    return (
        tuple(
            _choice(typed, letters, Lettering(unit, letters.temperatures), words) for unit, words in lengths
        ),
        tuple(_choice(typed, letters, Lettering(letters.lengths, unit), words) for unit, words in heat),
    )


def _choice(typed: Mapping[str, str], now: Lettering, to: Lettering, words: str) -> Choice:
    return Choice(words, f"?{urlencode(in_other_units(typed, to))}", now == to)


def shown(plan: FitPlan, letters: Lettering) -> dict[str, Any]:
    """The three sheets of a plan, ready for the template."""
    verdicts, worked = judged(plan), workings.Workings.of(plan, letters)
    by_bearing = tuple(of(verdicts, about) for about in CLEARANCES[: len(plan.left)])
    return {
        "name": plan.asked.bearing.name,
        "lead": _lead(plan, letters),
        "size": _size(plan, letters),
        "fit": pictures.fit(plan, letters),
        "probable": pictures.distribution(plan, letters),
        "frame": _frame(plan, verdicts, letters),
        "fit_said": _fit_said(verdicts, letters),
        "fit_workings": worked.folds((*workings.OF_FIT, *workings.OF_STRESS)),
        "fit_doubts": worked.doubts((*workings.OF_FIT, *workings.OF_STRESS), plan.asked.sizes.unconfirmed),
        "sizes": _sizes(plan, letters),
        "clearance": pictures.clearance(plan, by_bearing, letters),
        "bearings": tuple(_bearing(each, letters) for each in by_bearing if each),
        "least": _least(plan, letters),
        "clearance_workings": worked.of_clearance(),
        "clearance_doubts": worked.doubts(("loss_factor", "clearance_left", "other_clearance_left")),
        "heat_for": plan.heated_left.candidate.name if len(plan.left) > 1 else "",
        "plan": _heating_plan(plan, letters),
        "curve": pictures.heat(plan, letters),
        "heat_said": _heat_said(plan, verdicts, letters),
        "rings": _rings_allowed(verdicts, letters),
        "heat_workings": worked.of_heat(),
        "heat_doubts": worked.heat_doubts(),
        "ceiling": workings.ceiling_line(plan, letters),
        "thumbs": thumbs(plan, letters),
        "start": _start(plan),
        "out": any(each.verdict == Verdict.NONCONFORMING for each in verdicts if each.about not in HABITS),
    }


def _lead(plan: FitPlan, letters: Lettering) -> tuple[str, str]:
    """(the interference in ( ), what the classes allow or nothing)."""
    mean = letters.small_with_unit(round(plan.fit.mean.value * 1000))
    if plan.allowed is None:
        return mean, ""
    return mean, _allowed(plan, letters)


def _allowed(plan: FitPlan, letters: Lettering) -> str:
    if plan.allowed is None:
        return ""
    ends = (round(result.value * 1000) for result in (plan.allowed.minimum, plan.allowed.maximum))
    return ELLIPSIS.join(letters.small(nm, whole=False) for nm in ends)


def _size(plan: FitPlan, letters: Lettering) -> str:
    """The nominal size, from which the picture's deviations count."""
    return with_unit(_in_size_unit(plan.asked.sizes.bore_mm, letters), letters.size_unit)


def _sizes(plan: FitPlan, letters: Lettering) -> str:
    """d, D and B, with where they were taken from."""
    sizes = plan.asked.sizes
    d, big, b = (_in_size_unit(mm, letters) for mm in (sizes.bore_mm, sizes.outside_mm, sizes.width_mm))
    words = gettext("{name}: d {d}, D {outside}, B {width}; {source}.")
    source = gettext("as typed") if sizes.source == "as typed" else sizes.source
    return words.format(
        name=plan.asked.bearing.name, d=d, outside=big, width=with_unit(b, letters.size_unit), source=source
    )


def _in_size_unit(size_mm: Decimal, letters: Lettering) -> str:
    places = None if letters.lengths == "mm" else 4
    return FIGURES.plain(Decimal(show(int(size_mm * 10**6), "length", letters.size_unit, places)))


def _frame(plan: FitPlan, verdicts: tuple[Judged, ...], letters: Lettering) -> parts.FindingRow | None:
    fit = of(verdicts, "fit")
    if fit is None or plan.allowed is None:
        return None
    return parts.FindingRow(
        "interference",
        gettext("interference"),
        _allowed(plan, letters),
        f"({letters.small(round(plan.fit.mean.value * 1000))})",
        "",
        parts.Verdict(fit.verdict.value),
    )


def _said(verdicts: tuple[Judged, ...], abouts: Iterable[str], letters: Lettering) -> tuple[parts.Said, ...]:
    """One frame a verdict word, its sentences beside it, what needs somebody first."""
    found = [said(each, letters) for about in abouts if (each := of(verdicts, about))]
    by_word = {
        word: tuple(s for each in found if each.verdict == word for s in each.sentences)
        for word in (parts.Verdict(verdict.value) for verdict in TO_DO_FIRST)
    }
    return tuple(parts.Said(word, sentences) for word, sentences in by_word.items() if sentences)


def _fit_said(verdicts: tuple[Judged, ...], letters: Lettering) -> tuple[parts.Said, ...]:
    """What the tolerance frame above says already is not said again."""
    fit = of(verdicts, "fit")
    framed = fit is not None and fit.verdict == Verdict.CONFORMING
    return _said(verdicts, (*(() if framed else ("fit",)), "journal", "bore", "hoop"), letters)


@dataclass(frozen=True)
class BearingSaid:
    """How one bearing stands, with its extremes and the chance of lacking clearance."""

    name: str
    said: parts.Said
    worst: str
    probable: str
    below: str


def _bearing(found: Judged, letters: Lettering) -> BearingSaid:
    facts = found.facts

    def ends(kind: str) -> str:
        if f"{kind}_low_nm" not in facts:
            return ""
        low, high = (letters.small(int(facts[f"{kind}_{end}_nm"]), signed=True) for end in ("low", "high"))
        return f"({low}){ELLIPSIS}({high})"

    return BearingSaid(
        str(facts["name"]),
        said(found, letters),
        ends("worst"),
        ends("probable"),
        FIGURES.share(Decimal(facts["below_ppm"]) / 1_000_000) if "below_ppm" in facts else "",
    )


def _least(plan: FitPlan, letters: Lettering) -> str:
    """The least that must be left, as the chance of having less names it."""
    return (
        letters.small_with_unit(round(plan.asked.least_um * 1000), whole=False)
        if plan.asked.least_um
        else "0"
    )


def _heating_plan(plan: FitPlan, letters: Lettering) -> parts.HeatingPlan | None:
    heat = plan.heat
    if not isinstance(heat, heating.Plan):
        return None
    hold = gettext("till it grips") if heat.pressing_s is None else pictures.clock(heat.pressing_s)
    carry = gettext("as little time as you can") if not heat.carry_s else pictures.clock(heat.carry_s)
    return parts.HeatingPlan(
        set_to=letters.heat_with_unit(heat.set_c * 1000),
        must_be=letters.heat_with_unit(heat.must_reach_c * 1000, "up"),
        never_above=letters.heat_with_unit(heat.never_above_c * 1000, "down"),
        carry=carry,
        press=hold,
    )


def _heat_said(plan: FitPlan, verdicts: tuple[Judged, ...], letters: Lettering) -> tuple[parts.Said, ...]:
    """Why there is no plan, if there is none; marks that may lower the ceiling, the habit, and the rings if
    somebody told of them."""
    none = () if isinstance(plan.heat, heating.Plan) else ("heat",)
    told = ("rings",) if plan.asked.evenly_k is not None else ()
    return _said(verdicts, (*none, "own ceiling", "marks", "habit", *told), letters)


def _rings_allowed(verdicts: tuple[Judged, ...], letters: Lettering) -> parts.Sentence | None:
    """What is allowed, where nobody told how even the rings are."""
    rings = of(verdicts, "rings")
    if rings is None or rings.reason != "not-told":
        return None
    return said(rings, letters).sentences[0]


def _start(plan: FitPlan) -> str:
    """The form of a new mounting with what this plan knows of bearing and seat; readings are taken anew."""
    asked, candidate = plan.asked, plan.heated_left.candidate
    sizes = asked.sizes
    query = {
        "designation": candidate.name if asked.designation else "",
        "nominal": f"{sizes.bore_mm.normalize():f}",
        "outside": f"{sizes.outside_mm.normalize():f}",
        "width": f"{sizes.width_mm.normalize():f}",
        "clearance_kind": "" if asked.clearance_kind == NO_TABLE else asked.clearance_kind,
        "clearance_group": candidate.group,
        "shaft_class": asked.journal.tolerance_class if asked.journal else "",
        "shaft_bore": f"{asked.shaft_bore_mm.normalize():f}" if asked.shaft_bore_mm else "",
        "seat": asked.seat,
        "mass": _told(asked.mass_kg),
        "mass_from": asked.mass_from if asked.mass_kg else "",
        "raceway": _told(asked.raceway_mm),
        "raceway_from": asked.raceway_from if asked.raceway_mm else "",
        "clearance_least": f"{asked.least_um:g}" if asked.least_um else "",
    }
    kinds = [("kinds", kind) for kind in asked.kinds]
    return f"{reverse('new-mounting')}?{urlencode([*((k, v) for k, v in query.items() if v), *kinds])}"


def _told(value: Decimal | None) -> str:
    return "" if value is None else f"{value.normalize():f}"
