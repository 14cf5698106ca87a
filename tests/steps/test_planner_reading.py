"""What is typed into the planner: every unit, both kinds of naming a bearing, and what is asked back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.steps.errors import FieldError
from qrecords.steps.planner.asked import INPUTS, NUMBERS, Asked
from qrecords.steps.planner.judging import judged
from qrecords.steps.planner.plan import plan_fit, results
from qrecords.steps.planner.reading import asked_for, read_asked
from qrecords.wording.asked_back import WANTED, WHY, allowed_of, why_of

LEAST = {"bearing": "6213", "shaft_class": "m5"}


def asked(**typed: str) -> Asked:
    found, asks = read_asked({**LEAST, **typed})
    assert found is not None, asks
    return found


def asks(**typed: str) -> dict[str, FieldError]:
    found, errors = read_asked({**LEAST, **typed})
    assert found is None
    return errors


def test_an_empty_form_asks_nothing() -> None:
    assert not asked_for({"bearing": " ", "somebody": "else"})


def test_a_designation_says_sizes_group_and_class() -> None:
    found = asked(bearing="6213 C3 P6")
    sizes = found.sizes
    assert (sizes.bore_mm, sizes.outside_mm, sizes.width_mm) == (65, 120, 23)
    assert (found.bearing.group, found.bore.tolerance_class) == ("3", "6")


def test_a_bearing_is_told_by_its_sizes_as_well() -> None:
    found = asked(bearing="", nominal="65", outside="120", width="23")
    assert found.bearing.name == "65 × 120 × 23"
    assert found.sizes.source == "as typed"


def test_the_bore_may_not_contradict_the_designation() -> None:
    error = asks(nominal="60")["nominal"]
    assert (error.why, error.facts) == ("other-bore", {"d": "65 mm", "bearing": "6213"})


def test_a_designation_without_sizes_here_asks_for_them() -> None:
    assert set(asks(bearing="61913")) == {"outside", "width"}
    assert asked(bearing="61913", outside="90", width="13").sizes.source == "as typed"


@pytest.mark.parametrize(
    ("lengths", "typed", "nm"),
    [
        ("mm", "+18", 18_000),
        ("mm", "65.018 mm", 18_000),
        ("mm", "−9,5", -9_500),
        ("in", "0.7", 17_780),
        ("in", "65.018 mm", 18_000),
        ("in", "2.5598 in", 18_920),
    ],
)
def test_a_deviation_is_read_in_either_system(lengths: str, typed: str, nm: int) -> None:
    assert asked(lengths=lengths, journal_low=typed).journal_nm == (nm, nm)


@pytest.mark.parametrize(
    ("temperatures", "typed"), [("C", "20"), ("F", "68"), ("C", "68 °F"), ("F", "20 °C")]
)
def test_a_temperature_is_read_in_either_scale(temperatures: str, typed: str) -> None:
    found = asked(temperatures=temperatures, shaft_temp=typed)
    assert (found.shaft_c, found.air_c) == (20, 20)


def test_a_difference_in_fahrenheit_has_no_32_in_it() -> None:
    assert asked(temperatures="F", evenly="9").evenly_k == 5


def test_a_size_in_inches_is_exact() -> None:
    found = asked(bearing="", lengths="in", nominal="2.5", outside="4.5", width="1")
    assert str(found.sizes.bore_mm.normalize()) == "63.5"


def test_a_whole_size_where_a_deviation_stands_is_asked_back() -> None:
    error = asks(journal_low="65.018")["journal_low"]
    assert (error.typed, error.unit) == ("65.018", "um")
    assert error.allowed == "-2000…2000 um from 65 mm"


def test_a_thou_of_a_small_bore_is_no_size_in_inch() -> None:
    found = asked(bearing="6204", lengths="in", journal_low="0.71", journal_high="0.75")
    assert found.journal_nm == (18_034, 19_050)
    assert asks(bearing="6204", lengths="in", journal_low="0.7881")["journal_low"].why == "whole-size"


@pytest.mark.parametrize(
    ("name", "typed", "allowed"),
    [
        ("shaft_temp", "2000", "-60…200 °C"),
        ("shaft_temp", "warm", "-60…200 °C"),
        ("outside", "12000", "2…3000 mm"),
        ("g0", "-1", "0…2000 um"),
        ("gauge_u", "0.5 kg", "0…200 um"),
        ("evenly", "-3", "0…200 K"),
        ("kind", "rusty", "open"),
        ("bore_class", "7", "Normal"),
        ("journal_low", "5000", "-2000…2000 um from 65 mm"),
        ("shaft_class", "M6", "m"),
        ("shaft_class", "q9", "k"),
        ("group", "9", "2, N"),
    ],
)
def test_what_cannot_be_is_asked_back_with_value_and_range(name: str, typed: str, allowed: str) -> None:
    error = asks(**{name: typed})[name]
    assert error.typed == typed
    assert allowed in error.allowed


@pytest.mark.parametrize(
    ("typed", "field", "why"),
    [
        ({"bearing": "x"}, "bearing", "not-a-designation"),
        ({"shaft_class": "M6"}, "shaft_class", "hole-class"),
        ({"shaft_class": "zz9"}, "shaft_class", "no-such-class"),
        ({"shaft_bore": "65"}, "shaft_bore", "not-under-seat"),
        ({"outside": "60"}, "outside", "not-over-bore"),
        ({"bearing": "6213 C3", "group": "4"}, "group", "other-group"),
        ({"journal_low": "65.018"}, "journal_low", "whole-size"),
        ({"mass": "1.2"}, "mass_from", "no-origin"),
        ({"raceway": "76"}, "raceway_from", "no-origin"),
        ({"raceway": "65", "raceway_from": "drawing"}, "raceway", "raceway-outside"),
        ({"raceway": "92.5", "raceway_from": "drawing"}, "raceway", "raceway-outside"),
        ({"kind": "rusty"}, "kind", "not-one-of"),
        ({"shaft_temp": "-300"}, "shaft_temp", "outside"),
    ],
)
def test_why_something_gives_no_answer_is_the_id_of_a_sentence(
    typed: dict[str, str], field: str, why: str
) -> None:
    error = asks(**typed)[field]
    assert error.why == why
    assert why in WHY and (error.allowed or why in WANTED)
    assert why_of(error) and allowed_of(error)


def test_what_would_be_right_is_said_in_the_units_that_were_asked_for() -> None:
    error = asks(lengths="in", shaft_bore="2.6")["shaft_bore"]
    assert (error.unit, allowed_of(error)) == ("in", "0 to below 2.5591 in")
    assert asks(lengths="in", bearing="61913")["outside"].allowed == "0.0787…118.1102 in"


@pytest.mark.parametrize(
    ("lengths", "typed", "kg"),
    [("mm", "1.2", "1.2"), ("in", "2", "0.907185"), ("in", "1.2 kg", "1.2"), ("mm", "2 lb", "0.907185")],
)
def test_a_mass_is_read_in_either_system_and_says_where_it_was_taken_from(
    lengths: str, typed: str, kg: str
) -> None:
    found = asked(lengths=lengths, mass=typed, mass_from="measured")
    assert (str(found.mass_kg), found.mass_from) == (kg, "measured")


def test_a_draught_is_read_in_either_system() -> None:
    assert asked(air_speed="1.5").air_m_s == 1.5
    assert asked(lengths="in", air_speed="100").air_m_s == 0.508


def test_every_fault_is_told_at_once() -> None:
    assert set(asks(shaft_temp="x", g0="y", shaft_class="zz9")) == {"shaft_temp", "g0", "shaft_class"}


def test_a_journal_needs_a_class_or_readings() -> None:
    assert set(asks(shaft_class="")) == {"shaft_class"}


def test_the_highest_reading_is_not_below_the_lowest() -> None:
    assert set(asks(journal_low="20", journal_high="18")) == {"journal_high"}


def test_an_own_ceiling_needs_its_source() -> None:
    assert set(asks(ceiling="110")) == {"ceiling_source"}
    own = asked(ceiling="110", ceiling_source="data sheet 4").own
    assert own is not None and (own.cap_c, own.source) == (110, "data sheet 4")


def test_a_tapered_roller_bearing_is_outside_the_tables() -> None:
    assert set(asks(bearing="30213", outside="120", width="23")) == {"bearing"}


_TEXTS = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        ["", "60", "65", "-3", "+18", "0", "1e9", "2.5 in", "m6", "k5", "6213 C3", "NU 212", "3", "N"]
    ),
    st.decimals(-3000, 3000, places=3).map(str),
)


@given(st.dictionaries(st.sampled_from(INPUTS), _TEXTS))
def test_whatever_is_typed_is_planned_or_asked_back(typed: dict[str, str]) -> None:
    found, errors = read_asked(typed)
    assert (found is None) == bool(errors)
    if found is not None:
        plan = plan_fit(found)
        assert results(plan) and judged(plan)


@given(
    st.sampled_from(["6204", "6213", "6220 C3", "NU 212", "22213 C3", "6212 P5"]),
    st.sampled_from(["", "f6", "h6", "js5", "k5", "m6", "p6"]),
    st.dictionaries(st.sampled_from(NUMBERS[3:]), st.integers(-60, 400).map(str)),
)
def test_plain_numbers_of_any_size_are_planned_or_asked_back(
    bearing: str, shaft_class: str, typed: dict[str, str]
) -> None:
    found, errors = read_asked({"bearing": bearing, "shaft_class": shaft_class, **typed})
    assert (found is None) == bool(errors)
    if found is not None:
        plan = plan_fit(found)
        assert all(result.value == result.value for result in results(plan).values())
        assert judged(plan)
