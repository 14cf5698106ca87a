"""A series of readings without a record: does it keep within what chance explains, and do the limits leave
it room?"""

from collections.abc import Mapping
from dataclasses import dataclass

from qrecords.engineering.capability import Capability, Limits, capability
from qrecords.engineering.charts import XbarR, xbar_r
from qrecords.engineering.errors import NoSpreadError
from qrecords.engineering.range_factors import D2_D3
from qrecords.engineering.readings import Group
from qrecords.steps.errors import FieldError
from qrecords.steps.planner.form import FURTHEST_NM, Form
from qrecords.steps.planner.lines import NM_IN, NO_SPREAD, even, lines, readings

INPUTS = ("lengths", "readings", "lower", "upper")
LEAST, MOST = min(D2_D3), max(D2_D3)


@dataclass(frozen=True)
class Series:
    """Both charts, in `unit` (um or thou), and the indices where the drawing's limits were given."""

    chart: XbarR
    limits: Limits | None
    indices: Capability | None

    @property
    def unit(self) -> str:
        return self.chart.unit


def asked_for(typed: Mapping[str, str]) -> bool:
    """Whether anything was asked at all; the unit alone asks nothing."""
    return any(typed.get(name, "").strip() for name in INPUTS if name != "lengths")


def read_series(typed: Mapping[str, str]) -> tuple[Series | None, dict[str, FieldError]]:
    """The series worked out, or every field that gives no answer with value, unit and what is allowed."""
    form = Form(typed)
    limits, groups = _of_drawing(form), _subgroups(form)
    if form.asks:
        return None, form.asks
    try:
        chart = xbar_r(groups, form.deviation_unit)
    except NoSpreadError:
        form.ask("readings", NO_SPREAD, unit=form.deviation_unit)
        return None, form.asks
    return Series(chart, limits, capability(groups, limits) if limits else None), {}


def _subgroups(form: Form) -> list[Group]:
    found = lines(form, "readings")
    groups = [(number, readings(form, "readings", number, words)) for number, words in found]
    whole = [(number, group) for number, group in groups if group is not None]
    if form.asks.get("readings") or not whole:
        return []
    even(form, "readings", [(number, len(group)) for number, group in whole], LEAST, MOST)
    return [group for _, group in whole]


def _of_drawing(form: Form) -> Limits | None:
    ends = [form.length_nm(name, -FURTHEST_NM, FURTHEST_NM) for name in ("lower", "upper")]
    lower, upper = (None if nm is None else nm / NM_IN[form.deviation_unit] for nm in ends)
    if lower is None and upper is None:
        return None
    if lower is not None and upper is not None and lower >= upper:
        form.ask("upper", "not-over-lower", unit=form.deviation_unit, lower=form.text("lower"))
        return None
    return Limits(lower, upper, form.deviation_unit)
