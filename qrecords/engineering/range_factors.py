"""What the range of a few readings says of their spread, normal readings taken for granted.

d2 and d3 are mean and standard deviation of the range of n standard normal readings. Computed by integrating
the distribution of the range (Tippett), to six decimals; the tests integrate again by another route and
compare with ASTM E2587 and NIST/SEMATECH e-Handbook 6.3.2.
"""

import math
from typing import NamedTuple

from .readings import counted

SOURCE = "NIST/SEMATECH e-Handbook 6.3.2.1; ASTM E2587"
D2_D3 = {
    2: (1.128379, 0.852502),
    3: (1.692569, 0.888368),
    4: (2.058751, 0.879808),
    5: (2.325929, 0.864082),
    6: (2.534413, 0.848040),
    7: (2.704357, 0.833205),
    8: (2.847201, 0.819831),
    9: (2.970026, 0.807834),
    10: (3.077505, 0.797051),
}


class RangeFactors(NamedTuple):
    """The factors for ranges of n readings, and those of the X̄-R chart that follow from d2 and d3."""

    n: int
    d2: float
    d3: float

    @property
    def mean_limit(self) -> float:
        """A2 = 3/(d2·√n): x̿ ± A2·R̄ are the limits of the means."""
        return 3 / (self.d2 * math.sqrt(self.n))

    @property
    def lower_range(self) -> float:
        """D3 = 1 − 3·d3/d2, never below 0: D3·R̄ is the lower limit of the ranges."""
        return max(0.0, 1 - 3 * self.d3 / self.d2)

    @property
    def upper_range(self) -> float:
        """D4 = 1 + 3·d3/d2: D4·R̄ is the upper limit of the ranges."""
        return 1 + 3 * self.d3 / self.d2

    def of_few(self, ranges: int) -> float:
        """d2* = √(d2² + d3²/g), the divisor where only g ranges were averaged (Duncan; Patnaik)."""
        return math.sqrt(self.d2**2 + self.d3**2 / ranges)

    def degrees(self, ranges: int) -> float:
        """Degrees of freedom of the mean of g ranges, g·d2²/(2·d3²): fewer than g·(n − 1)."""
        return ranges * self.d2**2 / (2 * self.d3**2)


def factors(n: int, of: str = "readings in a subgroup") -> RangeFactors:
    """The factors for n from 2 to 10; raises OutOfRangeError beyond, where a range wastes readings."""
    return RangeFactors(n, *D2_D3[counted(of, n, min(D2_D3), max(D2_D3))])
