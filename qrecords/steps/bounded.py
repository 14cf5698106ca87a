"""What is known of a fit of which readings were lost, after the ring is on: its bounds, from what was
measured and from the class limits of what was not. An estimate, and never a measurement."""

from dataclasses import dataclass

from qrecords.steps.bore import bore
from qrecords.steps.case import Case
from qrecords.steps.gauges import STEP_ID
from qrecords.steps.measurement import journal, wanted_places

Span = tuple[int, int]


@dataclass(frozen=True)
class Bounds:
    """Interference in nm, least and most; what of it was `measured`: *journal*, *bore* or both; and whether
    the whole of it lies in the window that the drawing allows, or that its classes come to."""

    least_nm: int
    most_nm: int
    measured: str
    lower_nm: int
    upper_nm: int

    @property
    def inside(self) -> bool:
        return self.lower_nm <= self.least_nm and self.most_nm <= self.upper_nm


def bounded_fit(case: Case) -> Bounds | None:
    """The bounds of the interference; None where neither journal nor bore was measured at all. A place of the
    journal that was lost counts as anything its limits allow; a bore that was not measured as its class."""
    asked = case.requirement
    on, inside = _journal(case), _bore(case)
    measured = " and ".join(name for name, span in (("journal", on), ("bore", inside)) if span)
    if not measured:
        return None
    ends = asked.journal.lower_nm, asked.journal.upper_nm
    of_class = asked.bore.lower_nm, asked.bore.upper_nm
    low, high = on or ends
    small, large = inside or of_class
    window = asked.interference_nm or (ends[0] - of_class[1], ends[1] - of_class[0])
    return Bounds(low - large, high - small, measured, *window)


def _journal(case: Case) -> Span | None:
    found = journal(case)
    if found is None:
        return None
    readings = [point.deviation_nm for point in found.points]
    places = {(point.plane, point.direction) for point in found.points}
    whole = places >= set(wanted_places(case)) and not _absent(case)
    limits = case.requirement.journal
    ends = [] if whole else [limits.lower_nm, limits.upper_nm]
    return min(readings + ends), max(readings + ends)


def _absent(case: Case) -> bool:
    """A place that was asked for and said to have no value."""
    return any(case.value_of(STEP_ID, given.key) is None for given in case.many(STEP_ID, "journal"))


def _bore(case: Case) -> Span | None:
    found = bore(case)
    if found is None:
        return None
    readings = [point.deviation_nm for point in found.points]
    return min(readings), max(readings)
