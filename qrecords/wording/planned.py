"""A plan's verdicts in sentences, for its page and for the API: the number first, then what follows."""

from collections.abc import Mapping
from decimal import Decimal

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.findings import Fact
from qrecords.steps.planner.judging import Judged
from qrecords.wording.ceilings import ceiling_name
from qrecords.wording.figures import Figures
from qrecords.wording.lettering import Lettering

FIGURES = Figures(".")
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
    "heat.draught": _(
        "No plan in a draught of {air}:|over {fastest} it cools faster than any model here says. Shut it out."
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
    "habit.no-time": _(
        "A fixed {habit}|leaves no time to carry: it must still be {must} when it meets the seat. Set {set}."
    ),
    "own ceiling.tempers": _(
        "A ceiling of {cap}:|steel without a mark of its own tempers from {usual}. Read it again."
    ),
    "own ceiling.soft": _(
        "A ceiling of {cap}:|seals, grease and polyamide bear {usual} at most. Read it again."
    ),
    "habit.serves": _("A fixed {habit}|serves here: your {fit} needs ({needed})."),
}
"""By `about.reason`; a lead and a rest divided by a bar. Both clearances share theirs."""


def message_id(judged: Judged) -> str:
    """Under which its sentence stands; both clearances share theirs."""
    return f"{judged.about.removeprefix('other ')}.{judged.reason}"


def told(judged: Judged, letters: Lettering) -> tuple[str, str]:
    """A verdict's sentence, its lead and its rest; nothing of a plan that says itself what it says."""
    template = SENTENCES.get(message_id(judged))
    if template is None:
        return "", ""
    lead, rest = gettext(template).split("|")
    facts = _lettered(judged, letters)
    return lead.format(**facts), rest.format(**facts)


def _lettered(judged: Judged, letters: Lettering) -> dict[str, str]:
    found: dict[str, str] = {}
    deviation = judged.about in ("journal", "bore")
    for name, fact in judged.facts.items():
        plain, _of, unit = name.partition("_mm_s") if name.endswith("_mm_s") else name.rpartition("_")
        unit = unit or "mm_s"
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
        case "mm_s":
            return letters.speed(fact)
        case "ppm":
            return FIGURES.share(Decimal(fact) / 1_000_000)
    return str(fact)
