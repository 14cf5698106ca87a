"""From standard to expanded uncertainty where the parts are known from few readings.

k = 2 is the house rule for gauges; a budget whose largest part rests on two or three degrees of freedom
deserves the longer way of JCGM 100:2008, annex G.
"""

import math
from collections.abc import Sequence

from .result import Result, said

# Degrees of freedom → t of 99 %, JCGM 100:2008, table G.2 (from memory; compared with the t distribution).
T_99 = {
    1: 63.66, 2: 9.92, 3: 5.84, 4: 4.60, 5: 4.03, 6: 3.71, 7: 3.50, 8: 3.36, 9: 3.25, 10: 3.17, 11: 3.11,
    12: 3.05, 13: 3.01, 14: 2.98, 15: 2.95, 16: 2.92, 17: 2.90, 18: 2.88, 19: 2.86, 20: 2.85, 25: 2.79,
    30: 2.75, 35: 2.72, 40: 2.70, 45: 2.69, 50: 2.68, 100: 2.626,
}  # fmt: skip


def expanded_99(parts_um: Sequence[tuple[float, float]]) -> Result:
    """U in µm for 99 % from independent parts (u in µm, degrees of freedom): U = t(ν)·√(Σu²).

    ν by Welch and Satterthwaite, rounded down, then down to a row of the table, which can only make U larger.
    Source: JCGM 100:2008, G.4.1 and table G.2.
    """
    combined = math.hypot(*(u for u, _ in parts_um))
    degrees = combined**4 / sum(u**4 / nu for u, nu in parts_um)
    row = max(nu for nu in T_99 if nu <= max(degrees, 1))
    return Result(
        value=T_99[row] * combined, unit="um", u=None, formula="U = t99(ν)·u_c, ν = u_c⁴/Σ(uᵢ⁴/νᵢ)",
        put_in=(("u_c", said(combined, "um")), ("ν", said(math.floor(degrees))), ("t99", said(T_99[row]))),
        assumptions=("parts are independent",), source="JCGM 100:2008, G.4.1 and table G.2",
    )  # fmt: skip
