"""The planner's sentences and letters: everything has a name, and figures round to the safe side."""

import pytest
from django.template.loader import render_to_string
from hypothesis import assume, example, given
from hypothesis import strategies as st

from qrecords.steps.planner.asked import INPUTS, LENGTHS, TEMPERATURES
from qrecords.steps.planner.judging import judged
from qrecords.steps.planner.plan import plan_fit, results
from qrecords.steps.planner.reading import read_asked
from qrecords.web.planner.page import EXAMPLE, shown
from qrecords.web.planner.said import LABELS
from qrecords.web.planner.workings import NAMES
from qrecords.wording.lettering import Lettering, in_other_units
from qrecords.wording.planned import SENTENCES

INCH = Lettering("in", "F")


def test_every_input_has_a_name() -> None:
    assert set(LABELS) == set(INPUTS)


def test_every_number_has_a_name() -> None:
    asked, _ = read_asked(EXAMPLE)
    assert asked is not None
    assert {name.removeprefix("other_") for name in results(plan_fit(asked))} <= set(NAMES)


def test_no_sentence_scolds() -> None:
    spoken = " ".join(SENTENCES.values()).lower()
    assert [
        w for w in ("error", "invalid", "failed", "please", "oops", "!", "are you sure") if w in spoken
    ] == []


@pytest.mark.parametrize(
    ("nm", "metric", "inch"), [(28_000, "28", "1.10"), (-10_000, "−10", "−0.39"), (400, "0", "0.02")]
)
def test_lengths_are_whole_micrometres_or_hundredths_of_a_thou(nm: int, metric: str, inch: str) -> None:
    assert (Lettering().small(nm), INCH.small(nm)) == (metric, inch)


@pytest.mark.parametrize(
    ("towards", "metric", "inch"), [("", "63", "146"), ("up", "64", "147"), ("down", "63", "146")]
)
def test_temperatures_round_to_the_safe_side(towards: str, metric: str, inch: str) -> None:
    assert (Lettering().heat(63_354, towards), INCH.heat(63_354, towards)) == (metric, inch)


def test_a_difference_is_rounded_down_and_has_no_32_in_it() -> None:
    assert Lettering().difference(26_758) == "26\u202fK"
    assert INCH.difference(26_758) == "48\u202f°F"


def test_the_question_stays_the_same_in_other_units() -> None:
    there = in_other_units(EXAMPLE, INCH)
    assert (there["shaft_temp"], there["evenly"], there["lengths"]) == ("51.8", "9", "in")
    first, second = (read_asked(typed)[0] for typed in (EXAMPLE, there))
    assert first is not None
    assert first == second


def test_a_unit_typed_with_the_number_stays() -> None:
    assert in_other_units({"journal_low": "65.018 mm", "g0": "soft"}, INCH)["journal_low"] == "65.018 mm"
    assert in_other_units({"journal_low": "65.018 mm", "g0": "soft"}, INCH)["g0"] == "soft"


NOTHING_LEFT = {
    "bearing": "", "nominal": "63", "outside": "120", "width": "23", "journal_low": "0", "bore": "0",
    "g0": "0", "shaft_class": "",
}  # fmt: skip
SMALL = st.integers(-60, 90).map(str)


@given(
    st.sampled_from(["6204", "6213", "6220 C3", "NU 212", "22213 C3", "6212 P5", "6213-2Z"]),
    st.sampled_from(["", "f6", "h6", "js5", "k5", "m6", "p6"]),
    st.dictionaries(st.sampled_from(["journal_low", "bore", "g0", "other_g0", "least", "gauge_u"]), SMALL),
    st.dictionaries(st.sampled_from(["shaft_temp", "air_temp", "evenly", "habit", "shaft_bore"]), SMALL),
    st.sampled_from(list(LENGTHS)),
    st.sampled_from(list(TEMPERATURES)),
)
@example("", "", NOTHING_LEFT, {}, "mm", "C")
@example("", "", NOTHING_LEFT, {}, "in", "F")
def test_every_plan_can_be_shown(
    bearing: str, shaft_class: str, small: dict[str, str], warm: dict[str, str], lengths: str, heat: str
) -> None:
    letters = Lettering(lengths, heat)
    metric = {"bearing": bearing, "shaft_class": shaft_class, **small, **warm}
    asked, _ = read_asked(in_other_units(metric, letters))
    if asked is not None:
        seen = shown(plan_fit(asked), letters)
        page = render_to_string("planner/planner.html", {"shown": seen, "letters": letters})
        assert "Clearance left" in page and "nan" not in page.lower().replace("planner", "")


@given(
    st.sampled_from(["6204", "6213", "6220 C3", "NU 212"]),
    st.sampled_from(["", "k5", "m6", "p6"]),
    st.integers(-200, 600),
    st.integers(0, 200),
    st.integers(-10_000, 60_000),
)
def test_no_unit_changes_a_verdict(bearing: str, cls: str, low: int, more: int, shaft_mdegc: int) -> None:
    """mm and °C, or inch and °F: the same question has the same verdicts for the same reasons."""
    metric = {
        "bearing": bearing, "shaft_class": cls, "journal_low": f"{low / 10}",
        "journal_high": f"{(low + more) / 10}", "gauge_u": "2", "shaft_temp": f"{shaft_mdegc / 1000}",
        "evenly": "7.5",
    }  # fmt: skip
    plans = []
    for typed in (metric, in_other_units(metric, INCH)):
        found, asks = read_asked(typed)
        assume({error.why for error in asks.values()} != {"whole-size"})  # 0.7874 thou on a bore of 0.7874 in
        assert found is not None, asks
        plans.append([(each.about, each.verdict, each.reason) for each in judged(plan_fit(found))])
    assert plans[0] == plans[1]
