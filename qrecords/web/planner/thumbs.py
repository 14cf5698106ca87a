"""Rules of thumb on the page of a plan: what each says here, and what is worked out instead."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.habits import Habit
from qrecords.engineering.result import Result
from qrecords.steps.planner.plan import FitPlan
from qrecords.steps.planner.thumb import rules_of_thumb
from qrecords.web import parts
from qrecords.web.planner.pictures import clock
from qrecords.web.planner.workings import fold
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import with_unit
from qrecords.wording.lettering import Lettering

SENTENCES: Mapping[str, tuple[str, str]] = {
    "habit-thousandth-of-the-bore": (
        _("A thousandth of the bore to slide on."),
        _("So much rise for the clearance alone; a running fit (ISO 286, f) needs less."),
    ),
    "habit-eighty-percent": (
        _("The clearance loses 80 % of the interference."),
        _("It depends on the ring, and on the bore of a hollow shaft."),
    ),
    "habit-one-raceway": (
        _("One raceway diameter serves for stress and clearance."),
        _("That of the stress tells too small a loss of clearance."),
    ),
    "habit-narrow-ring": (
        _("The ring is stressed as if the shaft were no longer than it."),
        _("The shaft reaches further and presses harder."),
    ),
    "habit-feeler-while-hot": (
        _("No blade goes in while it is hot, so it is home."),
        _("Gripping first at its far end, it can still draw so far from the shoulder."),
    ),
    "habit-guard-is-u": (
        _("The guard is the whole U of the gauge."),
        _("That was the older edition; now it is 1.65 u."),
    ),
    "habit-rise-from-air": (
        _("The rise counts from the air."),
        _("It counts from the shaft, degree for degree."),
    ),
    "habit-warm-shaft": (
        _("A warm shaft reads near enough."),
        _("A gauge as warm as the air, on this shaft as it is now: the seat is another size at 20 °C."),
    ),
    "habit-volume-coefficient": (
        _("Steel grows by three times α."),
        _("In volume; a bore grows as a length does."),
    ),
    "habit-carry-by-air": (
        _("Only the air cools it on the way."),
        _("The cooler outer ring cools it first."),
    ),
    "habit-held-10-s": (
        _("Hold it for 10 s."),
        _("How long it takes to grip goes by its size and its heat."),
    ),
}
"""By the habit's key: what people say, and why the other number stands."""


@dataclass(frozen=True)
class Thumb:
    """One rule of thumb at this plan's numbers."""

    rule: str
    says: str
    worked_out: str
    why: str
    working: parts.Working


def thumbs(plan: FitPlan, letters: Lettering) -> tuple[Thumb, ...]:
    return tuple(_thumb(habit, letters) for habit in rules_of_thumb(plan))


def _thumb(habit: Habit, letters: Lettering) -> Thumb:
    rule, why = SENTENCES[habit.key]
    if habit.key == "habit-warm-shaft":
        says, computed = gettext("as read"), _off(habit, letters)
    else:
        says, computed = (_figure(result, letters) for result in (habit.habit, habit.computed))
    working = replace(fold("", habit.computed, letters), summary=gettext("show the working"))
    return Thumb(gettext(rule), says, f"({computed})", gettext(why), working)


def _off(habit: Habit, letters: Lettering) -> str:
    """How far the size at 20 °C is from what was read; both are whole sizes in mm."""
    return letters.small_with_unit(round(-habit.difference * 1_000_000), signed=True)


def _figure(result: Result, letters: Lettering) -> str:
    """A number in the reader's units; small ones to a tenth or a hundredth of a µm."""
    match result.unit:
        case "um":
            size = abs(result.value)
            places = 2 if size < 2 else 1 if size < 10 else 0
            if letters.lengths == "in":
                return letters.small_with_unit(round(result.value * 1000))
            return letters.small_with_unit(round(round(result.value, places) * 1000), whole=not places)
        case "°C":
            return letters.heat_with_unit(round(result.value * 1000))
        case "K":
            return letters.difference(round(result.value * 1000))
        case "s":
            return clock(round(result.value))
        case _:
            return with_unit(FIGURES.plain(Decimal(repr(result.value)), 0), result.unit)
