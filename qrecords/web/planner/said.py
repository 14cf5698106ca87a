"""A plan's verdicts in sentences: the number first, then what follows."""

from collections.abc import Mapping
from decimal import Decimal

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.errors import FieldError
from qrecords.steps.findings import Fact
from qrecords.steps.planner.form import NOT_UNDERSTOOD, OUTSIDE
from qrecords.steps.planner.judging import Judged
from qrecords.web import parts
from qrecords.web.figures import MINUS, visible
from qrecords.web.names import ceiling_name
from qrecords.web.planner.lettering import Lettering
from qrecords.web.showing import FIGURES

SENTENCES: Mapping[str, str] = {
    "journal.conforming": _("Journal {value}|inside {lower}…{upper}."),
    "journal.not-proven": _(
        "Journal {value}|too near to {lower}…{upper} for this gauge. Measure it twice more."
    ),
    "journal.no-uncertainty": _("Journal {value}|inside {lower}…{upper}, but the gauge's U is not told."),
    "journal.nonconforming": _("Journal {value}|outside {lower}…{upper}. Call the engineer before heat."),
    "bore.conforming": _("Bore {value}|inside {lower}…{upper}."),
    "bore.not-proven": _("Bore {value}|too near to {lower}…{upper} for this gauge. Measure it twice more."),
    "bore.no-uncertainty": _("Bore {value}|inside {lower}…{upper}, but the gauge's U is not told."),
    "bore.nonconforming": _("Bore {value}|outside {lower}…{upper}: another class, or misread."),
    "fit.conforming": _("({least})…({most})|everywhere inside what the classes allow."),
    "fit.not-proven": _("({worst})|is too near to {lower}…{upper} for this gauge."),
    "fit.no-uncertainty": _(
        "({least})…({most})|is inside, but the gauge's U is not told: nothing is proven."
    ),
    "fit.nonconforming": _("({worst})|is outside {lower}…{upper}. Call the engineer before heat."),
    "fit.not-measured": _(
        "({least})…({most})|is all that the classes tell. Measure the journal before heat."
    ),
    "fit.no-class": _("({mean})|and no class to judge it by."),
    "clearance.none-left": _("({mean})|No clearance left when cold: less than {floor} in {below} of cases."),
    "clearance.may-be-none": _("({mean})|Less than {floor} in {below} of cases. Measure G0, or take more."),
    "clearance.by-reading": _("({mean})|Because G0 was measured. The group alone does not prove it."),
    "clearance.left-measured": _("({mean})|left when cold, from the G0 that was measured."),
    "clearance.left-by-group": _("({mean})|left when cold; less than {floor} in {below} of cases."),
    "clearance.no-group": _("No table here knows its group:|measure G0."),
    "hoop.under": _(
        "Hoop stress ({stress} MPa)|with its allowance; {limit} MPa is the usual limit (from memory)."
    ),
    "hoop.over": _("Hoop stress ({stress} MPa)|over the usual {limit} MPa (from memory). Ask the engineer."),
    "hoop.thin-ring": _(
        "Hoop stress not told:|no model here bears out a ring as thin as this. Ask the engineer."
    ),
    "heat.no-temperature": _("No plan yet:|the shaft's temperature is not entered. The rise counts from it."),
    "heat.unreachable": _(
        "It needs ({needed}),|{cap} is the most ({ceiling}), less its guard. The shaft at {shaft} would have "
        "to cool to ({cool_to}). Call the engineer."
    ),
    "heat.loose": _("No heating plan:|on the mean nothing grips. Such a ring slides on cold, and creeps."),
    "marks.ask": _(
        "{marks}:|only the maker says what this means. A seal or a polyamide cage bears less heat: choose "
        "the kind, or enter its own ceiling."
    ),
    "rings.even": _("{difference}|inner hotter than outer; up to ({allowed}) nothing is clamped."),
    "rings.over": _("{difference}|inner hotter than outer, where ({allowed}) is safe: warm it slower."),
    "rings.not-told": _("Inner hotter than outer:|up to ({allowed})."),
    "habit.not-needed": _("Your {fit} needs only ({needed});|a fixed {habit} is not needed. Set {set}."),
    "habit.not-enough": _(
        "Your {fit} needs ({needed});|a fixed {habit} is not enough. It would stick half-way."
    ),
    "habit.too-hot": _("A fixed {habit}|is too hot: {cap} is the most ({ceiling}), less its guard."),
    "habit.serves": _("A fixed {habit}|serves here: your {fit} needs ({needed})."),
}
"""By `about.reason`; a lead and a rest divided by a bar. Both clearances share theirs."""
LABELS: Mapping[str, str] = {
    "lengths": _("lengths"),
    "temperatures": _("temperatures"),
    "bearing": _("bearing"),
    "nominal": _("bore d"),
    "outside": _("outside D"),
    "width": _("width B"),
    "clearance_kind": _("clearance table"),
    "group": _("its group"),
    "g0": _("clearance G0, measured"),
    "other_group": _("or take: group"),
    "other_g0": _("its G0, measured"),
    "shaft_class": _("shaft, class"),
    "journal_low": _("journal, lowest"),
    "journal_high": _("journal, highest"),
    "bore_class": _("bore, class"),
    "bore": _("bore, measured"),
    "shaft_bore": _("hollow shaft, bore"),
    "seat": _("seat is"),
    "shaft_temp": _("shaft now"),
    "air_temp": _("air now"),
    "kind": _("kind of bearing"),
    "ceiling": _("own ceiling"),
    "ceiling_source": _("where it is written"),
    "gauge_u": _("U of the gauge"),
    "least": _("least clearance left"),
    "evenly": _("rings even within"),
    "habit": _("always set to"),
}
"""Every input by its name on the page."""


def label(name: str) -> str:
    return gettext(LABELS[name])


def said(judged: Judged, letters: Lettering) -> parts.Said:
    """One verdict with its sentence."""
    about = "clearance" if judged.about == "other clearance" else judged.about
    lead, rest = gettext(SENTENCES[f"{about}.{judged.reason}"]).split("|")
    facts = _lettered(judged, letters)
    return parts.Said(
        parts.Verdict(judged.verdict.value), (parts.Sentence(lead.format(**facts), rest.format(**facts)),)
    )


def _lettered(judged: Judged, letters: Lettering) -> dict[str, str]:
    found: dict[str, str] = {}
    deviation = judged.about in ("journal", "bore")
    for name, fact in judged.facts.items():
        plain, _of, unit = name.rpartition("_")
        found[plain or name] = _fact(plain, unit, fact, letters, signed=deviation)
    found["fit"] = (
        gettext("measured fit") if judged.facts.get("measured") == "yes" else gettext("fit by class")
    )
    least = judged.facts.get("least_nm", 0)
    found["floor"] = letters.small_with_unit(int(least)) if least else "0"
    if "ceiling" in judged.facts:
        found["ceiling"] = ceiling_name(str(judged.facts["ceiling"]))
    return found


def _fact(name: str, unit: str, fact: Fact, letters: Lettering, *, signed: bool) -> str:
    if isinstance(fact, str):
        return fact
    match unit:
        case "nm":
            # The lower end of a range has its unit behind the upper.
            letter = letters.small if name in ("lower", "least") else letters.small_with_unit
            return letter(fact, signed=signed, whole=name in ("mean", "worst", "least", "most"))
        case "mdegc":
            towards = {"needed": "up", "cap": "down", "cool_to": "down"}.get(name, "")
            return letters.heat_with_unit(fact, towards)
        case "mk":
            return letters.difference(fact)
        case "kpa":
            return FIGURES.plain(Decimal(fact) / 1000, 0)
        case "ppm":
            return FIGURES.share(Decimal(fact) / 1_000_000)
    return str(fact)


def asked_back(error: FieldError) -> str:
    """What was typed, why it gives no answer, and what would."""
    unit = error.unit.replace("um", "µm")
    allowed = error.allowed.replace("um", "µm").replace("-", MINUS)
    given = f"{visible(error.typed)} {unit}".strip() if error.typed else gettext("nothing")
    return gettext("{given}: {why}. It wants {allowed}.").format(
        given=given, why=_why(error.why), allowed=allowed
    )


def _why(why: str) -> str:
    said = {
        "": gettext("not one of these"),
        OUTSIDE: gettext("outside what is possible"),
        NOT_UNDERSTOOD: gettext("not understood"),
    }
    return said.get(why, why)
