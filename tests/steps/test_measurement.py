"""The journal: every reading judged, the worst named, temperature and gauge taken into account."""

from typing import Any

import pytest

from qrecords.steps.answers import Absent, State
from tests.steps.casebook import Book, journal_fields, measure

UM = "um from 60 mm"


def with_readings(**planes: tuple[str, ...]) -> Book:
    book = Book()
    measure(book, **journal_fields({"A": ("18", "18", "18"), **planes}, UM))
    return book


def test_the_worst_reading_decides_not_the_mean() -> None:
    book = with_readings(B=("18", "18", "18"), C=("18", "18", "5"))
    finding = book.rule("journal-size")[0]
    assert finding.verdict == "nonconforming"
    assert (finding.facts["plane"], finding.facts["direction"], finding.value) == ("C", "120", 5000)


# 60 m6 is +11…+30; u = √(0.577² + 2·(60·0.0115·1.0004)²) µm = 1.135, guard 1.65 u = 1.873 (rounded up).
@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        ("12.874", "conforming"),
        ("12.872", "not proven"),
        ("11", "not proven"),
        ("9.128", "not proven"),
        ("9.126", "nonconforming"),
        ("28.126", "conforming"),
        ("28.128", "not proven"),
        ("31.874", "nonconforming"),
    ],
)
def test_the_guard_band_lies_on_both_sides_of_both_limits(typed: str, verdict: str) -> None:
    book = with_readings(A=(typed, "18", "18"))
    assert book.rule("journal-size")[0].verdict == verdict


def test_simple_acceptance_agreed_in_the_procedure_has_no_guard() -> None:
    book = Book()
    book.procedure["decision_rule"] = {"edition": "simple acceptance, agreed", "guard_factor": "0"}
    measure(book, **journal_fields({"A": ("11", "18", "18")}, UM))
    assert book.rule("journal-size")[0].verdict == "conforming"


def test_repeats_of_one_point_are_averaged() -> None:
    book = with_readings()
    book.say("measurement", journal__A__0__2=("15", UM), journal__A__0__3=("12", UM))
    assert book.rule("journal-size")[0].value == 15000  # (18 + 15 + 12) / 3 at A 0°


@pytest.mark.parametrize(
    ("typed", "unit", "base"),
    [("18", UM, 60_018_000), ("60,018", "mm", 60_018_000), ("60.018", "mm", 60_018_000),
     ("2.3629", "in", 60_017_660)],
)  # fmt: skip
def test_a_reading_is_the_same_in_each_unit(typed: str, unit: str, base: int) -> None:
    book = Book()
    measure(book, journal__A__0=(typed, unit))
    assert book.case().value_of("measurement", "journal.A.0").base == base  # type: ignore[union-attr]


def test_a_warm_shaft_is_brought_to_20_degrees() -> None:
    book = Book()
    measure(book, shaft=("24", "°C"), bearing=("21", "°C"), gauge_temp=("20", "°C"))
    # 60 mm, 4 K, 11.5 ppm/K: 2.76 µm smaller at 20 °C
    assert book.rule("journal-size")[0].facts["correction_nm"] == pytest.approx(-2760, abs=2)


def test_a_gauge_set_on_a_master_has_the_masters_temperature() -> None:
    """Ruling 3: shaft and gauge at 20 °C, set on a master of 24 °C: 60·0.0115·4 = 2.76 µm larger."""
    book = Book()
    measure(book, master_temp=("24", "°C"))
    assert book.rule("journal-size")[0].facts["correction_nm"] == pytest.approx(2760, abs=2)


@pytest.mark.parametrize("master", [None, Absent(State.NOT_APPLICABLE, "data output")])
def test_without_a_master_the_gauges_own_temperature_counts(master: Any) -> None:
    book = Book()
    measure(book, master=master, master_temp=("24", "°C"))
    assert book.rule("journal-size")[0].facts["correction_nm"] == 0


@pytest.mark.parametrize("state", list(State))
def test_a_master_whose_temperature_was_not_read_has_the_gauges(state: State) -> None:
    book = Book()
    measure(book, shaft=("24", "°C"), bearing=("24", "°C"), master_temp=Absent(state, "as the gauge"))
    assert book.rule("journal-size")[0].facts["correction_nm"] == pytest.approx(-2760, abs=2)


def test_a_bore_set_on_its_ring_master_is_corrected_by_it_and_grows_as_bearing_steel() -> None:
    """Bearing 23 °C, master 21 °C: 60·(11.5 − 12·3) µm/1000 = −1.47 µm."""
    book = Book()
    measure(book, bearing=("23", "°C"), master_temp=("21", "°C"))
    book.say("bore", source="measured", gauge="bore_gauge", master="master", bore__A__0=("-4", UM))
    assert book.rule("bore-in-class")[0].value == pytest.approx(-4000 - 1470, abs=2)


def test_more_than_5_k_apart_nothing_is_proven_and_the_estimate_is_shown() -> None:
    book = Book()
    measure(book, shaft=("9", "°C"), **journal_fields({"A": ("5", "5", "5")}, UM))
    finding = book.rule("journal-size")[0]
    assert finding.verdict == "not proven"
    assert finding.message == "journal-size.not-one-temperature"
    # read +5 with the shaft 11 K colder: +5 + 60·0.0115·11 = +12.59
    assert finding.value == pytest.approx(12_590, abs=3)


def test_five_kelvin_apart_is_allowed() -> None:
    book = Book()
    measure(book, shaft=("25", "°C"))
    assert book.rule("one-temperature")[0].verdict == "conforming"


def test_air_plays_no_part_in_one_temperature() -> None:
    book = Book()
    measure(book, air=("5", "°C"))
    assert book.rule("one-temperature")[0].verdict == "conforming"


def test_a_master_check_that_is_off_afterwards_leaves_the_readings_not_proven() -> None:
    book = Book()
    measure(book, master_after=("3", "um"))
    assert book.rule("master-check")[0].verdict == "not proven"
    assert book.rule("journal-size")[0].message == "journal-size.master-after-off"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"due": "2026-03-01"}, "expired"),
        ({"status": "quarantine"}, "not-in-use"),
        ({"due": None}, "expired"),
    ],
)
def test_an_expired_or_barred_gauge_is_not_proven_and_the_journal_is_not_flagged_again(
    change: dict[str, Any], message: str
) -> None:
    book = Book(gear={"micrometer": _micrometer(**change)})
    measure(book)
    finding = next(f for f in book.rule("gauge-in-date") if f.characteristic == "gauge micrometer")
    assert (finding.verdict, finding.message) == ("not proven", f"gauge-in-date.{message}")
    assert book.rule("journal-size")[0].verdict == "conforming"


def test_the_last_day_of_validity_counts() -> None:
    book = Book(gear={"micrometer": _micrometer(due="2026-03-02")})
    measure(book)
    assert book.findings()["gauge micrometer"].verdict == "conforming"


@pytest.mark.parametrize(
    ("first", "last", "message"),
    [
        ("2026-03-01", "2026-03-02", "conforming"),
        ("2026-03-02", "2026-03-03", "between"),
        ("2026-03-03", "2026-03-04", "expired"),
    ],
)
def test_in_date_on_the_first_day_it_can_have_been_and_not_on_the_last_is_not_proven(
    first: str, last: str, message: str
) -> None:
    book = Book(gear={"micrometer": _micrometer(due="2026-03-02")}, days=(first, last))
    measure(book)
    finding = book.findings()["gauge micrometer"]
    assert finding.message == f"gauge-in-date.{message}"
    assert finding.verdict == ("conforming" if message == "conforming" else "not proven")
    assert (finding.facts["first"], finding.facts["last"]) == (first, last)


@pytest.mark.parametrize(
    ("at_act", "on_receipt", "message"),
    [("in use", "quarantine", "between-status"), ("quarantine", "in use", "between-status"),
     ("quarantine", "lost", "not-in-use"), ("in use", "in use", "conforming")],
)  # fmt: skip
def test_a_gauge_barred_between_act_and_receipt_is_not_proven(
    at_act: str, on_receipt: str, message: str
) -> None:
    book = Book(gear={"micrometer": _micrometer(status=at_act)})
    book.received = {"gauge": _micrometer(status=on_receipt)}
    measure(book)
    assert book.findings()["gauge micrometer"].message == f"gauge-in-date.{message}"


def test_a_master_used_for_journal_and_bore_is_one_finding_resting_on_both() -> None:
    book = Book()
    first = measure(book)
    second = book.say("bore", source="measured", gauge="bore_gauge", master="master", bore__A__0=("-4", UM))
    (found,) = [f for f in book.rule("gauge-in-date") if f.characteristic == "gauge master"]
    assert (found.verdict, found.inputs) == ("conforming", (first.id, second.id))


def test_a_gauge_that_is_too_coarse_for_the_zone_is_not_proven() -> None:
    book = Book(gear={"micrometer": _micrometer(expanded_u=4800)})  # a quarter of 19 µm is 4.75
    measure(book)
    assert book.rule("gauge-fine-enough")[0].verdict == "not proven"


def test_a_gauge_without_calibration_proves_nothing() -> None:
    book = Book(gear={"micrometer": _micrometer(expanded_u=None)})
    measure(book)
    assert book.rule("journal-size")[0].message == "journal-size.no-uncertainty"


def test_a_lost_reading_is_missing_with_its_reason_and_the_others_are_judged() -> None:
    book = Book()
    measure(book, journal__B__60=Absent(State.NOT_POSSIBLE, "keyway"))
    assert book.rule("journal-readings")[0].facts["reason"] == "keyway"
    assert book.rule("journal-size")[0].verdict == "conforming"


def test_two_by_two_is_enough_on_a_narrow_seat() -> None:
    book = Book()
    book.requirement["seat_width_mm"] = "22"
    places = journal_fields({"A": ("18", "18"), "B": ("18", "18")}, UM)
    rest = {f"journal__{p}__{d}": None for p, d in (("A", "120"), ("B", "120"), *(("C", d) for d in ("0", "60", "120")))}  # fmt: skip  # noqa: E501
    measure(book, **places | rest)
    assert book.rule("journal-readings")[0].verdict == "conforming"


def test_taper_is_half_of_the_difference_of_plane_means() -> None:
    book = with_readings(A=("28", "28", "28"), B=("20", "20", "20"), C=("13", "13", "13"))
    finding = book.rule("journal-taper")[0]
    assert (finding.value, finding.facts["whole_nm"], finding.upper) == (7500, 15000, 6500)
    assert finding.verdict == "nonconforming"


def test_roundness_is_half_of_the_worst_plane() -> None:
    book = with_readings(B=("18", "21", "18"), C=("18", "18", "18"))
    assert book.rule("journal-roundness")[0].value == 1500


def test_the_drawings_own_form_limit_wins() -> None:
    book = with_readings(B=("18", "21", "18"))
    book.requirement["form_um"] = "0.5"
    assert book.rule("journal-roundness")[0].verdict == "nonconforming"


def test_the_drawing_may_limit_roundness_and_taper_apart() -> None:
    book = with_readings(A=("21", "18", "21"), B=("18", "21", "18"), C=("14", "14", "14"))
    book.requirement |= {"form_um": "9", "roundness_um": "0.5", "taper_um": "4"}
    round_, taper = book.rule("journal-roundness")[0], book.rule("journal-taper")[0]
    assert (round_.upper, round_.verdict) == (500, "nonconforming")
    assert (taper.upper, taper.verdict) == (4000, "conforming")
    del book.requirement["taper_um"]
    assert book.rule("journal-taper")[0].upper == 9000


@pytest.mark.parametrize(
    ("deviation", "verdict"),
    [("-6", "conforming"), ("-1", "not proven"), ("-14", "not proven"), ("-18", "nonconforming"),
     ("4", "query")],
)  # fmt: skip
def test_the_bore_is_judged_by_its_mean(deviation: str, verdict: str) -> None:
    book = Book()
    measure(book)
    book.say("bore", source="measured", gauge="bore_gauge", bore__A__0=(deviation, UM))
    assert book.rule("bore-in-class")[0].verdict == verdict


def test_a_bore_above_zero_is_nonconforming_once_the_sign_was_looked_at() -> None:
    book = Book()
    measure(book)
    book.say("bore", source="measured", gauge="bore_gauge", bore__A__0=("4", UM), sign_checked="yes")
    assert book.rule("bore-in-class")[0].verdict == "nonconforming"


@pytest.mark.parametrize("state", [State.NOT_DONE, State.NOT_POSSIBLE, State.NOT_APPLICABLE])
def test_a_bore_to_be_measured_whose_readings_were_not_made_is_missing_with_the_reason(state: State) -> None:
    book = Book()
    measure(book)
    book.say("bore", source="measured", bore__A__0=Absent(state, "no gauge"))
    (finding,) = book.rule("bore-in-class")
    assert (finding.verdict, finding.facts["reason"]) == ("missing", "no gauge")


def test_a_bore_said_to_be_measured_is_missing_until_a_reading_comes() -> None:
    book = Book()
    measure(book)
    source = book.say("bore", source="measured")
    (finding,) = book.rule("bore-in-class")
    assert finding.verdict == "missing"
    assert str(source.id) in finding.inputs


def test_a_bore_from_its_class_is_a_full_answer() -> None:
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    assert book.rule("bore-in-class") == []


def _micrometer(**changes: Any) -> dict[str, Any]:
    sound = {
        "id": "micrometer", "kind": "outside micrometer", "mark": "micrometer", "status": "in use",
        "resolution": 1000, "expanded_u": 1000, "repeatability": 0, "due": "2099-01-31", "calibration": "c",
    }  # fmt: skip
    return sound | changes
