"""The two rings on the heater by another route: their two balances integrated by SciPy.

C_i·dT_i/dt = f·ηP − G·(T_i − T_o) and C_o·dT_o/dt = (1 − f)·ηP + G·(T_i − T_o).
"""

import pytest
from scipy.integrate import solve_ivp

from qrecords.engineering.power import TwoRings, heated_to, inner_temperature, ring_difference

CASES = [
    (TwoRings(0.224, 0.522, 0.5, 1.0), 420.0, 110.0),
    (TwoRings(0.03, 0.07, 0.9, 0.3), 200.0, 110.0),
    (TwoRings(5.0, 17.0, 0.45, 8.0), 3000.0, 95.0),
    (TwoRings(0.224, 0.522, 0.05, 1.0), 420.0, 110.0),  # heated from outside: the inner ring lags
]


def integrated(rings: TwoRings, net_w: float, stop_c: float) -> tuple[float, float]:
    """Seconds until the inner ring is at `stop_c`, and the difference of the rings then."""
    inner, outer = rings.inner_kg * 470, rings.outer_kg * 470

    def rates(_t: float, at: list[float]) -> list[float]:
        crossing = rings.link_w_k * (at[0] - at[1])
        return [
            (rings.inner_share * net_w - crossing) / inner,
            ((1 - rings.inner_share) * net_w + crossing) / outer,
        ]

    def there(_t: float, at: list[float]) -> float:
        return at[0] - stop_c

    there.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(rates, (0, 1e5), [20.0, 20.0], events=there, rtol=1e-9, atol=1e-9)
    (end,) = run.y_events[0]
    return float(run.t_events[0][0]), float(end[0] - end[1])


@pytest.mark.parametrize(("rings", "net_w", "stop_c"), CASES)
def test_time_and_difference_at_the_stop(rings: TwoRings, net_w: float, stop_c: float) -> None:
    seconds, apart_k = integrated(rings, net_w, stop_c)
    found = heated_to(rings, net_w, 20, stop_c)
    assert found.time.value == pytest.approx(seconds, rel=1e-5)
    assert found.difference.value == pytest.approx(apart_k, rel=1e-4)


@pytest.mark.parametrize(("rings", "net_w", "stop_c"), CASES)
def test_the_way_there(rings: TwoRings, net_w: float, stop_c: float) -> None:
    half_c = (20 + stop_c) / 2
    seconds, apart_k = integrated(rings, net_w, half_c)
    assert inner_temperature(rings, net_w, 20, seconds).value == pytest.approx(half_c, abs=1e-3)
    assert ring_difference(rings, net_w, seconds).value == pytest.approx(apart_k, rel=1e-4)


def test_left_alone_the_rings_come_to_what_was_told() -> None:
    rings, net_w, stop_c = CASES[0]
    found = heated_to(rings, net_w, 20, stop_c)
    outer_c = stop_c - found.difference.value
    inner, outer = rings.inner_kg * 470, rings.outer_kg * 470
    run = solve_ivp(
        lambda _t, at: [rings.link_w_k * (at[1] - at[0]) / inner, rings.link_w_k * (at[0] - at[1]) / outer],
        (0, 2000), [stop_c, outer_c], rtol=1e-9, atol=1e-9,
    )  # fmt: skip
    assert run.y[0][-1] == pytest.approx(found.equalised.value, abs=0.01)
    assert run.y[1][-1] == pytest.approx(found.equalised.value, abs=0.01)
