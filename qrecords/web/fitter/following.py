"""What a tap means besides itself, before anything of a form is recorded."""

from collections.abc import Mapping
from dataclasses import replace

from qrecords.mountings.judging import Judged
from qrecords.web.fitter import gaps, readings
from qrecords.web.fitter.sent import Sent

MEASURES: Mapping[str, str] = {
    "bore.gauge": "bore.bore",
    "bore.master": "bore.bore",
    "clearance_before.gauge": "clearance_before.g0",
    "demagnetisation.meter": "demagnetisation.field",
    "clearance_after.gauge": "clearance_after.g1",
}
"""Gear that a page offers by itself, and the reading it is there for: without one it was not used."""


def with_what_follows(judged: Judged, sent: Sent) -> Sent:
    """A blade at an angle is a gap, bore readings say *measured*, a reason may hold for every place still
    empty, and gear that measured nothing is not named."""
    fields = dict(sent.fields)
    for about, _answer in sent.absent():
        fields[about] = ""
    _blade(fields)
    bores = [key for key, value in fields.items() if key.startswith("bore.bore.") and value.strip()]
    if bores and not fields.get("bore.source"):
        fields["bore.source"] = "measured"
    for gear, head in MEASURES.items():
        if not any(_is(name, head) and value.strip() for name, value in fields.items()):
            fields.pop(gear, None)
    if fields.get("absent_rest"):
        _rest(judged, sent, fields)
    return replace(sent, fields=fields)


def _is(name: str, head: str) -> bool:
    return name == head or name.startswith(f"{head}.")


def _blade(fields: dict[str, str]) -> None:
    blade, at = fields.get("blade"), fields.get("at", "")
    if at and not blade and fields.get(gaps.MORE, "").strip():
        fields[f"shoulder_gap.gap.{at}"] = fields[gaps.MORE]
    if blade == gaps.CANNOT_REACH:
        fields[f"absent:shoulder_gap.gap.{at}"] = "not possible|cannot reach"
    elif blade and blade != gaps.MORE and at:
        fields[f"shoulder_gap.gap.{at}"] = blade


def _rest(judged: Judged, sent: Sent, fields: dict[str, str]) -> None:
    said = next((f"{answer.state}|{answer.reason}" for _, answer in sent.absent()), "")
    for place in readings.journal_surface(judged.case).names if said else ():
        key = place.partition(".")[2]
        if not fields.get(place, "").strip() and judged.case.said("measurement", key) is None:
            fields[f"absent:{place}"] = said
