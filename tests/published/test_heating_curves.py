"""Worked heating curves E18 and E19, computed outside this project.

Source: `engineering_examples.json`: exact by hand from the corners of a piecewise-linear curve, confirmed
there by a reference implementation of its own. Beside them the same two curves by hand, from their corners.
"""

from typing import Any

import pytest

from qrecords.engineering.curve import JudgedCurve, Limits, judge
from qrecords.engineering.curve_cleaning import FALL_MK_PER_S
from qrecords.engineering.measurement import CONFORMING, NONCONFORMING
from qrecords.engineering.result import Result
from tests.engineering.heating_logs import CLEAN, OVERSHOOT, course
from tests.published import example

PROBE_U_MK = 1000


def judged(case: dict[str, Any]) -> JudgedCurve:
    given = case["inputs"]
    limits = Limits(round(given["target_C"] * 1000), round(given["ceiling_C"] * 1000), PROBE_U_MK)
    return judge(list(zip(given["t_s"], given["T"], strict=True)), limits, given["unit"])


@pytest.mark.parametrize(
    ("identity", "names"),
    [
        ("E18", ("peak", "rate_K_s", "above_lo", "soak", "overshoot")),
        ("E19", ("peak", "above_lo", "overshoot", "soak")),
    ],
)
def test_e18_e19_every_number_of_the_worked_curve(identity: str, names: tuple[str, ...]) -> None:
    case = example(identity)
    found = judged(case)
    ours: dict[str, Result | None] = {
        "peak": found.peak, "rate_K_s": found.rate, "above_lo": found.above.low, "soak": found.soak,
        "overshoot": found.overshoot,
    }  # fmt: skip
    assert set(case["expected"]) == set(names)
    for name in names:
        wanted, result = case["expected"][name], ours[name]
        assert result is not None
        assert result.value == pytest.approx(wanted["value"], abs=wanted["tol_abs"]), name
        assert result.unit == wanted["unit"].replace("degC", "°C"), name


def test_e18_conforms_and_e19_does_not() -> None:
    assert judged(example("E18")).verdict == CONFORMING
    assert judged(example("E19")).verdict == NONCONFORMING


def test_the_logs_of_the_two_examples_are_their_corners() -> None:
    for identity, corners in (("E18", CLEAN), ("E19", OVERSHOOT)):
        given = example(identity)["inputs"]
        assert list(zip(given["t_s"], given["T"], strict=True)) == course(corners)


def test_by_hand_rate_1_and_soak_63_seconds() -> None:
    # From 107 °C at 87 s over 30 s held to 107 °C again 30 s after the fall began: 3 + 30 + 30.
    found = judge(course(CLEAN), Limits(110_000, 120_000, PROBE_U_MK))
    assert found.rate is not None
    assert found.rate.value == pytest.approx(1.0)
    assert found.soak.value == pytest.approx(63)
    assert found.above.high.value == 0


def test_by_hand_27_5_seconds_above_the_ceiling_and_15_kelvin_over_the_target() -> None:
    # 5 K at 1 K/s, 10 s held, 5 K at 0.4 K/s: 5 + 10 + 12.5.
    found = judge(course(OVERSHOOT), Limits(110_000, 120_000, PROBE_U_MK))
    assert found.overshoot is not None
    assert found.above.low.value == found.above.high.value == pytest.approx(27.5)
    assert found.overshoot.value == pytest.approx(15)


def test_no_ring_of_the_examples_cools_a_ninth_as_fast_as_what_is_called_a_lost_probe() -> None:
    # E14, the smallest of them (20 mm bore): its fall in moving air, integrated outside this project.
    case = example("E14")
    given, seconds = case["inputs"], case["expected"]["ode_1_m_per_s"]["value"]
    assert 9 * (given["T_start_C"] - given["T_min_C"]) / seconds < FALL_MK_PER_S / 1000
