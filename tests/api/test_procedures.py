"""Procedures at the API: drafted by a token or a person, approved by two people who prove themselves, read,
exported and compared."""

from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.identifiers import new_id
from qrecords.people.permissions import Action
from qrecords.steps.procedure import STANDARD, procedure_digest
from qrecords.steps.procedure_file import read_file
from tests.api.caller import Caller
from tests.cast import PASSWORD, Workshop
from tests.workshop.drafts import drafted, in_force, revised


def draft(shop: Workshop, who: str = "engineer", **said: Any) -> str:
    caller, id = Caller.by_session(shop, who), new_id()
    answered = caller.post("procedures/drafts/", entry_id=id, document=revised(), reason="asked for", **said)
    assert answered.status == 201, answered.document
    return str(id)


def test_a_draft_is_approved_by_two_with_their_passwords_and_then_in_force(shop: Workshop) -> None:
    id = draft(shop)
    engineer, quality = (Caller.by_session(shop, who) for who in ("engineer", "quality"))
    address = f"procedures/drafts/{id}/approvals/"
    assert quality.post(address, entry_id=new_id()).code == "prove-again"
    assert engineer.post(address, entry_id=new_id(), password=PASSWORD).status == 201
    twice = engineer.post(address, entry_id=new_id(), password=PASSWORD)
    assert (twice.status, twice.code, twice.document["facts"]) == (403, "two-people", {"why": "approved"})
    assert quality.get(f"procedures/drafts/{id}/").document["stands"] == "approved once"
    quality.post(address, entry_id=new_id(), password=PASSWORD)
    now = quality.get("procedures/").document
    assert (now["revision"], now["document"]) == ("B", revised())
    found = quality.get(f"procedures/drafts/{id}/").document
    assert (found["stands"], [act["what"] for act in found["acts"]]) == ("in force", ["approved"] * 2)
    late = quality.post(f"procedures/drafts/{id}/refusals/", entry_id=new_id(), reason="x", password=PASSWORD)
    assert (late.status, late.code, late.document["facts"]["stands"]) == (
        409,
        "procedure-settled",
        "in force",
    )


def test_a_token_drafts_and_never_approves(shop: Workshop) -> None:
    token = Caller.by_token(shop, "engineer", Action.READ.value, Action.DRAFT.value)
    id = new_id()
    token.act("procedures/drafts/", entry_id=id, document=revised(), reason="asked for")
    refused = token.post(f"procedures/drafts/{id}/approvals/", entry_id=new_id(), password=PASSWORD)
    assert (refused.status, refused.code) == (403, "never-by-token")


def test_one_person_puts_no_second_procedure_in_force(shop: Workshop) -> None:
    quality = Caller.by_session(shop, "quality")
    refused = quality.post("procedures/", entry_id=new_id(), document=revised(), password=PASSWORD)
    assert (refused.status, refused.code) == (409, "procedure-there")


def test_a_newer_draft_names_the_one_whose_place_it_takes(shop: Workshop) -> None:
    first = draft(shop)
    second = draft(shop, who="quality", instead_of=first)
    found = Caller.by_session(shop, "fitter").get(f"procedures/drafts/{first}/").document
    assert (found["id"], found["earlier"]) == (second, [first])
    quality = Caller.by_session(shop, "quality")
    late = quality.post(f"procedures/drafts/{first}/approvals/", entry_id=new_id(), password=PASSWORD)
    assert (late.status, late.document["facts"]["stands"]) == (409, "replaced by a newer draft")


def test_procedures_by_name_can_be_chosen_the_workshops_own_first(shop: Workshop) -> None:
    in_force(shop, name="Ostrey trams", revision="1", contract="Ostrey 2026-7")
    fitter = Caller.by_session(shop, "fitter")
    rows = fitter.get("procedures/in-force/").document["rows"]
    assert [(row["name"], row["contract"]) for row in rows] == [
        ("HM-1", ""),
        ("Ostrey trams", "Ostrey 2026-7"),
    ]
    assert fitter.get("procedures/").document["name"] == "HM-1"
    assert fitter.get("procedures/", name="Ostrey trams").document["revision"] == "1"
    assert fitter.get("procedures/", name="nobody's").status == 404


def test_a_version_is_exported_as_the_very_document_and_compared_with_another(shop: Workshop) -> None:
    version = in_force(shop, limits={**STANDARD["limits"], "house_cap_c": 110})
    fitter, old = Caller.by_session(shop, "fitter"), procedure_digest(STANDARD)
    text = fitter.get(f"procedures/{version.digest}/file/").document["file"]
    assert read_file(text.encode()) == version.document
    lines = fitter.get("procedures/compared/", old=old, new=version.digest).document["lines"]
    changed = [(line["place"], line["old"], line["new"]) for line in lines if line["changed"]]
    assert changed == [
        (["revision"], "A", "B"),
        (["limits", "house_cap_c"], "120", "110"),
    ]
    assert lines[: len(changed)] == [line for line in lines if line["changed"]]
    assert fitter.get("procedures/compared/", old=old, new="0" * 64).status == 404


def test_what_is_given_to_more_roles_than_have_the_right_is_asked_back(shop: Workshop) -> None:
    wider = revised(may_decide={"measure again": ["inspector", "fitter"]})
    quality = Caller.by_session(shop, "quality")
    answered = quality.post("procedures/drafts/", entry_id=new_id(), document=wider, reason="asked for")
    assert (answered.status, answered.document["facts"]["field"]) == (422, "may_decide")
    assert "'fitter' wider than the rights of the roles" in answered.document["facts"]["why"]
    assert "allowed: inspector, engineer" in answered.document["facts"]["why"]


def test_a_member_nobody_knows_is_refused_by_its_place(shop: Workshop) -> None:
    quality = Caller.by_session(shop, "quality")
    document = revised(points=[{"id": "visit", "kind": "witness", "party": "customer", "cover": ["bore"]}])
    answered = quality.post("procedures/drafts/", entry_id=new_id(), document=document, reason="asked for")
    assert answered.status == 400
    assert {f["field"] for f in answered.document["fields"]} == {"document.points.0.cover"}


@pytest.mark.parametrize("address", ["procedures/drafts/", "procedures/in-force/"])
def test_lists_ask_as_much_of_one_draft_as_of_many(shop: Workshop, address: str) -> None:
    fitter = Caller.by_session(shop, "fitter")
    in_force(shop)
    asked = []
    for time in range(2):
        with CaptureQueriesContext(connection) as queries:
            fitter.get(address)
        asked.append(len(queries))
        for nth in range(12):
            drafted(shop, revision=f"D{nth}", name=f"HM-{nth}x")
        in_force(shop, name="HM-7", revision=f"{time}")
    assert asked[0] == asked[1]
