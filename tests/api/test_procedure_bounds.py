"""Limits of a procedure: what no workshop can mean is asked back with limit, value, unit and range."""

from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.steps.procedure import STANDARD
from qrecords.workshop.models import ProcedureDraft
from tests.api.caller import Answered, Caller
from tests.cast import Workshop

IMPOSSIBLE: dict[str, tuple[str, Any, str]] = {
    "a cap of 250 °C": ("house_cap_c", 250, "250 °C is not possible; allowed: 60…150 °C"),
    "a cap in °F": ("house_cap_c", 248, "allowed: 60…150 °C"),
    "a cap ten times less": ("house_cap_c", 12, "12 °C is not possible; allowed: 60…150 °C"),
    "greased in °F": ("greased_cap_c", 176, "176 °C is not possible; allowed: 40…120 °C"),
    "greased above open": (
        "greased_cap_c",
        120,
        "120 °C is above the cap of open bearings; allowed: up to 110",
    ),
    "a field a thousand times off": (
        "field_nt",
        251_327_000,
        "251.327 mT is not possible; allowed: 0.05…1 mT",
    ),
    "a field of the earth": ("field_nt", 25_133, "0.025133 mT is not possible; allowed: 0.05…1 mT"),
    "a blade of 30 nm": ("blade_nm", 30, "0.00003 mm is not possible; allowed: 0.01…0.1 mm"),
    "a blade ten times off": ("blade_nm", 300_000, "0.3 mm is not possible; allowed: 0.01…0.1 mm"),
    "no spread at all": ("spread_mk", 0, "0 K is not possible; allowed: 0.5…10 K"),
    "a spread ten times off": ("spread_mk", 50_000, "50 K is not possible; allowed: 0.5…10 K"),
    "a negative cap": ("house_cap_c", -120, "-120 °C is not possible; allowed: 60…150 °C"),
    "four thousand digits": ("house_cap_c", 10**4000, "… °C is not possible; allowed: 60…150 °C"),
}
GUARDS = {"16.5": "16.5 u", "0.165": "0.165 u", "-1.65": "-1.65 u", "NaN": "'NaN'", "1.65 u": "'1.65 u'"}


def put(shop: Workshop, document: dict[str, Any]) -> Answered:
    quality = Caller.by_session(shop, "quality")
    return quality.post("procedures/drafts/", entry_id=new_id(), document=document, reason="a new house cap")


def revised(**limits: Any) -> dict[str, Any]:
    return {**STANDARD, "revision": "B", "limits": {**STANDARD["limits"], **limits}}


@pytest.mark.parametrize(("limit", "value", "said"), IMPOSSIBLE.values(), ids=list(IMPOSSIBLE))
def test_a_limit_that_cannot_be_is_asked_back(shop: Workshop, limit: str, value: int, said: str) -> None:
    before = Entry.objects.count()
    lower_cap = {"house_cap_c": 110} if "open" in said else {}
    answered = put(shop, revised(**{limit: value}, **lower_cap))
    assert (answered.status, answered.code) == (422, "document")
    assert answered.document["facts"]["field"] == limit
    assert said in answered.document["facts"]["why"]
    assert len(answered.response.content) < 2000
    assert (ProcedureDraft.objects.count(), Entry.objects.count()) == (0, before)


@pytest.mark.parametrize(("factor", "told"), GUARDS.items())
def test_a_guard_that_is_none_is_asked_back(shop: Workshop, factor: str, told: str) -> None:
    rule = {"edition": "ISO 14253-1:2017", "guard_factor": factor}
    answered = put(shop, {**STANDARD, "revision": "B", "decision_rule": rule})
    assert (answered.status, answered.document["facts"]["field"]) == (422, "guard_factor")
    why = answered.document["facts"]["why"]
    assert told in why and "0 (simple acceptance), or 1…3 u" in why


@pytest.mark.parametrize("direction", ["360", "-60", "sixty", "9" * 100_000])
def test_a_direction_is_a_whole_degree(shop: Workshop, direction: str) -> None:
    answered = put(shop, {**STANDARD, "revision": "B", "directions": ["0", direction]})
    assert (answered.status, answered.document["facts"]["field"]) == (422, "directions")
    assert "0…359°" in answered.document["facts"]["why"]


def test_a_comma_in_the_guard_is_a_point(shop: Workshop) -> None:
    rule = {"edition": "ISO 14253-1:2017", "guard_factor": "1,65"}
    assert put(shop, {**STANDARD, "revision": "B", "decision_rule": rule}).status == 201


def test_other_limits_of_a_house_are_taken(shop: Workshop) -> None:
    assert put(shop, revised(house_cap_c=110, field_nt=300_000, spread_mk=3000)).status == 201
