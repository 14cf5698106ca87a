"""The planner as data: the page's question and the page's answer, with the working of every number."""

import jsonschema
import pytest
from pytest_django import Settings

from qrecords.api.views.document import openapi
from qrecords.ledger.models import Entry
from qrecords.steps.planner.asked import INPUTS
from qrecords.steps.planner.plan import plan_fit, results
from qrecords.steps.planner.reading import read_asked
from qrecords.web.planner.page import EXAMPLE
from qrecords.wording.lettering import Lettering, in_other_units
from tests.api.caller import Answered, Caller
from tests.cast import Workshop


def verdict(answered: Answered, about: str) -> dict[str, str]:
    found: dict[str, str] = next(each for each in answered.document["verdicts"] if each["about"] == about)
    return found


def test_the_example_is_answered_whole(fitter: Caller) -> None:
    answered = fitter.post("plan/", **EXAMPLE)
    assert answered.status == 200
    plan = answered.document
    assert (plan["bearing"], plan["outside_mm"], plan["heat_for"]) == ("6213", "120", "6213 C3")
    heat = plan["heat"]
    assert [heat[n] for n in ("set_c", "must_reach_c", "never_above_c", "carry_s", "pressing_s")] == [
        85, 65, 120, 195, 30,
    ]  # fmt: skip
    assert [each["worst_low_um"] for each in plan["bearings"]] == ["-10.06", "10.94"]
    assert verdict(answered, "clearance")["reason"] == "none-left"
    assert verdict(answered, "habit")["reason"] == "not-needed"


def test_the_answer_has_the_form_that_the_document_tells(fitter: Caller) -> None:
    """The example has a number everywhere, so that the null of OpenAPI 3.0, which JSON Schema does not know,
    plays no part."""
    form = {"$ref": "#/components/schemas/PlanAnswer", "components": openapi()["components"]}
    jsonschema.validate(fitter.get("plan/", **EXAMPLE).document, form)


def test_a_get_says_the_same_as_a_post(fitter: Caller) -> None:
    assert fitter.get("plan/", **EXAMPLE).document == fitter.post("plan/", **EXAMPLE).document


def test_every_number_comes_with_its_working(fitter: Caller) -> None:
    asked, _ = read_asked(EXAMPLE)
    assert asked is not None
    found = fitter.get("plan/", **EXAMPLE).document["results"]
    assert set(found) == set(results(plan_fit(asked)))
    hoop = found["hoop_stress"]
    assert (hoop["value"], hoop["unit"]) == ("79.47", "MPa")
    assert hoop["formula"] == "1.05·p·C_o" and ["d", "65 mm"] in hoop["put_in"] and hoop["source"]
    assert found["interference"]["u"] == "1.4"


def test_what_no_second_source_confirms_is_named(fitter: Caller) -> None:
    left = fitter.get("plan/", bearing="6213", shaft_class="m5").document["results"]["clearance_left"]
    assert any("ISO 5753-1" in doubt for doubt in left["unconfirmed"])


def test_faults_are_a_problem_document_with_field_value_unit_and_range(fitter: Caller) -> None:
    answered = fitter.get("plan/", **{**EXAMPLE, "shaft_temp": "warm", "g0": "-3"})
    assert (answered.status, answered.code) == (422, "fields")
    assert answered.response["Content-Type"] == "application/problem+json"
    told = {
        each["field"]: (each["typed"], each["unit"], each["allowed"]) for each in answered.document["fields"]
    }
    assert told == {"shaft_temp": ("warm", "°C", "-60…200 °C"), "g0": ("-3", "um", "0…2000 um")}


@pytest.mark.parametrize("body", [{"journal": "18"}, {"g0": 14}, {"bearing": "6" * 500}])
def test_a_request_of_another_form_is_refused(fitter: Caller, body: dict[str, object]) -> None:
    answered = fitter.post("plan/", **body)
    assert (answered.status, answered.code) == (400, "malformed")


def test_a_fit_that_no_heat_will_mount_has_no_numbers_to_set(fitter: Caller) -> None:
    answered = fitter.get("plan/", bearing="6204", shaft_class="m6", shaft_temp="20")
    assert answered.document["heat"]["set_c"] is None
    assert verdict(answered, "heat")["reason"] == "unreachable"


def test_it_is_for_whoever_may_read_until_the_operator_opens_it(shop: Workshop, settings: Settings) -> None:
    nobody, administrator = Caller.nobody(shop), Caller.by_session(shop, "administrator")
    assert (nobody.get("plan/", **EXAMPLE).status, administrator.get("plan/", **EXAMPLE).status) == (401, 403)
    settings.PLANNER_OPEN = True
    for caller in (nobody, administrator):
        assert caller.get("plan/", **EXAMPLE).status == 200
        assert caller.post("plan/", **EXAMPLE).status == 200


def test_nothing_is_kept(fitter: Caller) -> None:
    before = Entry.objects.count()
    fitter.post("plan/", **EXAMPLE)
    assert Entry.objects.count() == before


def test_the_document_names_every_input() -> None:
    said = openapi()["paths"]["/api/v1/plan/"]
    assert {each["name"] for each in said["get"]["parameters"]} == set(INPUTS)
    assert set(openapi()["components"]["schemas"]["PlanQuestion"]["properties"]) == set(INPUTS)


def test_a_verdict_is_told_by_its_message_with_values_and_in_words(fitter: Caller) -> None:
    found = verdict(fitter.post("plan/", **EXAMPLE), "clearance")
    assert found["message"] == "clearance.none-left"
    assert found["text"] == (
        "(\N{MINUS SIGN}9\N{NARROW NO-BREAK SPACE}µm) No clearance left when cold: less than 0 in "
        "99.8\N{NARROW NO-BREAK SPACE}% of cases."
    )
    warm = fitter.post("plan/", **EXAMPLE | {"shaft_temp": "11 °C", "air_temp": "11 °C", "temperatures": "F"})
    assert "needs only (147\N{NARROW NO-BREAK SPACE}°F)" in verdict(warm, "habit")["text"]


def test_workings_are_in_the_lengths_and_temperatures_that_were_asked_for(fitter: Caller) -> None:
    metric = fitter.post("plan/", **EXAMPLE).document["results"]
    there = in_other_units(EXAMPLE, Lettering("in", "F"))
    inch = fitter.post("plan/", **there).document["results"]
    assert (metric["at_contact"]["unit"], inch["at_contact"]["unit"]) == ("°C", "°F")
    assert float(inch["at_contact"]["value"]) == pytest.approx(
        float(metric["at_contact"]["value"]) * 1.8 + 32, abs=0.1
    )
    assert inch["interference"]["unit"] == "thou"
    assert float(inch["interference"]["value"]) == pytest.approx(28 / 25.4, abs=0.001)


def test_what_is_asked_back_has_its_sentence_and_what_would_be_right(fitter: Caller) -> None:
    told = fitter.post("plan/", bearing="6213", shaft_class="m5", shaft_bore="65").document["fields"][0]
    assert (told["why"], told["allowed"]) == ("not-under-seat", "0 to below 65 mm")
