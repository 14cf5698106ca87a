"""Gauges and meters: in date, fine enough for what they judge, and right on their master."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from qrecords.steps.case import Answered, Case
from qrecords.steps.elsewhere import ShiftCheck
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.frozen import days_of, gear_on_receipt
from qrecords.steps.gear import GearRecord
from qrecords.steps.requirement import Limits
from qrecords.steps.rules import Rule, absent, said_absent, standing

STEP_ID = "measurement"


def master_limit_nm(gauge: GearRecord) -> int:
    """How far a reading on the master may be off: the gauge's own U, at least one digit (house rule)."""
    return max(gauge.expanded_u or 0, gauge.resolution)


def master_off(case: Case, key: str) -> bool:
    found, gauge = case.value_of(STEP_ID, key), case.gear(STEP_ID, "gauge")
    return found is not None and gauge is not None and abs(found.base) > master_limit_nm(gauge)


def shift_off(case: Case) -> ShiftCheck | None:
    """The check on the master after the shift in which the journal was measured, where the gauge was off by
    more than it may: the readings between are in doubt (ruling 4). Known when *ready* is said, and later."""
    gauge = case.gear(STEP_ID, "gauge")
    check = case.elsewhere.checked_after(gauge.id) if gauge else None
    return check if check is not None and not check.within else None


def on_master(rule: Rule, case: Case) -> list[Finding]:
    """Gauge checked on its master before; one that is off afterwards puts the readings between in doubt. What
    is not named as a master has no known size."""
    found, gauge = case.value_of(STEP_ID, "master_before"), case.gear(STEP_ID, "gauge")
    inputs = standing(case, STEP_ID, "gauge", "master", "master_before", "master_after")
    if found is None:
        return absent(rule, case, STEP_ID, "master_before", "master check")
    if gauge is None:
        return absent(rule, case, STEP_ID, "gauge", "master check", inputs)
    off = [key for key in ("master_before", "master_after") if master_off(case, key)]
    shift = shift_off(case)
    if shift is not None and not off:
        told = rule.finding(
            "master check", Verdict.NOT_PROVEN, inputs=inputs, off_nm=shift.off_nm, limit_nm=shift.limit_nm
        )
        return [replace(told, unit="nm", value=abs(shift.off_nm), upper=shift.limit_nm)]
    if not off and case.value_of(STEP_ID, "master") is None:
        unnamed = absent(rule, case, STEP_ID, "master", "master check", inputs)
        if unnamed:
            return unnamed
    limit = master_limit_nm(gauge)
    verdict = Verdict.NOT_PROVEN if off else Verdict.CONFORMING
    which = case.value_of(STEP_ID, off[-1]) if off else found
    assert which is not None  # noqa: S101 - both keys were found above
    finding = rule.finding("master check", verdict, inputs=inputs, off_nm=which.base, limit_nm=limit)
    return [replace(finding, unit="nm", value=abs(which.base), upper=limit)]


@dataclass(frozen=True)
class Use:
    """One use of a piece: as it stood on the first day it can have been, and as it stood on the last."""

    answered: Answered
    gear: GearRecord
    received: GearRecord
    days: tuple[date, date]

    @property
    def fault(self) -> str:
        """Why it proves nothing, as a message ending; else empty. Where the first day and the last give
        different answers, which of them was the day is not proven."""
        first, last = self.gear.fault(self.days[0]), self.received.fault(self.days[1])
        if bool(first) == bool(last):
            return first
        return "between-status" if "not-in-use" in (first, last) else "between"

    @property
    def stood(self) -> GearRecord:
        """The piece as it stood when it had its fault; as at the act where it had none."""
        return self.received if self.fault and not self.gear.fault(self.days[0]) else self.gear


NAMED = {
    "gauge of the journal": (STEP_ID, "gauge"),
    "setting master": (STEP_ID, "master"),
    "gauge of the bore": ("bore", "gauge"),
    "feeler set": ("shoulder_gap", "feeler"),
}
"""Whatever else was used, these are named: without them nobody knows what the work was measured with."""


def _bore_measured(case: Case) -> bool:
    return any(case.value_of("bore", answered.key) for answered in case.many("bore", "bore"))


def _not_named(rule: Rule, case: Case) -> list[Finding]:
    """Gauges said not to be named; a bore taken from its class needs none."""
    asked = {name: place for name, place in NAMED.items() if place[0] != "bore" or _bore_measured(case)}
    found = (said_absent(rule, case, name, [place]) for name, place in asked.items())
    return [finding for missing in found for finding in missing]


def dated(rule: Rule, case: Case) -> list[Finding]:
    """Every gauge and meter that was used was in date and in use on that day; its last day counts. One
    finding a piece, however often it was used: one use of it that was not proven makes it so."""
    uses: dict[str, list[Use]] = {}
    for step, answers in case.answers.items():
        for key, answered in answers.items():
            gear = case.gear(step, key)
            if gear is None or gear.kind == "heater":
                continue
            received = gear_on_receipt(case, step, key)
            if received is not None:
                days = days_of(case, answered)
                uses.setdefault(gear.mark, []).append(Use(answered, gear, received, days))
    return [*(_in_date(rule, used) for used in uses.values()), *_not_named(rule, case)]


def _in_date(rule: Rule, uses: list[Use]) -> Finding:
    use = next((use for use in uses if use.fault), uses[-1])
    stood = use.stood
    return rule.finding(
        f"gauge {stood.mark}",
        Verdict.NOT_PROVEN if use.fault else Verdict.CONFORMING,
        use.fault,
        inputs=[each.answered for each in uses],
        mark=stood.mark,
        due=stood.due.isoformat() if stood.due else "",
        status=stood.status,
        first=use.days[0].isoformat(),
        last=use.days[1].isoformat(),
    )


def fine_enough(rule: Rule, case: Case) -> list[Finding]:
    """U (k = 2) at most a quarter of the zone it judges (textbook practice)."""
    judged: Mapping[str, Limits] = {"measurement": case.requirement.journal, "bore": case.requirement.bore}
    found = []
    for step, limits in judged.items():
        answered, gear = case.value_of(step, "gauge"), case.gear(step, "gauge")
        if answered is None or gear is None:
            if step == "measurement":
                found += absent(rule, case, step, "gauge", "gauge fine enough")
            elif _bore_measured(case):
                found += said_absent(rule, case, "bore gauge fine enough", [(step, "gauge")])
            continue
        zone = limits.upper_nm - limits.lower_nm
        limit = zone // 4
        expanded = gear.whole_u if gear.whole_u is not None else zone
        verdict = Verdict.CONFORMING if expanded <= limit else Verdict.NOT_PROVEN
        name = f"{gear.mark} fine enough for the {'journal' if step == 'measurement' else 'bore'}"
        finding = rule.finding(
            name,
            verdict,
            inputs=[answered],
            mark=gear.mark,
            expanded_nm=expanded,
            limit_nm=limit,
            zone_nm=zone,
        )
        doubts = limits.unconfirmed
        found.append(replace(finding, unit="nm", value=expanded, upper=limit, unconfirmed=doubts))
    return found
