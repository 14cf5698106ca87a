"""Every rule with a good and a bad value, *not done*, *not possible*, *not applicable*, and nothing."""

from dataclasses import dataclass
from typing import Any

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.findings import Verdict
from qrecords.steps.procedure import STANDARD
from qrecords.steps.standard import RULES
from tests.steps.casebook import Book, sound

NONE = "no finding"


@dataclass(frozen=True)
class Ruled:
    """One rule and the field that decides it. `bad` is an answer and the verdict it must give."""

    rule: str
    step: str
    field: str
    bad: Any
    verdict: str
    without: tuple[str, ...] = ()
    """Fields left out where the answer is absent: they would say the same in another way."""


UM = "um from 60 mm"
BORE_POINTS = tuple(f"bore__{plane}__{at}" for plane in "AB" for at in ("0", "60", "120"))
RULED = (
    Ruled("ring-marking", "identification", "marking", "6212", "nonconforming"),
    Ruled("package-intact", "identification", "package", "opened", "query"),
    Ruled("edge-burrs", "preparation", "edge_burrs", "left", "nonconforming"),
    Ruled("shoulder-burrs", "preparation", "shoulder_burrs", "left", "nonconforming"),
    Ruled("fillet-clears", "preparation", "fillet", "too large", "nonconforming"),
    Ruled("wiped-clean", "preparation", "wiped", "no", "nonconforming"),
    Ruled("gear-ready", "preparation", "gear_ready", "no", "nonconforming"),
    Ruled("zone-kept", "preparation", "zone", "no", "nonconforming"),
    Ruled("master-check", "measurement", "master_before", ("1.1", "um"), "not proven"),
    Ruled("one-temperature", "measurement", "shaft", ("25.1", "°C"), "not proven"),
    Ruled("one-temperature", "measurement", "bearing", ("25.1", "°C"), "not proven"),
    Ruled("one-temperature", "measurement", "gauge_temp", ("14.9", "°C"), "not proven"),
    Ruled("journal-readings", "measurement", "journal__B__60", None, NONE),
    Ruled("bore-in-class", "bore", "source", None, NONE, BORE_POINTS),
    Ruled("clearance-in-group", "clearance_before", "g0", ("60", "um"), "nonconforming"),
    Ruled("heater-named", "heating", "heater", None, NONE),
    Ruled("set-up", "heating", "setup", None, NONE),
    Ruled("probe-on-inner-ring", "heating", "probe", "outer ring", "nonconforming"),
    Ruled("peak-temperature", "heating", "peak", ("134", "°C"), "nonconforming"),
    Ruled("ring-difference", "heating", "peak_outer", ("60", "°C"), "query"),
    Ruled("demagnetised", "demagnetisation", "cycle", "left out", "nonconforming"),
    Ruled("residual-field", "demagnetisation", "field", ("6.4", "A/cm"), "nonconforming"),
    Ruled("seat-film", "seating", "film", None, NONE),
    Ruled("went-home", "seating", "went_home", "stuck", "nonconforming"),
    Ruled("not-dropped", "seating", "dropped", "yes", "nonconforming"),
    Ruled("not-hammered", "seating", "hammered", "yes", "nonconforming"),
    Ruled("held", "seating", "held_by", None, NONE),
    Ruled("cold-when-checked", "shoulder_gap", "ring_temp", ("25.1", "°C"), "not proven"),
    Ruled("cold-when-checked", "shoulder_gap", "shaft_temp", ("15.9", "°C"), "not proven"),
    Ruled("shoulder-gap", "shoulder_gap", "gap__180", ("0.05", "mm"), "nonconforming"),
    Ruled("clearance-found", "clearance_after", "g1", None, NONE),
    Ruled("clearance-as-forecast", "clearance_after", "g1", ("40", "um"), "query"),
    Ruled("turns-freely", "running", "turns", "rough", "nonconforming"),
    Ruled("covered", "protection", "covered", "no", "nonconforming"),
    Ruled("cold-released", "protection", "covered", None, NONE),
)
ELSEWHERE = {
    # Judged from other facts than one field; their own tests stand in the files named.
    "own-reading": "test_identification",
    "gauge-in-date": "test_measurement",
    "gauge-fine-enough": "test_measurement",
    "journal-size": "test_measurement",
    "journal-roundness": "test_measurement",
    "journal-taper": "test_measurement",
    "interference": "test_fit",
    "clearance-forecast": "test_fit",
    "released-before-heat": "test_release",
    "slid-on": "test_heating",
    "pressed-home": "test_heating",
    "gap-plane": "test_shoulder_gap",
    "photos-present": "test_crosschecks",
    "photo-used-before": "test_crosschecks",
    "competence": "test_crosschecks",
    "heatings": "test_crosschecks",
    "reading-speed": "test_crosschecks",
    "same-digits": "test_crosschecks",
}
OPTIONAL = {*STANDARD["optional"], *STANDARD["optional_for_ball_and_sealed"]}
"""What may be left out of the ball bearing of these tests."""
BY_HEATER = {"zone-kept"}
"""Not applicable only to a heater without a field; the one of these tests makes one."""
SILENT_WITHOUT = {"clearance-as-forecast"}
"""Rules that compare two measured values: without one of them there is nothing to compare."""


def verdict_of(book: Book, rule: str) -> str:
    found = book.rule(rule)
    return found[0].verdict.value if found else NONE


def changed(ruled: Ruled, answer: Any) -> Book:
    changes = {f"{ruled.step}___{field}": None for field in ruled.without}
    return sound(**changes | {f"{ruled.step}___{ruled.field}": answer})


def name(ruled: Ruled) -> str:
    return f"{ruled.rule}-{ruled.field}"


def test_every_rule_stands_in_this_table_or_names_its_own_test() -> None:
    assert {ruled.rule for ruled in RULED} | set(ELSEWHERE) == set(RULES)
    assert not {ruled.rule for ruled in RULED} & set(ELSEWHERE)


def test_a_sound_record_gives_no_flag_and_every_rule_speaks() -> None:
    book = sound()
    assert book.flags() == {}
    silent = set(RULES) - {finding.rule for finding in book.findings().values()}
    # These speak only when the drawing asks, or when something does not fit.
    assert silent == {"interference", "gap-plane", "photo-used-before", "reading-speed", "same-digits"}


@pytest.mark.parametrize("ruled", RULED, ids=name)
def test_a_good_value_conforms(ruled: Ruled) -> None:
    assert verdict_of(sound(), ruled.rule) == "conforming"


@pytest.mark.parametrize("ruled", [r for r in RULED if r.bad is not None], ids=name)
def test_a_bad_value_is_recorded_and_flagged(ruled: Ruled) -> None:
    assert verdict_of(changed(ruled, ruled.bad), ruled.rule) == ruled.verdict


@pytest.mark.parametrize("ruled", RULED, ids=name)
@pytest.mark.parametrize("state", [State.NOT_DONE, State.NOT_POSSIBLE])
def test_not_done_and_not_possible_are_missing_unless_the_procedure_calls_the_field_optional(
    ruled: Ruled, state: State
) -> None:
    book = changed(ruled, Absent(state, "no gauge"))
    if ruled.rule in SILENT_WITHOUT or _head(ruled) in OPTIONAL:
        assert verdict_of(book, ruled.rule) == NONE
    else:
        finding = book.rule(ruled.rule)[0]
        assert finding.verdict == Verdict.MISSING
        assert finding.facts["reason"] == "no gauge"


@pytest.mark.parametrize("ruled", RULED, ids=name)
def test_not_applicable_satisfies_only_where_the_procedure_allows_it(ruled: Ruled) -> None:
    book = changed(ruled, Absent(State.NOT_APPLICABLE, "heater has no field"))
    allowed = _head(ruled) in STANDARD["not_applicable"] and ruled.rule not in BY_HEATER
    if ruled.rule in SILENT_WITHOUT or allowed:
        assert verdict_of(book, ruled.rule) == NONE
    else:
        assert book.rule(ruled.rule)[0].verdict == Verdict.MISSING


@pytest.mark.parametrize("ruled", RULED, ids=name)
def test_nothing_entered_is_missing_unless_optional(ruled: Ruled) -> None:
    book = changed(ruled, None)
    if ruled.rule in SILENT_WITHOUT or _head(ruled) in OPTIONAL:
        assert verdict_of(book, ruled.rule) == NONE
    else:
        assert book.rule(ruled.rule)[0].verdict == Verdict.MISSING


def _head(ruled: Ruled) -> str:
    return f"{ruled.step}.{ruled.field.split('__')[0]}"


def test_every_entry_of_the_table_changes_a_field_that_exists() -> None:
    for ruled in RULED:
        assert sound().case().said(ruled.step, ruled.field.replace("__", ".")) is not None
