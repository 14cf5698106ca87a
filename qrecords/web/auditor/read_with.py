"""By what and when the number of a finding was read."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.urls import reverse

from qrecords.steps.case import Case
from qrecords.steps.findings import Finding
from qrecords.steps.gear import GearRecord
from qrecords.tracing.record import Record
from qrecords.web.moments import moment

JOURNAL, BORE, G0 = ("measurement", "gauge"), ("bore", "gauge"), ("clearance_before", "gauge")
G1, FEELER, HEATER = ("clearance_after", "gauge"), ("shoulder_gap", "feeler"), ("heating", "heater")
READ_WITH: Mapping[str, tuple[tuple[str, str], ...]] = {
    "master-check": (JOURNAL, ("measurement", "master")),
    "one-temperature": (("measurement", "thermometer"),),
    "journal-size": (JOURNAL,),
    "journal-roundness": (JOURNAL,),
    "journal-taper": (JOURNAL,),
    "same-digits": (JOURNAL,),
    "bore-in-class": (BORE,),
    "interference": (JOURNAL, BORE),
    "clearance-in-group": (G0,),
    "clearance-forecast": (JOURNAL, BORE, G0),
    "peak-temperature": (HEATER,),
    "ring-difference": (HEATER,),
    "slid-on": (JOURNAL, BORE, HEATER),
    "residual-field": (("demagnetisation", "meter"),),
    "shoulder-gap": (FEELER,),
    "gap-plane": (FEELER,),
    "clearance-found": (G1,),
    "clearance-as-forecast": (G1,),
}
"""By rule the fields that name what its number was read with. Taps are timed by the
device; temperatures of the cold check are asked for without a gauge."""


@dataclass(frozen=True)
class Gauge:
    """The number of a piece, and the page that lists all it was used for."""

    mark: str
    href: str


def gauges_of(finding: Finding, case: Case) -> tuple[Gauge, ...]:
    """What the number was read with, as it was frozen; the piece itself where the finding is about one."""
    named = [case.gear(step, key) for step, key in READ_WITH.get(finding.rule, ())]
    found = [*named, *(_itself(finding, case) if "mark" in finding.facts else ())]
    marks = {gear.mark: gear.id for gear in found if gear is not None}
    return tuple(Gauge(mark, reverse("equipment-uses", args=[id])) for mark, id in marks.items())


def _itself(finding: Finding, case: Case) -> list[GearRecord | None]:
    used = [case.gear(step, key) for step, answers in case.answers.items() for key in answers]
    return [gear for gear in used if gear is not None and gear.mark == finding.facts["mark"]]


def read_at(finding: Finding, record: Record, zone: str) -> str:
    """The moment of the newest reading or tap that the finding rests on; '' where it rests on none."""
    told = [line.at for line in record.lines if str(line.entry.id) in finding.inputs]
    return moment(max(told), zone) if told else ""
