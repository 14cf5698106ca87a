"""The tables by address: what is in force, its rows, and rows proposed; approval is no call of the API."""

from typing import Any

import jsonschema
import pytest

from qrecords.api.views.document import openapi
from qrecords.engineering.tables import BUILT_IN
from qrecords.ledger.identifiers import new_id
from qrecords.people.permissions import Action
from qrecords.workshop.models import TableRow
from qrecords.workshop.tables import in_force
from tests.api.caller import Caller
from tests.cast import PASSWORD, Workshop, start
from tests.workshop.own_copy import CLEARANCE, approve, propose

pytestmark = pytest.mark.django_db
TABLE = "radial_internal_clearance"
ROW = "ISO 5753-1:2009 radial_internal_clearance deep_groove_ball_cyl_bore 3 over 50 to 65 mm"


def own_rows(caller: Caller) -> list[dict[str, object]]:
    rows = caller.get("tables/rows/", table=TABLE).document["rows"]
    return [row for row in rows if row["own_copy"]]


def test_every_table_is_listed_with_its_unit_its_standards_and_its_unconfirmed_rows(shop: Workshop) -> None:
    found = Caller.by_session(shop, "fitter").get("tables/").document
    assert found["digest"] == BUILT_IN.digest
    line = next(line for line in found["tables"] if line["table"] == TABLE)
    assert (line["unit"], line["values"], line["standards"]) == ("µm", ["least", "most"], ["ISO 5753-1:2009"])
    assert (line["rows"], line["unconfirmed"]) == (536, 536)


def test_a_rows_field_names_what_nobody_confirmed_or_whose_copy_it_is_from(shop: Workshop) -> None:
    caller = Caller.by_session(shop, "fitter")
    assert own_rows(caller) == []
    act = approve(shop, propose(shop))
    (row,) = own_rows(caller)
    assert (row["values"], row["unconfirmed"]) == (["24", "44"], [])
    assert row["own_copy"] == [
        {
            "row": ROW,
            "where": "table 2, page 7; copy 3, order PO-4471",
            "approval": str(act.id),
            "approved_by": act.by_hash,
            "approved_on": "2026-03-02",
        }
    ]


def test_answers_have_the_forms_that_the_document_tells(shop: Workshop) -> None:
    approve(shop, propose(shop))
    caller, components = Caller.by_session(shop, "auditor"), openapi()["components"]
    for address, query, form in (
        ("tables/", {}, "TablesAnswer"),
        ("tables/rows/", {"table": TABLE}, "RowsAnswer"),
        ("tables/proposals/", {}, "ProposedRows"),
    ):
        answered = caller.get(address, site=str(shop.site), **query)
        schema = {"$ref": f"#/components/schemas/{form}", "components": components}
        jsonschema.validate(answered.document, schema)


def test_a_token_proposes_and_another_person_puts_it_in_force_on_the_page_alone(shop: Workshop) -> None:
    caller = Caller.by_token(shop, "engineer", Action.READ.value, Action.PROPOSE_ROW.value)
    entry = str(new_id())
    said = {"entry_id": entry, "document": CLEARANCE, "reason": "compared with our copy"}
    assert [caller.post("tables/rows/", **said).status for _ in range(2)] == [201, 200]
    assert caller.get("tables/proposals/").document["rows"][0]["stands"] == "proposed"
    assert in_force(shop.site) is BUILT_IN
    by_session = Caller.by_session(shop, "engineer")
    asked = {"name": "engineer", "password": PASSWORD, "label": "x", "actions": [Action.APPROVE_ROW.value]}
    refused = by_session.post("tokens/", **asked)
    assert (refused.status, refused.document["fields"][0]["field"]) == (400, "actions.0")


def test_what_cannot_be_or_lies_far_is_a_problem_with_field_value_unit_and_range(shop: Workshop) -> None:
    caller = Caller.by_session(shop, "engineer")

    def proposed(**changed: object) -> dict[str, Any]:
        body = {"entry_id": str(new_id()), "document": CLEARANCE, "reason": "compared"} | changed
        answered = caller.post("tables/rows/", **body)
        return {"status": answered.status, **answered.document}

    wrong = proposed(document={**CLEARANCE, "values": ["44", "24"]})
    assert (wrong["status"], wrong["code"]) == (422, "table-row")
    assert wrong["facts"] == {
        "field": "most",
        "value": "24",
        "unit": "µm",
        "allowed": "above the least, 44 µm",
    }
    far = {**CLEARANCE, "values": ["24", "55"]}
    asked = proposed(document=far)
    assert (asked["status"], asked["code"]) == (422, "far-row")
    assert "35…51 µm, near 43 µm, which stands now" in str(asked["detail"])
    assert proposed(document=far, sure=True)["status"] == 201
    assert TableRow.objects.count() == 1


def test_a_mountings_findings_and_the_planner_tell_the_tables_that_judged(shop: Workshop) -> None:
    approve(shop, propose(shop))
    job = start(shop)
    job.say("clearance_before", g0=("30", "um"), method="feeler")
    caller = Caller.by_session(shop, "engineer")
    case = caller.get(f"mountings/{job.mounting.id}/").document
    assert case["tables"] == {"digest": in_force(shop.site).digest, "stands_for": ""}
    (finding,) = (f for f in case["findings"] if f["characteristic"] == "clearance before")
    assert (finding["unconfirmed"], finding["own_copy"][0]["row"]) == ([], ROW)
    plan = caller.get("plan/", bearing="6212 C3", shaft_class="m6").document
    assert plan["tables"] == case["tables"]["digest"]
    assert plan["results"]["clearance_left"]["own_copy"][0]["row"] == ROW
