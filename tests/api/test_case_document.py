"""The interchange form at the API: the document of a mounting, and the schemas it keeps."""

import json
from typing import Any

import jsonschema
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.api.documents import EquipmentDocument, ProcedureDocument, RequirementDocument
from qrecords.api.forms import FoundByRule, HeatingPlan, Working
from qrecords.api.views.cases import SCHEMAS
from qrecords.api.views.document import openapi
from qrecords.ledger.identifiers import new_id
from qrecords.steps.calibration import NOT_FROZEN
from qrecords.steps.interchange.answer import judgement
from qrecords.steps.interchange.answer_form import FINDING, PLAN, WORKING
from qrecords.steps.interchange.asked import GEAR, PROCEDURE, REQUIREMENT
from qrecords.steps.interchange.reading import read_case
from qrecords.steps.interchange.shapes import Named, Record
from tests.api.caller import Caller
from tests.cast import Job, Workshop, start

FROZEN = {"id", "kind", "mark", "calibration", "in_force_from", "data_output"}
"""What stands beside the document of a piece when it is frozen."""


@pytest.fixture
def job(shop: Workshop) -> Job:
    job = start(shop)
    job.receive()
    job.measure()
    return job


def address(job: Job) -> str:
    return f"mountings/{job.mounting.id}/case-document/"


def test_the_document_is_judged_elsewhere_as_the_api_shows_it_here(job: Job, fitter: Caller) -> None:
    given = fitter.get(address(job)).document
    jsonschema.Draft202012Validator(SCHEMAS["mounting-case"]()).validate(given)
    answer = judgement(read_case(json.dumps(given).encode()), "test")
    shown = fitter.get(f"mountings/{job.mounting.id}/").document
    assert answer["findings"] == shown["findings"]
    assert (answer["open"], answer["heating_plan"]) == (shown["open"], shown["heating_plan"])


def test_who_may_not_read_the_mounting_is_told_that_it_is_not_here(job: Job, fitter: Caller) -> None:
    assert fitter.get(f"mountings/{new_id()}/case-document/").status == 404
    assert Caller.nobody(job.shop).get(address(job)).status == 401


def test_who_has_to_read_the_ring_himself_first_gets_no_document_that_tells_it(
    job: Job, inspector: Caller
) -> None:
    assert inspector.get(address(job)).code == "sealed"
    job.own_reading()
    assert inspector.get(address(job)).status == 200


def test_a_longer_record_takes_no_more_queries(job: Job, fitter: Caller) -> None:
    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            assert fitter.get(address(job)).status == 200
        return len(captured)

    before = queries()
    job.bore()
    job.photograph("marking", "package", "seat", "micrometer")
    assert queries() == before <= 12


@pytest.mark.parametrize("name", ["mounting-case", "judgement"])
def test_a_schema_is_served_to_anybody(shop: Workshop, name: str) -> None:
    served = Caller.nobody(shop).get(f"schemas/{name}/")
    assert (served.status, served.document) == (200, SCHEMAS[name]())
    assert served.document["$id"] == f"/api/v1/schemas/{name}/"


def test_another_schema_is_unknown(shop: Workshop) -> None:
    assert Caller.nobody(shop).get("schemas/everything/").code == "not-found"


def test_the_openapi_document_says_where_the_schema_is() -> None:
    said = openapi()["components"]["schemas"]["InterchangeForm"]
    assert "/api/v1/schemas/mounting-case/" in said["description"]


@pytest.mark.parametrize(
    ("shape", "body", "besides"),
    [
        (REQUIREMENT, RequirementDocument, set()),
        (PROCEDURE, ProcedureDocument, set()),
        (GEAR, EquipmentDocument, FROZEN),
        (FINDING, FoundByRule, set()),
        (WORKING, Working, set()),
        (PLAN, HeatingPlan, set()),
    ],
)
def test_what_the_registers_take_and_the_api_shows_has_the_same_names_there(
    shape: Named | Record, body: Any, besides: set[str]
) -> None:
    fields: Any = shape.shape if isinstance(shape, Named) else shape
    # Of a gauge's version what its keeper alone asks is not frozen beside a capture, and no case holds it.
    kept = NOT_FROZEN if shape is GEAR else frozenset[str]()
    assert set(fields.fields) == set(body().fields) - kept | besides
