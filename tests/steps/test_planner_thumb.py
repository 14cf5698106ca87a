"""Rules of thumb at a plan's numbers: which have something to say, and by how much they are off."""

import pytest

from qrecords.engineering.habits import Habit
from qrecords.steps.planner.plan import plan_fit
from qrecords.steps.planner.reading import read_asked
from qrecords.steps.planner.thumb import rules_of_thumb

PLANNED = {
    "bearing": "6212", "shaft_class": "m6", "journal_low": "29", "journal_high": "31", "bore": "-1",
    "shaft_temp": "35", "air_temp": "20", "evenly": "20", "gauge_u": "2",
}  # fmt: skip


def habits_of(**changed: str) -> dict[str, Habit]:
    asked, asks = read_asked({**PLANNED, **changed})
    assert asked is not None, asks
    return {habit.key.removeprefix("habit-"): habit for habit in rules_of_thumb(plan_fit(asked))}


def test_everything_that_was_told_is_held_against_a_rule() -> None:
    assert set(habits_of()) == {
        "thousandth-of-the-bore", "eighty-percent", "one-raceway", "narrow-ring", "feeler-while-hot",
        "guard-is-u", "rise-from-air", "warm-shaft", "volume-coefficient", "carry-by-air", "held-10-s",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("lacking", "silent"),
    [
        ({"gauge_u": ""}, {"guard-is-u"}),
        ({"air_temp": ""}, {"rise-from-air", "warm-shaft"}),
        ({"evenly": ""}, {"carry-by-air"}),
        ({"shaft_bore": "20"}, {"one-raceway"}),
        (
            {"shaft_temp": "", "air_temp": ""},
            {"rise-from-air", "warm-shaft", "carry-by-air", "held-10-s", "volume-coefficient"},
        ),
        ({"bearing": "", "nominal": "60", "outside": "64", "width": "8"}, {"narrow-ring"}),
    ],
)
def test_a_rule_that_lacks_a_number_or_whose_model_does_not_hold_says_nothing(
    lacking: dict[str, str], silent: set[str]
) -> None:
    assert set(habits_of()) - set(habits_of(**lacking)) == silent


def test_what_grips_nowhere_is_held_against_no_rule_of_grip() -> None:
    loose = habits_of(journal_low="-30", journal_high="-30")
    assert set(loose) == {"thousandth-of-the-bore", "guard-is-u", "warm-shaft"}


def test_a_shaft_15_k_warmer_than_the_air_needs_15_k_more_than_a_rise_from_the_air_says() -> None:
    """Same steel or not, some K for each K of the shaft: 11.5 / 12.0 of it (our default coefficients)."""
    assert -habits_of()["rise-from-air"].difference == pytest.approx(15 * 11.5 / 12.0, abs=0.05)


def test_a_thousandth_of_any_bore_asks_for_83_k_by_itself() -> None:
    """1/(1000·12.0·10⁻⁶/K), by hand."""
    assert habits_of()["thousandth-of-the-bore"].habit.value == pytest.approx(83.3, abs=0.1)
