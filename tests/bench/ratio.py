"""One measured ratio, and the way to take it."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True)
class Ratio:
    """Our time and the baseline's for the same work, in ms, and the ratio we allow ourselves."""

    what: str
    ours_ms: float
    baseline: str
    baseline_ms: float
    allowed: float

    @property
    def value(self) -> float:
        return self.ours_ms / self.baseline_ms


def alternating(
    ours: Callable[[], object], baseline: Callable[[], object], rounds: int
) -> tuple[float, float]:
    """Medians of both in ms, taken in turns after one warm-up of each."""
    ours(), baseline()
    taken = [(timed_ms(ours), timed_ms(baseline)) for _ in range(rounds)]
    return median(one for one, _ in taken), median(other for _, other in taken)


def timed_ms(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return (time.perf_counter() - began) * 1000
