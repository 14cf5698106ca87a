"""What a number is expected to be near, so that a slip of the keyboard is asked about while it can be mended.

House rules, all of them: they judge nothing, and what is confirmed is recorded as typed.
"""

from qrecords.steps.case import Case
from qrecords.steps.clearance import group
from qrecords.steps.fields import Expected
from qrecords.steps.requirement import Limits

REACH_NM = 25_000
"""A reading this far outside its limits, or twice their width where that is more, is asked about."""
HOUSING_REACH_NM = 150_000
"""Farther from D than any class of hole for a bearing."""


def expected_for(case: Case, step: str, field: str) -> Expected | None:
    """Near what a reading of journal, bore or clearance lies; None where the field's own range serves."""
    match step, field:
        case "measurement", "journal":
            return _size(case, case.requirement.journal)
        case "bore", "bore":
            return _size(case, case.requirement.bore)
        case ("clearance_before", "g0") | ("clearance_after", "g1"):
            return _clearance(case, before=step == "clearance_before")
        case "housing", "housing_bore":
            return _housing(case)
    return None


def _housing(case: Case) -> Expected:
    """*um from 110 mm* means the deviation; which class the drawing asks is not known yet."""
    nominal = int(case.requirement.outside_mm * 1_000_000)
    unit = f"um from {case.requirement.outside_mm.normalize():f} mm"
    return Expected(nominal, nominal - HOUSING_REACH_NM, nominal + HOUSING_REACH_NM, unit)


def _size(case: Case, limits: Limits) -> Expected:
    """*um from 80 mm* means the deviation."""
    nominal = case.requirement.nominal_nm
    lower, upper = nominal + limits.lower_nm, nominal + limits.upper_nm
    reach = max(REACH_NM, 2 * (upper - lower))
    unit = f"um from {case.requirement.nominal_mm.normalize():f} mm"
    return Expected(nominal, lower - reach, upper + reach, unit, lower, upper)


def _clearance(case: Case, *, before: bool) -> Expected | None:
    """From half the group's least to twice its most; after the fit from nought."""
    limits = group(case)
    if limits is None:
        return None
    least, most = round(limits.min_um * 1000), round(limits.max_um * 1000)
    return Expected(least, least // 2 if before else 0, 2 * most)
