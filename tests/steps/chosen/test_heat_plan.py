"""Row 17: heat plan and kind check."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.ruled import ASKED, IN, JOURNAL, LOOK, OUT, SILENT, Ruled, chosen

SOUND: dict[str, Any] = {
    "seal_seen": "open",
    "cage_seen": "steel or brass",
    "target": ("95", "°C"),
    "dry_run": "yes",
}
RULED = (
    Ruled("seal-as-ordered", "seal", chosen("heat_plan___seal_seen"), "sealed or shielded", OUT, ASKED,
          "its ceiling is another one"),
    Ruled("cage-as-ordered", "cage", chosen("heat_plan___cage_seen"), "polyamide", OUT, ASKED,
          "polyamide softens where brass does not"),
    Ruled("target-under-ceiling", "target", chosen("heat_plan___target"), ("121", "°C"), OUT, ASKED,
          "what is set too high is reached"),
    Ruled("target-reaches", "target", chosen("heat_plan___target"), ("60", "°C"), LOOK, ASKED,
          "too cold for this fit it sticks half-way"),
    Ruled("target-reaches", "journal", chosen(*JOURNAL), None, IN, SILENT,
          "no fit, no plan: told of the fit"),
    Ruled("dry-run", "dry run", chosen("heat_plan___dry_run"), "no", LOOK, ASKED,
          "gone through once without heat"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {"heat_plan.target": Row("95", "40…150 °C", unit="°C")}


def test_row_17_heat_plan_and_kind_check() -> None:
    """A sealed bearing ordered and in hand: its own ceiling of 80 °C, and no word about its kind."""
    sealed = chosen("heat_plan___seal_seen", kinds=["sealed"])("sealed or shielded")
    found = {rule: sealed.rule(rule)[0] for rule in ("seal-as-ordered", "target-under-ceiling")}
    assert [each.verdict.value for each in found.values()] == ["conforming", "nonconforming"]
    assert found["target-under-ceiling"].upper == 80_000
    open_in_hand = chosen("heat_plan___seal_seen", kinds=["sealed"])("open").rule("seal-as-ordered")[0]
    assert open_in_hand.facts["wanted"] == "sealed or shielded"
