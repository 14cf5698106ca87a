"""What may be decided about a bearing that was hotter than it may be, by how hot it was (ruling 12)."""

from qrecords.steps.case import Case
from qrecords.steps.deciding import RowOf
from qrecords.steps.findings import Finding, Verdict

UNCODED_STABLE_C = 150
"""Where an uncoded bearing's steel begins to temper (ruling 12; heat-treating society note, 2019)."""
OFF_INNER = "off-inner-ring"
"""Ending of the message where only another place than the inner ring was read."""
INSPECTORS_MK = 10_000


def _overheat(finding: Finding, case: Case) -> str:
    """An open bearing up to 10 K over its cap may be accepted by the inspector; up to its stabilisation
    temperature the engineer may concede; above it, scrap. A sealed, greased or polyamide bearing over its cap
    is the engineer's or scrap, and scrap over the bearing's own data; one that is not proven is measured
    again (house rule). Where the inner ring was not read, nobody knows that it was within 10 K."""
    if finding.verdict == Verdict.MISSING:
        return "peak-missing"
    if finding.verdict == Verdict.NOT_PROVEN:
        return "overheat-not-proven"
    over_mk = finding.value - finding.upper if finding.value and finding.upper else 0
    inner_known = not finding.message.endswith(OFF_INNER)
    own_data = finding.facts.get("ceiling") == "own_data"
    stable_c = case.requirement.stabilised_c or UNCODED_STABLE_C
    if finding.value is not None and finding.value > stable_c * 1000:
        return "overheat-unstable"
    if {"sealed", "greased", "polyamide_cage"} & set(case.requirement.kinds):
        return "overheat-own-data" if own_data else "overheat-greased"
    return "overheat-10" if over_mk <= INSPECTORS_MK and inner_known else "overheat-more"


OF_OVERHEAT = RowOf(
    (
        "overheat-10",
        "overheat-more",
        "overheat-unstable",
        "overheat-greased",
        "overheat-own-data",
        "overheat-not-proven",
        "peak-missing",
    ),
    _overheat,
)
