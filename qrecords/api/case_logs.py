"""The heating logs of a case as the API shows them: judged, without their samples."""

from typing import Any

from qrecords.steps.case import Case
from qrecords.steps.heating_log import RingLog, ring_logs
from qrecords.steps.heatings import heatings
from qrecords.steps.log_table import LogTable


def logs_document(case: Case) -> list[dict[str, Any]]:
    """Every log that was handed in, in ledger order, with the curves that are judged."""
    judged: dict[str, list[RingLog]] = {}
    for view in heatings(case):
        for log in ring_logs(view):
            judged.setdefault(log.file.entry, []).append(log)
    found = []
    for file in case.log_files:
        table = case.logs.get(file.sha256)
        known = {name: getattr(file, name) for name in ("sha256", "entry", "author", "at", "received")}
        more = {"after_signature": file.after_signature, "replaced": file.replaced}
        told = {"said": file.said.document(), "started": table.started if isinstance(table, LogTable) else ""}
        curves = [_curve(log) for log in judged.get(file.entry, [])]
        found.append(known | more | told | {"curves": curves})
    return found


def _curve(log: RingLog) -> dict[str, Any]:
    judged = log.curve
    above = (judged.above.low, judged.above.high)
    return {
        "ring": log.ring,
        "column": log.column.place,
        "unit": log.unit,
        "verdict": judged.verdict,
        "unproven": list(judged.unproven),
        "peak_mdegc": log.top_mdegc,
        "ceiling_mdegc": judged.limits.ceiling_mdegc,
        "above_ms": [round(each.value * 1000) for each in above],
        "rate_k_per_s": f"{judged.rate.value:.3f}" if judged.rate else "",
        "events": [{"event": type(event).__name__} | event._asdict() for event in judged.curve.events],
    }
