"""A gauge that was found wrong: the readings without its error, and what is found of the mounting then.

The five mountings of Coldbeck foundry were reckoned by hand: MIC-114 reads 9 µm high with U 3 µm, on 90 m6
(+13…+35) with a guard of 1.65 u.
"""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qrecords.steps.again import CLASSES, changes, class_of, with_requirement
from qrecords.steps.case import Case
from qrecords.steps.corrected import LINKS, corrected, touches
from qrecords.steps.errors import DocumentError
from qrecords.steps.fields import Gear
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.standard import STEPS, all_findings
from qrecords.steps.suspect import ErrorOfSize, ErrorPoint, Suspect, read_error
from tests.steps.casebook import BEGIN, Book, everything, journal_fields, measure, sound

LATER = BEGIN + timedelta(days=30)
COLDBECK: dict[str, Any] = {
    "nominal_mm": "90", "shaft_class": "m6", "drawing": "CB-118", "revision": "B", "designation": "22218 C3",
    "clearance_kind": "spherical_roller_cyl_bore", "clearance_group": "3", "outside_mm": "160",
    "width_mm": "40", "seat_width_mm": "46", "size_source": "drawing",
}  # fmt: skip
HIGH_9 = ErrorOfSize((ErrorPoint(90_000_000, 9_000, 1_500),))
TOLD = [
    (20, "not proven"), (24, "not proven"), (17, "nonconforming"), (31, "conforming"), (28, "conforming"),
]  # fmt: skip
"""Mean of the recorded readings, µm from nominal, and the class without the error."""


def suspect(piece: str = "micrometer", error: ErrorOfSize = HIGH_9, **window: datetime) -> Suspect:
    return Suspect(piece, window.get("since", BEGIN), window.get("until", LATER), error)


def flat(high: int, u: int = 0) -> ErrorOfSize:
    return ErrorOfSize((ErrorPoint(0, high, u),))


def coldbeck(um: int) -> Case:
    book = Book(requirement=dict(COLDBECK))
    readings = {"A": (f"{um}", f"{um}", f"{um + 1}"), "B": (f"{um}",) * 3, "C": (f"{um}",) * 3}
    measure(book, **journal_fields(readings, "um from 90 mm"))
    unit = "um from 90 mm"
    bore = {f"bore__{plane}__{at}": ("-10", unit) for plane in "AB" for at in ("0", "60", "120")}
    book.say("bore", source="measured", gauge="bore_gauge", **bore)
    return book.case()


def by_key(case: Case) -> dict[str, Finding]:
    return {finding.key: finding for finding in all_findings(case)}


def verdict(case: Case, name: str) -> str:
    return next(f.verdict.value for f in all_findings(case) if f.characteristic == name)


@pytest.mark.parametrize(("um", "told"), TOLD)
def test_coldbeck_foundry_9_um_high_gives_the_classes_reckoned_by_hand(um: int, told: str) -> None:
    case = coldbeck(um)
    assert verdict(case, "journal size") == "conforming"
    right = corrected(case, suspect())
    changed = changes(all_findings(case), all_findings(right))
    assert class_of(changed) == told
    found, size = by_key(case)["journal-size/journal size"], by_key(right)["journal-size/journal size"]
    assert size.verdict == told
    assert size.facts["mean_nm"] == found.facts["mean_nm"] - 9000  # type: ignore[operator]


def test_u_of_the_error_is_added_to_that_of_the_gauge_in_squares() -> None:
    case = coldbeck(20)
    before, after = case.gear("measurement", "gauge"), corrected(case, suspect()).gear("measurement", "gauge")
    assert before is not None
    assert after is not None
    assert before.standard_u == 578  # √(500² + (1000/√12)²) nm, rounded up
    assert after.standard_u == 1608  # √(577.35² + 1500²) nm, rounded up
    assert after.whole_u == 3163  # √(1000² + 3000²) nm, rounded up
    told = by_key(corrected(case, suspect()))["journal-size/journal size"].working
    assert told is not None
    assert ("u_gauge", 1.607) in [(name, round(float(text.split()[0]), 3)) for name, text in told.put_in]


@given(st.integers(-200_000, 200_000))
@settings(max_examples=20, deadline=None)
def test_an_error_of_nothing_changes_nothing_whatever_was_read(off: int) -> None:
    case = sound().case()
    nothing = suspect(error=ErrorOfSize((ErrorPoint(60_000_000 + off, 0, 0),)))
    for piece in ("micrometer", "bore_gauge", "feeler", "meter", "heater", "thermometer", "master"):
        same = corrected(case, suspect(piece, nothing.error))
        assert changes(all_findings(case), all_findings(same)) == []


@given(st.integers(0, 40), st.integers(0, 6000), st.integers(0, 6000))
@settings(max_examples=40, deadline=None)
def test_more_u_never_betters_a_verdict(um: int, one: int, other: int) -> None:
    case = coldbeck(um)
    less, more = sorted((one, other))
    verdicts = []
    for u in (less, more):
        found = by_key(corrected(case, suspect(error=flat(0, u))))
        verdicts.append(
            {key: f.verdict for key, f in found.items() if key.startswith(("journal-s", "gauge-"))}
        )
    for key, verdict_less in verdicts[0].items():
        if verdict_less == Verdict.NOT_PROVEN:
            assert verdicts[1][key] == Verdict.NOT_PROVEN, key
        if verdict_less == Verdict.NONCONFORMING:
            assert verdicts[1][key] != Verdict.CONFORMING, key


@given(st.integers(-30_000, 30_000), st.integers(-30_000, 30_000))
@settings(max_examples=40, deadline=None)
def test_the_higher_a_gauge_reads_the_smaller_is_the_journal(one: int, other: int) -> None:
    less, more = sorted((one, other))
    case = coldbeck(24)
    found = [by_key(corrected(case, suspect(error=flat(high)))) for high in (less, more)]
    means = [each["journal-size/journal size"].facts["mean_nm"] for each in found]
    assert means[0] - means[1] == more - less  # type: ignore[operator]


@given(st.integers(0, 200_000_000))
def test_the_error_is_linear_between_its_points_and_stays_beyond_them(size: int) -> None:
    error = ErrorOfSize((ErrorPoint(50_000_000, 1000, 400), ErrorPoint(100_000_000, 9000, 1500)))
    high, u = error.at(size)
    inside = min(max(size, 50_000_000), 100_000_000)
    assert high == pytest.approx(1000 + 8000 * (inside - 50_000_000) / 50_000_000, abs=0.5)
    assert 0 <= u - (400 + 1100 * (inside - 50_000_000) / 50_000_000) < 1.001


def test_only_what_was_read_with_the_piece_in_its_time_moves() -> None:
    case = sound().case()
    assert corrected(case, suspect("another piece")) is case
    before = suspect(since=BEGIN - timedelta(days=9), until=BEGIN)
    assert corrected(case, before) is case
    assert not touches(case, before)
    assert touches(case, suspect())
    right = corrected(case, suspect())
    assert {a.base - case.answers["measurement"][k].base for k, a in right.answers["measurement"].items()
            if k.startswith("journal.")} == {-9000}  # fmt: skip
    assert right.answers["bore"] == case.answers["bore"]
    assert right.answers["measurement"]["master_before"] == case.answers["measurement"]["master_before"]


def test_a_reading_belongs_to_the_gauge_that_was_named_when_it_was_read() -> None:
    book = sound()
    book.gear["second"] = {**book.gear["micrometer"], "id": "second", "mark": "second"}
    last = book.say("measurement", gauge="second", journal__C__120=("17", "um from 60 mm"), prev="e3")
    case = book.case()
    right = corrected(case, suspect())
    moved = {k for k, a in right.answers["measurement"].items() if a != case.answers["measurement"][k]}
    assert len(moved) == 8
    assert "journal.C.120" not in moved
    only = corrected(case, suspect("second"))
    assert [k for k, a in only.answers["measurement"].items() if a != case.answers["measurement"][k]] == [
        "journal.C.120"
    ]
    assert case.answers["measurement"]["journal.C.120"].entry == last.id


def test_what_is_set_on_a_master_reads_as_much_too_high_as_its_mark() -> None:
    case = sound().case()
    right = corrected(case, suspect("master", flat(4000, 500)))
    size = "journal-size/journal size"
    assert by_key(right)[size].facts["mean_nm"] == by_key(case)[size].facts["mean_nm"] - 4000  # type: ignore[operator]
    gauge = right.gear("measurement", "gauge")
    assert gauge is not None
    assert gauge.error_u == 500


def test_a_thermometer_a_field_meter_and_a_heater_move_what_they_read() -> None:
    case = sound().case()
    cold = corrected(case, suspect("thermometer", flat(6000)))
    assert cold.answers["measurement"]["shaft"].base == 14_000
    field = by_key(corrected(case, suspect("meter", flat(-200_000))))["residual-field/residual field"]
    assert (field.value, field.verdict) == (313_097, "nonconforming")
    hot = by_key(corrected(case, suspect("heater", flat(-40_000))))["peak-temperature/peak temperature"]
    assert (hot.value, hot.verdict) == (135_000, "nonconforming")


def test_a_field_meter_moves_what_is_read_place_by_place() -> None:
    case = sound(procedure=everything()).case()
    right = corrected(case, suspect("meter", flat(-200_000)))
    for place in ("ring_edge", "ring_chamfer", "rolling_element"):
        read = case.answers["field_places"][place]
        assert right.answers["field_places"][place].base == read.base + 200_000
    assert verdict(case, "field-by-place") == "conforming"
    assert verdict(right, "field-by-place") == "nonconforming"


@pytest.mark.parametrize(
    ("at", "key", "other"),
    [("rows_before", "g0_second_row", "rows_after"), ("rows_after", "g1_second_row", "rows_before")],
)
def test_a_feeler_moves_the_second_row_it_felt_and_no_other(at: str, key: str, other: str) -> None:
    named = f"{at.replace('rows', 'clearance')}___gauge"
    case = sound(procedure=everything(), **{named: "feeler"}).case()
    right = corrected(case, suspect("feeler", flat(4_000)))
    assert right.answers[at][key].base == case.answers[at][key].base - 4_000
    assert right.answers[other] == case.answers[other]


def test_the_heaters_own_log_moves_with_its_probe() -> None:
    book = sound()
    rows = "".join(f"{t};{min(20 + t, 95)}\n" for t in range(0, 200, 5))
    book.log("t [s];T [°C]\n" + rows, columns={"inner ring": 2})
    case = book.case()
    top = corrected(case, suspect("heater", flat(-10_000))).logs
    (table,) = top.values()
    assert max(v for v in table.columns[0].values if v is not None) == 105  # type: ignore[union-attr]


def test_a_blade_thicker_than_its_mark_lets_more_pass_and_a_thinner_one_does_not() -> None:
    case = sound().case()
    thick = by_key(corrected(case, suspect("feeler", ErrorOfSize((ErrorPoint(30_000, -10_000, 0),)))))
    thin = by_key(corrected(case, suspect("feeler", ErrorOfSize((ErrorPoint(30_000, 4_000, 0),)))))
    assert thick["shoulder-gap/shoulder gap"].verdict == "not proven"
    assert thin["shoulder-gap/shoulder gap"].verdict == "conforming"


def test_another_gap_blade_is_as_thick_as_it_really_is() -> None:
    book = sound(shoulder_gap___gap__90=("0.05", "mm"))
    right = corrected(book.case(), suspect("feeler", flat(-20_000)))
    assert by_key(right)["shoulder-gap/shoulder gap"].value == 70_000


def test_the_right_drawing_judges_the_raw_readings() -> None:
    case = sound().case()
    right = with_requirement(case, {**case.requirement.document, "limits_um": ["5", "19"], "revision": "D"})
    changed = changes(all_findings(case), all_findings(right))
    assert class_of(changed) == "not proven"  # the highest reading is +18, its guard 1.9
    assert "journal-size/journal size" in {change.finding.key for change in changed}
    assert [a.base for a in right.many("measurement", "journal")] == [
        a.base for a in case.many("measurement", "journal")
    ]
    assert changes(all_findings(case), all_findings(with_requirement(case, case.requirement.document))) == []


def test_what_is_missing_then_is_not_proven_and_a_query_decides_nothing() -> None:
    case = sound().case()
    rule = next(f for f in all_findings(case) if f.rule == "journal-size")
    as_missing, as_query = (replace(rule, verdict=v) for v in (Verdict.MISSING, Verdict.QUERY))
    assert class_of(changes([rule], [as_missing])) == "not proven"
    assert class_of(changes([rule], [as_query])) == "conforming"
    assert class_of(changes([rule], [])) == "conforming"
    assert CLASSES[0] == "nonconforming"


@pytest.mark.parametrize(
    "points",
    [
        [],
        [{"size": 1, "error": 2}],
        [{"size": 1, "error": 2, "u": -1}],
        [{"size": 1.5, "error": 2, "u": 0}],
        [{"size": True, "error": 2, "u": 0}],
        [{"size": 1, "error": 2, "u": 0}, {"size": 1, "error": 3, "u": 0}],
        [{"size": n, "error": 0, "u": 0} for n in range(41)],
    ],
)
def test_what_is_no_function_of_size_is_refused_with_its_field(points: list[dict[str, Any]]) -> None:
    with pytest.raises(DocumentError) as refused:
        read_error(points)
    assert refused.value.field == "points"


def test_points_are_read_in_any_order() -> None:
    told = [{"size": 100, "error": 2, "u": 1}, {"size": 10, "error": 1, "u": 1}]
    assert read_error(told).document() == sorted(told, key=lambda point: point["size"])


def test_every_piece_that_a_step_names_says_what_is_read_with_it() -> None:
    """A field that names a gauge and reads nothing would be left out of every look-back."""
    named = {(s.id, f.id) for s in STEPS.values() for f in s.fields if isinstance(f.form, Gear)}
    assert named == {(link.step, link.key) for link in LINKS}
    for link in LINKS:
        known = {field.id for field in STEPS[link.at].fields}
        assert [head for head in link.heads if head not in known] in ([], ["g0"], ["g1"])


def test_moments_at_the_ends_of_the_window() -> None:
    doubt = suspect(since=datetime(2026, 1, 1, tzinfo=UTC), until=datetime(2026, 2, 1, tzinfo=UTC))
    assert doubt.covers(doubt.since)
    assert not doubt.covers(doubt.until)
