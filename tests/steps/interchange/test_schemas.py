"""The published schemas are made from what reads a case: they cannot say anything else than it does."""

import json
import re
from typing import Any

import jsonschema
import jsonschema_rs
import pytest
from hypothesis import given, settings

from qrecords.steps.fields import Choice, Gear, Quantity
from qrecords.steps.interchange.answer_form import answer_schema
from qrecords.steps.interchange.form import CASE, case_schema
from qrecords.steps.interchange.plain_shapes import OF_SHAPE
from qrecords.steps.work import STEPS
from tests.steps.interchange.documents import DOCS, EXAMPLES, as_bytes, example, judged
from tests.steps.interchange.test_any_case import spoilt

SCHEMAS = {"mounting-case": case_schema, "judgement": answer_schema}
VALID = jsonschema_rs.Draft202012Validator(case_schema())


@pytest.mark.parametrize("name", SCHEMAS)
def test_a_schema_is_one_of_2020_12_and_stands_in_the_manual_as_it_is_served(name: str) -> None:
    schema = SCHEMAS[name]()
    jsonschema.Draft202012Validator.check_schema(schema)
    assert json.loads((DOCS / f"{name}.schema.json").read_text()) == schema


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_keeps_the_schema_and_so_does_its_answer(name: str) -> None:
    VALID.validate(example(name))
    jsonschema.Draft202012Validator(answer_schema()).validate(judged(example(name)))


@pytest.mark.parametrize("step", STEPS)
def test_the_fields_of_a_step_are_those_it_asks_for(step: str) -> None:
    fields = STEPS[step].fields
    said = case_schema()["$defs"][f"fields-of-{step}"]
    assert set(said["properties"]) == {field.id for field in fields if not field.many}
    assert len(said.get("patternProperties", {})) == sum(field.many for field in fields)
    assert said["additionalProperties"] is False


@pytest.mark.parametrize("step", STEPS)
def test_a_field_may_be_answered_as_its_form_says(step: str) -> None:
    said = case_schema()["$defs"][f"fields-of-{step}"]
    for field in STEPS[step].fields:
        at_places = said.get("patternProperties", {})
        named = [s for p, s in at_places.items() if field.many and p.startswith(f"^{field.id}[.]")]
        shape = named[0] if named else said["properties"][field.id]
        if "$ref" in shape:
            shape = case_schema()["$defs"][shape["$ref"].rsplit("/", 1)[1]]
        text, answered = shape["anyOf"]
        given = answered["else"]["properties"]
        match field.form:
            case Quantity(_, units, _, _):
                allowed = given["unit"].get("enum") or given["unit"]["pattern"]
                assert all(unit in allowed for unit in units), field.id
            case Choice(options):
                assert text["enum"] == given["typed"]["enum"] == list(options)
            case Gear(kinds):
                assert all(kind in text["description"] for kind in kinds)


@settings(max_examples=80)
@given(spoilt())
def test_the_schema_refuses_what_the_reader_refuses_for_its_shape_and_nothing_else(document: Any) -> None:
    value = json.loads(as_bytes(document))
    faults = [fault for fault in CASE.faults(value, "") if fault.code in OF_SHAPE]
    valid = VALID.is_valid(value)
    assert valid == (not faults), (faults[:2], [error.message for error in VALID.iter_errors(value)][:2])


def test_the_manual_shows_what_the_examples_say() -> None:
    manual = (DOCS / "mounting-case.md").read_text()
    shown = re.findall(r"```json\n(.*?)```", manual, re.DOTALL)
    assert json.loads(shown[0]) == example("short")
