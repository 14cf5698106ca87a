"""What an inspector's own check may take the place of: what can still be measured or read again on the work
as it lies there. What happened hot, or was seen once, stays as who did it told it; a check of it stands
beside."""

from collections.abc import Mapping

from qrecords.steps.case import Answered

MEASURED_AGAIN: Mapping[str, frozenset[str]] = {
    "identification": frozenset({"marking"}),
    "measurement": frozenset(
        {
            "journal", "gauge", "master", "master_before", "master_after", "thermometer", "shaft", "bearing",
            "gauge_temp", "master_temp", "air",
        }
    ),
    "bore": frozenset({"bore", "gauge", "master"}),
    "clearance_before": frozenset({"g0", "gauge", "method"}),
    "demagnetisation": frozenset({"field", "where", "meter"}),
    "shoulder_gap": frozenset({"gap", "feeler", "ring_temp", "shaft_temp"}),
    "clearance_after": frozenset({"g1", "gauge", "method"}),
}  # fmt: skip


def measured_again(step: str, key: str) -> bool:
    return key.split(".", 1)[0] in MEASURED_AGAIN.get(step, ())


def taken_place_of(
    work: Mapping[str, Answered], step: str, key: str, named: frozenset[str]
) -> Answered | None:
    """The answer of the work that a check of this key replaces, among the entries that it names."""
    standing = work.get(key)
    return standing if standing and standing.entry in named and measured_again(step, key) else None
