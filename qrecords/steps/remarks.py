"""What a reader is told beside the findings: *unusual*, inside every limit, and *information* (ruling 24).

A remark is no finding: it has no verdict, nothing is decided about it, it keeps nothing from being signed.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from enum import StrEnum

from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.result import Result
from qrecords.steps.case import Case
from qrecords.steps.findings import Fact
from qrecords.steps.fit import ceiling, ceiling_rests, inputs_of, pressed
from qrecords.steps.heating import peak, peak_rests
from qrecords.steps.heatings import heatings
from qrecords.steps.rules import entries

CLOCK_TOLERANCE = timedelta(minutes=5)
"""How far a device's clock may be ahead of the receipt before it is told (house rule)."""


class Kind(StrEnum):
    UNUSUAL = "unusual"
    INFORMATION = "information"


@dataclass(frozen=True)
class Remark:
    """`id` names the sentence, `facts` its values, `inputs` the entries it rests on."""

    id: str
    kind: Kind
    facts: Mapping[str, Fact] = field(default_factory=dict)
    inputs: tuple[str, ...] = ()
    working: Result | None = None


def _hotter_than_aimed(case: Case) -> list[Remark]:
    """Polyamide between 100 and 120 °C: above what one should aim for, under the cap (ruling 11)."""
    every = [(found, view) for view in heatings(case) if (found := peak(view)) is not None]
    if not every:
        return []
    found, case = max(every, key=lambda pair: pair[0].base)
    limit = ceiling(case)
    if limit.aim_c is None:
        return []
    aim, cap = round(limit.aim_c * 1000), round(limit.cap_c * 1000)
    if not aim < found.base <= cap:
        return []
    facts: dict[str, Fact] = {"peak_mdegc": found.base, "aim_mdegc": aim, "cap_mdegc": cap}
    rests = entries([*peak_rests(case), *ceiling_rests(case)])
    return [Remark("hotter-than-aimed", Kind.UNUSUAL, facts | {"ceiling": limit.kind}, rests)]


def _clock_ahead(case: Case) -> list[Remark]:
    """A device ahead of the receipt; one that is behind may only have been offline (ruling 16)."""
    ahead = [
        (tap.at - tap.received, tap)
        for tap in case.taps
        if tap.received and tap.at - tap.received > CLOCK_TOLERANCE
    ]
    if not ahead:
        return []
    most, _ = max(ahead, key=lambda pair: pair[0])
    taps = entries(tap.entry for _, tap in ahead)
    return [Remark("clock-ahead", Kind.INFORMATION, {"ahead_ms": round(most.total_seconds() * 1000)}, taps)]


def _hoop_stress(case: Case) -> list[Remark]:
    """Hoop stress at the bore, with the allowance for a long shaft: shown, not judged (ruling 18)."""
    try:
        fit = pressed(case)
    except EngineeringError:
        return []
    if fit is None:
        return []
    stress = fit.hoop_with_allowance
    return [Remark("hoop-stress", Kind.INFORMATION, {"mpa": round(stress.value)}, inputs_of(case), stress)]


REMARKS: tuple[Callable[[Case], list[Remark]], ...] = (_hotter_than_aimed, _clock_ahead, _hoop_stress)


def all_remarks(case: Case) -> list[Remark]:
    """Everything unusual first, then what is only information."""
    found = [remark for ask in REMARKS for remark in ask(case)]
    return sorted(found, key=lambda remark: remark.kind != Kind.UNUSUAL)
