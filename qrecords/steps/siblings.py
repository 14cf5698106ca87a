"""A reading far from its siblings on the same surface: asked about once, while it can still be mended.

House rule, no source. It judges nothing: what is confirmed is recorded as typed; a worn seat may be so.
"""

from collections.abc import Mapping
from statistics import median

from qrecords.steps.fields import Expected

FAR_NM = 20_000
TIMES_SPREAD = 10
"""A reading is odd when it lies farther from the median of the others than this, and than so many times the
spread that the others have among themselves."""
FEWEST_OTHERS = 2


def near_siblings(key: str, bases: Mapping[str, int], usual: Expected) -> Expected | None:
    """What the reading `key` would be near if it were like the others, in nm; None where it is, or where too
    few others were read. 8, 8, 8 and 80: near 8."""
    others = [base for other, base in bases.items() if other != key]
    if len(others) < FEWEST_OTHERS:
        return None
    lowest, highest = min(others), max(others)
    if abs(bases[key] - median(others)) <= max(FAR_NM, TIMES_SPREAD * (highest - lowest)):
        return None
    low, high = lowest - FAR_NM, highest + FAR_NM
    return Expected(usual.value, low, high, usual.deviation_unit, lowest - FAR_NM // 4, highest + FAR_NM // 4)
