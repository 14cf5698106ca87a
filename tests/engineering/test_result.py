"""Every model's answer explains itself: value, formula, the numbers put in, source."""

import pytest

from qrecords.engineering import budgets, capability, clearance, cooling, fits, gap, growth, measurement
from qrecords.engineering.bearings import bore_limits
from qrecords.engineering.charts import xbar_r
from qrecords.engineering.gauge_study import Terms, by_anova, by_ranges
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.result import Result, said

RING = cooling.Ring(60, 110, 22)
PRESSED = fits.press_fit(60, 72.5, 30, width_mm=22)
SHAFTS = [[18.0, 19.0, 17.5], [18.5, 18.0, 19.5], [17.0, 18.0, 18.5]]
CHART = xbar_r(SHAFTS)
CAPABLE = capability.capability(SHAFTS, capability.Limits(11.0, 30.0))
STUDY = by_anova([SHAFTS, SHAFTS[::-1]], Terms(tolerance=19.0))
BUDGET = budgets.combine(
    [budgets.Component("repeats", 0.8, degrees=8), budgets.Component("calibration", 0.7)]
)
MODELS = {
    "growth": growth.growth(60, 90),
    "seat clearance": growth.seat_clearance(60, 30, 110, 20),
    "required temperature": growth.required_temperature(60, 30, 10, 20),
    "warmest shaft": growth.warmest_shaft(60, 30, 10, 110),
    "least clearance": growth.least_clearance(60),
    "ring difference": growth.ring_difference_allowed(8, 70, 100)[0],
    "mass": cooling.mass_estimate(RING),
    "time constant": cooling.time_constant(RING),
    "carry time": cooling.carry_time(RING, 110, 90, 20),
    "carry drop": cooling.carry_drop(RING, 110, 20, 30),
    "equalised": cooling.equalised_c(110, 90),
    "grip": cooling.pressing_time(60, 72.5, 30, 110, 20).grip,
    "interference": fits.from_readings([[60.02]], [[59.99]], 1, 1).mean,
    "interference by class": fits.from_bore_class([[60.02]], bore_limits(60, "Normal"), 1).mean,
    "class fit": fits.from_classes(limits_of_size(60, "m6"), bore_limits(60, "Normal")).mean,
    "smoothed": fits.smoothed(30, 60),
    "pressure": PRESSED.pressure,
    "hoop": PRESSED.hoop_with_allowance,
    "loss factor": clearance.loss_factor(60, 110),
    "forecast": clearance.forecast(
        clearance.Spread.of_limits(23, 43),
        clearance.Spread.of_reading(30, 1),
        60,
        clearance.loss_factor(60, 110),
    ).mean,
    "tilt": gap.plane([gap.GapReading(angle, 30) for angle in (0, 90, 180, 270)], 31).tilt,
    "gauge": measurement.gauge_uncertainty(1.5, 1.0),
    "reading": measurement.reading_uncertainty(0.6, 60, 0.5, 0.5),
    "at 20 °C": measurement.at_20(60.018, 45, 25),
    "roundness": measurement.two_point_roundness([[60_000_000, 60_001_000]]),
    "mean of a chart": CHART.mean,
    "limit of means": CHART.mean_upper,
    "limit of ranges": CHART.range_upper,
    "cpk": CAPABLE.cpk.value,
    "end of the interval of ppk": CAPABLE.ppk.low,
    "gauge by variances": STUDY.gauge.sigma,
    "width of the gauge": STUDY.gauge.width,
    "share of the variance": STUDY.gauge.of_variance,
    "share of sigma": STUDY.parts.of_sigma,
    "share of the tolerance": STUDY.of_tolerance,
    "categories": STUDY.categories,
    "gauge by ranges": by_ranges([SHAFTS, SHAFTS[::-1]]).gauge.sigma,
    "combined": BUDGET.combined,
    "degrees of freedom": BUDGET.degrees,
    "expanded": BUDGET.expanded,
}


@pytest.mark.parametrize("name", MODELS)
def test_an_answer_names_its_formula_its_numbers_and_its_source(name: str) -> None:
    result = MODELS[name]
    assert isinstance(result, Result)
    assert result.formula and result.source and result.unit
    assert result.put_in and all(symbol and text for symbol, text in result.put_in)
    assert result.u is None or result.u >= 0


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [(60.0, "mm", "60 mm"), (11.5, "10⁻⁶/K", "11.5 10⁻⁶/K"), (0.857142857, "", "0.857143")],
)
def test_numbers_are_said_plainly(value: float, unit: str, text: str) -> None:
    assert said(value, unit) == text
