"""How hot a bearing may get, by kind: house defaults, which a procedure or the bearing's own data replace."""

from collections.abc import Collection
from typing import NamedTuple

COMMON_PRACTICE = "common practice, no source"
# Government manuals whose text was read: uniform 93–121 °C; ≤ 121 °C; ≤ 135 °C; greased 95 ± 6 °C.
MANUALS = "MIL-HDBK-1164 table 17; TM 5-3810-307-24; TM 5-4210-233-14&P"


class Ceiling(NamedTuple):
    """One limit of heating: never above `cap_c`; `aim_c`, if any, is as hot as one should mean to go.

    `kind` is a slug; `confirmed` is whether a readable source gives the cap.
    """

    kind: str
    cap_c: float
    aim_c: float | None
    reason: str
    source: str
    confirmed: bool


HOUSE = (
    Ceiling("open", 120, None, "probe error and growth of the steel", f"{COMMON_PRACTICE}; {MANUALS}", True),
    Ceiling(
        "separable_inner_ring", 120, None, "no pinching, but it still magnetises", COMMON_PRACTICE, False
    ),
    Ceiling("polyamide_cage", 120, 100, "the cage softens", COMMON_PRACTICE, False),
    Ceiling("sealed", 80, 80, "grease and seal lip; naval manual 14113: 95 ± 6 °C", COMMON_PRACTICE, False),
    Ceiling("greased", 80, 80, "grease; naval manual 14113: 95 ± 6 °C", COMMON_PRACTICE, False),
    Ceiling(
        "small_clearance", 80, None, "rolling elements clamp: ramp by ring difference", COMMON_PRACTICE, False
    ),
    Ceiling("preloaded", 80, None, "rolling elements clamp: ramp by ring difference", COMMON_PRACTICE, False),
    Ceiling(
        "precision", 80, None, "class 5 and better, until its own data are entered", COMMON_PRACTICE, False
    ),
)
KINDS = tuple(ceiling.kind for ceiling in HOUSE)


def own_data(cap_c: float, source: str) -> Ceiling:
    """A ceiling from the bearing's own data, with where it was read."""
    return Ceiling("own_data", cap_c, None, "the bearing's own data", source, True)


def ceiling_for(
    kinds: Collection[str], own: Ceiling | None = None, house: tuple[Ceiling, ...] = HOUSE
) -> Ceiling:
    """The ceiling of a bearing of these kinds (`open` always applies): the lowest wins and says which it is.

    The bearing's own data, entered with their source before heat, replace the house caps of any kind. Raises
    KeyError for a kind the house has no ceiling for.
    """
    if own is not None:
        return own
    by_kind = {ceiling.kind: ceiling for ceiling in house}
    return min((by_kind[kind] for kind in ("open", *kinds)), key=lambda c: (c.cap_c, c.aim_c or c.cap_c))
