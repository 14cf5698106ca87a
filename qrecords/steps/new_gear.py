"""A piece of equipment as it comes in: what an old entry may still hold is asked back while somebody can mend
it. The ranges are house rules that find slips; they say nothing about gauges."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from qrecords.engineering import units
from qrecords.engineering.errors import shortened
from qrecords.steps.errors import DocumentError
from qrecords.steps.gear import HEATER_KINDS, IN_USE, STATUSES

FIGURES = ("expanded_u", "resolution", "repeatability")
SOURCE = "figures_source"
"""Field that says where figures out of the common are written."""
BLADES_NM = (10_000, 3_000_000)
MOST_BLADES = 40
POWER_W = (50, 500_000)
SIZES_NM = (0, 2_000_000_000)
BASE = {"length": "nm", "temperature_difference": "mK", "field": "nT"}
MEND = "mend it, or say where it is written"


def is_whole(sent: Any) -> bool:
    """A whole number, and no text that looks like one."""
    return isinstance(sent, int) and not isinstance(sent, bool)


@dataclass(frozen=True)
class Scale:
    """What a kind measures: the quantity of its errors and the unit people say them in; the most that can be,
    and what is usual of U (k = 2) and of the step, in base units."""

    quantity: str
    unit: str
    most: int
    usual_u: tuple[int, int]
    usual_step: tuple[int, int]

    def said(self, base: int) -> str:
        """`0.58 µm`; a number no figure is kept of begins as it was sent."""
        if abs(base) > units.BIGGEST_BASE:
            return shortened(str(base))
        return f"{units.show(base, self.quantity, self.unit)} {self.unit_said}"

    def told(self, sent: Any) -> str:
        """What is wrong with what was sent for a figure: no whole number, or a size that cannot be."""
        if not is_whole(sent):
            return f"{shortened(str(sent))!r} is no whole number of {BASE[self.quantity]}"
        return f"{self.said(sent)} is not possible"

    def span(self, ends: tuple[int, int]) -> str:
        low, high = (units.show(end, self.quantity, self.unit) for end in ends)
        return f"{low}…{high} {self.unit_said}"

    @property
    def unit_said(self) -> str:
        return self.unit.replace("um", "µm")


def _length(usual_u: tuple[int, int], usual_step: tuple[int, int] = (100, 5_000)) -> Scale:
    return Scale("length", "um", 1_000_000, usual_u, usual_step)


SCALES: Mapping[str, Scale] = {
    "outside micrometer": _length((300, 5_000)),
    "bore gauge": _length((300, 5_000)),
    "setting master": _length((100, 5_000)),
    "dial indicator": _length((300, 9_000), (100, 10_000)),
    "feeler set": _length((300, 10_000)),
    "thermometer": Scale("temperature_difference", "K", 50_000, (200, 5_000), (10, 1_000)),
    "temperature probe": Scale("temperature_difference", "K", 50_000, (200, 5_000), (10, 1_000)),
    "heater": Scale("temperature_difference", "K", 50_000, (500, 10_000), (10, 5_000)),
    "field meter": Scale("field", "mT", 10_000_000, (3_000, 90_000), (100, 10_000)),
}


def read_new_gear(kind: str, document: Mapping[str, Any]) -> None:
    """DocumentError for the first fault of a new version."""
    for fault in gear_faults(kind, document):
        raise fault


def gear_faults(kind: str, document: Mapping[str, Any]) -> Iterator[DocumentError]:
    """Every field that cannot be; and of a piece in use what is missing for its kind or out of the common
    without a source. What is lost, dropped or scrapped can always be taken out of use, whatever is known."""
    scale, status = SCALES[kind], document.get("status", IN_USE)
    in_use = status == IN_USE
    if status not in STATUSES:
        yield _fault("status", f"{shortened(str(status))!r}; allowed: {', '.join(STATUSES)}")
    figures = {name: document[name] for name in FIGURES if document.get(name) is not None}
    impossible = [n for n, base in figures.items() if not is_whole(base) or not 0 <= base <= scale.most]
    for name in impossible:
        told, allowed = scale.told(figures[name]), scale.span((0, scale.most))
        yield _fault(name, f"{told}; allowed: {allowed}")
    if in_use and not impossible and not str(document.get(SOURCE) or "").strip():
        yield from _out_of_the_common(kind, scale, figures)
    yield from _sizes(document)
    if kind == "feeler set":
        yield from _blades(document, least=1 if in_use else 0)
    if kind == "heater":
        yield from _heater_kind(document, in_use=in_use)
        yield from _power(document)


def _out_of_the_common(kind: str, scale: Scale, figures: Mapping[str, int]) -> Iterator[DocumentError]:
    """U or step ten times off, and what contradicts the step: nobody can calibrate below what one step
    hides, 2·a/√12 (JCGM 100:2008, F.2.2.1), nor to a U that is less than the spread of single readings."""
    usual = {"expanded_u": scale.usual_u, "resolution": scale.usual_step}
    step, u = figures.get("resolution", 0), figures.get("expanded_u")
    for name, (low, high) in usual.items():
        base = figures.get(name)
        without_step = name == "resolution" and base == 0
        if base is not None and not without_step and not low <= base <= high:
            far = f"{scale.said(base)} is far from the usual {scale.span((low, high))} ({kind})"
            yield _fault(name, f"{far}; {MEND}")
            return
    hidden = math.floor(step / math.sqrt(3))
    if u is not None and u < hidden:
        why = f"{scale.said(u)} is less than the step of {scale.said(step)} alone hides, {scale.said(hidden)}"
        yield _fault("expanded_u", f"{why}; {MEND}")
    spread = figures.get("repeatability", 0)
    if u is not None and spread > u:
        why = f"{scale.said(spread)} is more than U, {scale.said(u)}"
        yield _fault("repeatability", f"{why}; {MEND}")


def _power(document: Mapping[str, Any]) -> Iterator[DocumentError]:
    power = document.get("power_w")
    if power is not None and (not is_whole(power) or not POWER_W[0] <= power <= POWER_W[1]):
        told = (
            f"{power} W is not possible"
            if is_whole(power)
            else f"{shortened(str(power))!r} is no number of W"
        )
        yield _fault("power_w", f"{told}; allowed: {POWER_W[0]}…{POWER_W[1]} W")


def _heater_kind(document: Mapping[str, Any], *, in_use: bool) -> Iterator[DocumentError]:
    told = document.get("heater_kind")
    if not told and in_use:
        yield _fault("heater_kind", f"of a heater, is not given; allowed: {', '.join(HEATER_KINDS)}")
    elif told and told not in HEATER_KINDS:
        yield _fault("heater_kind", f"{shortened(str(told))!r}; allowed: {', '.join(HEATER_KINDS)}")


def _blades(document: Mapping[str, Any], least: int) -> Iterator[DocumentError]:
    blades = list(document.get("blades_nm", ()))
    allowed = f"1 to {MOST_BLADES} blades of {_mm(BLADES_NM[0])}…{_mm(BLADES_NM[1])} mm"
    wrong = [blade for blade in blades if not is_whole(blade) or not BLADES_NM[0] <= blade <= BLADES_NM[1]]
    if wrong:
        yield _fault("blades_nm", f"a blade of {_told(wrong[0])}; allowed: {allowed}")
    elif not least <= len(blades) <= MOST_BLADES:
        yield _fault("blades_nm", f"{len(blades)} blades of a feeler set are given; allowed: {allowed}")


def _sizes(document: Mapping[str, Any]) -> Iterator[DocumentError]:
    """The sizes it measures: from a smaller to a larger one."""
    ends = document.get("range_nm")
    if ends is None:
        return
    low, high = ends
    allowed = f"{_mm(SIZES_NM[0])}…{_mm(SIZES_NM[1])} mm"
    wrong = [end for end in (low, high) if not is_whole(end) or not SIZES_NM[0] <= end <= SIZES_NM[1]]
    if wrong:
        yield _fault("range_nm", f"{_told(wrong[0])}; allowed: {allowed}")
    elif low >= high:
        why = f"{_mm(high)} mm is not above {_mm(low)} mm, where it measures from; allowed: {allowed}"
        yield _fault("range_nm", why)


def _told(sent: Any) -> str:
    if not is_whole(sent):
        return f"{shortened(str(sent))!r} is no whole number of nm"
    return f"{_mm(sent)} mm is not possible"


def _mm(base_nm: int) -> str:
    return shortened(str(base_nm)) if abs(base_nm) > units.BIGGEST_BASE else f"{base_nm / 1_000_000:.9g}"


def _fault(field: str, why: str) -> DocumentError:
    return DocumentError("equipment", field, why)
