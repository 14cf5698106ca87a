"""Heating logs drawn from their corners, and ways to spoil them."""

from collections.abc import Sequence
from itertools import pairwise

from qrecords.engineering.curve import Limits
from qrecords.engineering.curve_cleaning import Sample

LIMITS = Limits(target_mdegc=110_000, ceiling_mdegc=120_000, u_mk=1000)

CLEAN = ((0, 20.0), (90, 110.0), (120, 110.0), (420, 80.0))
"""20 to 110 °C at 1 K/s, held 30 s, cooled at 0.1 K/s."""
OVERSHOOT = ((0, 20.0), (105, 125.0), (115, 125.0), (165, 105.0))
"""20 to 125 °C at 1 K/s, held 10 s, cooled at 0.4 K/s."""


def course(corners: Sequence[tuple[float, float]] = CLEAN, step_s: float = 1.0) -> list[Sample]:
    """Samples every `step_s` on the straight lines between corners (s, °C), rounded to 0.001 K."""
    samples: list[Sample] = []
    for (t1, a), (t2, b) in pairwise(corners):
        for n in range(round((t2 - t1) / step_s)):
            samples.append((t1 + n * step_s, round(a + (b - a) * n * step_s / (t2 - t1), 3)))
    return [*samples, (float(corners[-1][0]), corners[-1][1])]


def put(samples: Sequence[Sample], at_s: float, *values: float | None) -> list[Sample]:
    """The log with other values from one moment on, one a sample."""
    start = next(n for n, (time, _) in enumerate(samples) if time == at_s)
    changed = list(samples)
    for n, value in enumerate(values):
        changed[start + n] = (changed[start + n][0], value)
    return changed


def without(samples: Sequence[Sample], from_s: float, to_s: float) -> list[Sample]:
    """The log without what lies strictly between two moments."""
    return [sample for sample in samples if not from_s < sample[0] < to_s]


def in_fahrenheit(samples: Sequence[Sample]) -> list[Sample]:
    return [(time, None if value is None else value * 1.8 + 32) for time, value in samples]
