"""A new drawing's own limits against what ISO 286 has for seats: a window ten times off is asked about, until
somebody says where it is written. House rules, wide enough for every fit a heated bearing gets."""

from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.limits import Limits, limits_of_size
from qrecords.engineering.tables import Tables
from qrecords.steps.designated import SOURCES
from qrecords.steps.errors import DocumentError
from qrecords.steps.requirement import Requirement

LOOSEST, TIGHTEST, COARSEST = "f7", "s7", "h9"
"""The lowest and the highest seat of a rolling bearing, and the widest zone (common practice, no source)."""
NO_BORE = "h10"
"""So far from its nominal lies no bore of a bearing: a zone three times the widest there is (house rule)."""


def usual_windows(asked: Requirement, tables: Tables) -> None:
    """DocumentError for limits, interference or form far from what seats of this size have."""
    _own_bore(asked, tables)
    try:
        low, high, wide = (
            limits_of_size(asked.nominal_mm, name, tables) for name in (LOOSEST, TIGHTEST, COARSEST)
        )
    except EngineeringError:
        return  # ISO 286 has no such classes at this size
    if asked.document.get("limits_um"):
        own = (asked.journal.lower_nm, asked.journal.upper_nm)
        _within(asked, "limits_um", own, (low.lower_nm, high.upper_nm), _zone_nm(wide))
    if asked.interference_nm is not None:
        bore_nm = asked.bore.upper_nm - asked.bore.lower_nm
        usual = (low.lower_nm, high.upper_nm + bore_nm)
        _within(asked, "interference_um", asked.interference_nm, usual, _zone_nm(wide) + bore_nm)
    zone_nm = asked.journal.upper_nm - asked.journal.lower_nm
    forms = {"form_um": asked.form_nm, "roundness_um": asked.roundness_nm, "taper_um": asked.taper_nm}
    for field, limit_nm in forms.items():
        if limit_nm is not None:
            _within(asked, field, (0, limit_nm), (0, zone_nm), zone_nm)


def _own_bore(asked: Requirement, tables: Tables) -> None:
    """DocumentError for limits of a bore that no bearing has: where they are written is told of all of them,
    and tells no slip from what stands there."""
    try:
        zone_nm = _zone_nm(limits_of_size(asked.nominal_mm, NO_BORE, tables))
    except EngineeringError:
        return  # ISO 286 has no such class at this size
    own_nm = (asked.bore.lower_nm, asked.bore.upper_nm)
    if asked.own_bore and not (-zone_nm <= own_nm[0] and own_nm[1] <= zone_nm):
        why = f"{_um(own_nm)} is not possible; allowed: {_um((-zone_nm, zone_nm))} for a bore of"
        raise DocumentError("requirement", "bore_um", f"{why} {asked.nominal_mm} mm")


def _zone_nm(limits: Limits) -> int:
    return limits.upper_nm - limits.lower_nm


def _within(
    asked: Requirement, field: str, own_nm: tuple[int, int], usual_nm: tuple[int, int], widest_nm: int
) -> None:
    outside = own_nm[0] < usual_nm[0] or own_nm[1] > usual_nm[1] or own_nm[1] - own_nm[0] > widest_nm
    if outside and not str(asked.document.get(SOURCES[field]) or "").strip():
        of_a_window = field in ("limits_um", "interference_um")
        width = f", {widest_nm / 1000:g} µm wide at most" if of_a_window else ""
        why = (
            f"{_um(own_nm)} is far from {_um(usual_nm)}{width}, where seats of "
            f"{asked.nominal_mm} mm lie; mend it, or say where it is written"
        )
        raise DocumentError("requirement", field, why)


def _um(span_nm: tuple[int, int]) -> str:
    low, high = (f"{end / 1000:g}".replace("-", "−") for end in span_nm)
    return f"{low}…{high} µm"
