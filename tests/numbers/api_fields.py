"""The number fields of the API, found by walking its operations, and a row for each."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from rest_framework import serializers

from qrecords.api.acts import Typings
from qrecords.api.fields import AsSent, AsTyped
from qrecords.steps.fields import Quantity
from qrecords.steps.standard import STEPS
from tests.api.addresses import every_operation
from tests.numbers.number_row import Row
from tests.numbers.planned import PLANNED
from tests.numbers.web_fields import CAPTURES
from tests.numbers.web_fields import Row as PageRow
from tests.steps.chosen_sound import chosen_tests

NUMBERS = (serializers.IntegerField, serializers.FloatField, serializers.DecimalField, AsSent, AsTyped)


def leaves(asked: Any, path: str = "") -> Iterator[str]:
    """The paths of the number fields of a body; of the fields of a capture those of every step."""
    match asked:
        case Typings():
            for step in STEPS.values():
                yield from (f"{step.id}.{each.id}" for each in step.fields if isinstance(each.form, Quantity))
        case serializers.ListSerializer() | serializers.ListField() | serializers.DictField():
            yield from leaves(asked.child, path)
        case serializers.Serializer():
            for name, each in asked.fields.items():
                yield from leaves(each, f"{path}.{name}" if path else name)
        case _ if isinstance(asked, NUMBERS):
            yield path


def found() -> set[str]:
    """`POST equipment/ document.expanded_u`, of every operation that takes a number."""
    return {
        f"{method} {address} {path}"
        for address, method, operation in every_operation()
        for asked in (operation.body, operation.query)
        if asked is not None
        for path in leaves(asked())
    }


COUNT = "0…9007199254740991"
COUNTS: Mapping[str, str] = {
    "counter": COUNT,
    "known.index": COUNT,
    "size": f"{COUNT} bytes",
    "lowest_nm": f"{COUNT} nm",
    "highest_nm": f"{COUNT} nm",
    "after": "0…9007199254740992",
    "days": "0…1000 days",
}
"""Counts, places in the log and sizes in base units, which a program sends: nobody's slip of the hand."""


LIMIT = "−2000…2000 µm"
SIGNED = "either sign is a deviation"
OPTIONAL = {"empty": "not every drawing says it"}
DRAWN: Mapping[str, Row] = {
    "nominal_mm": Row("60", "1…2000 mm", likely="above that, up to 3000 mm", at="outside_mm"),
    "outside_mm": Row("110", "2…3000 mm", likely="63…270 mm"),
    "width_mm": Row("22", "1…1000 mm", likely="5…150 mm"),
    "seat_width_mm": Row("40", "1…2000 mm", likely="6.6…176 mm"),
    "shaft_bore_mm": Row("20", "0…1900 mm", likely="allowed: from 0 to below that"),
    "mass_kg": Row("0.78", "0.001…5000 kg", OPTIONAL, likely="0.112…2.98 kg"),
    "raceway_mm": Row("72", "1…3000 mm", OPTIONAL, likely="below (d + D)/2 = 85 mm"),
    "stabilised_c": Row("200", "50…500 °C", {
        **OPTIONAL, "°F typed as °C": "392 °C: steels are stabilised beyond S4",
    }),
    "limits_um": Row("30", LIMIT, likely="−60…83 µm"),
    "bore_um": Row("-4", LIMIT, {"negative": SIGNED}, likely="−120…120 µm for a bore of 60 mm"),
    "interference_um": Row("45", LIMIT, likely="−60…98 µm"),
    "form_um": Row("6.5", LIMIT, OPTIONAL, likely="0…19 µm|above 0, up to 2000 µm"),
    "roundness_um": Row("6.5", LIMIT, OPTIONAL, likely="0…19 µm|above 0, up to 2000 µm"),
    "taper_um": Row("6.5", LIMIT, OPTIONAL, likely="0…19 µm|above 0, up to 2000 µm"),
    "gap_um": Row("30", LIMIT, OPTIONAL, likely="10…100 µm"),
    "clearance_min_um": Row("5", LIMIT, OPTIONAL | dict.fromkeys(
        ("10 times", "25.4 times", "negative"), "wide clearances and preloads are wanted too"
    )),
}  # fmt: skip
MM = 1_000_000
"""nm in a mm, nT in a mT."""
SPANS = dict.fromkeys(("10 times", "25.4 times"), "gauges with rods span that")
THICK = dict.fromkeys(("10 times", "25.4 times"), "sets hold blades as thick")
COARSE = dict.fromkeys(("10 times", "25.4 times"), "a coarse gauge is accepted with that")
FAR_OFF = dict.fromkeys(("10 times", "25.4 times", "negative"), "so far off it may have been found")
POINT: Mapping[str, Row] = {
    "size": Row("75000000", "0…2000 mm", SPANS, per=MM),
    "error": Row("4000", "-1000…1000 µm", FAR_OFF, per=1000),
    "expanded_u": Row("1200", "0…1000 µm", likely="0.3…5 µm", per=1000),
}
CALIBRATED: Mapping[str, Row] = {
    "expanded_u": Row("1200", "0…1000 µm", likely="0.3…5 µm", per=1000),
    "resolution": Row("1000", "0…1000 µm", likely="0.1…5 µm", per=1000),
    "repeatability": Row("300", "0…1000 µm", likely="is more than U, 1.2 µm", per=1000),
    "range_nm": Row("75000000", "0…2000 mm", SPANS, per=MM),
    "blades_nm": Row("30000", "0.01…3 mm", THICK, per=MM),
    "mpe": Row("4000", "more than 0, 1000 µm at most", COARSE, per=1000),
    "interval_months": Row("10", "1…120 months", {"10 times": "a hundred months is an interval of masters"}),
    **{f"{points}.{name}": row for points in ("found_points", "left_points") for name, row in POINT.items()},
}
CAP = "60…150 °C"
IN_FORCE: Mapping[str, Row] = {
    "limits.house_cap_c": Row("110", CAP),
    "limits.greased_cap_c": Row("80", "40…120 °C"),
    "limits.field_nt": Row("251327", "0.05…1 mT", per=MM),
    "limits.blade_nm": Row("30000", "0.01…0.1 mm", per=MM),
    "limits.spread_mk": Row("5000", "0.5…10 K", per=1000),
    "decision_rule.guard_factor": Row("1.65", "0 (simple acceptance), or 1…3 u"),
    "directions": Row("60", "0…359°"),
    "points.notice_min": Row("10080", "0…43200 min"),
}
FROM_WEB = {"measurement.journal": "journal.A.0", "bore.bore": "bore.A.0"}


def _of_page(name: str, row: PageRow) -> Row:
    """The same number of a capture: the API says its unit as it is sent."""
    allowed = row.allowed.replace("−", "-").replace("µm from 60", "um from 60 mm").replace("µm", "um")
    unit = allowed.split(" ", 1)[1]
    return Row(row.sound, allowed, row.taken, unit=unit, key=FROM_WEB.get(name, name.split(".")[1]))


def _of_step(name: str, row: Row) -> Row:
    """Of a chosen step the key is the field's own, unless the row says otherwise."""
    return row if row.key else replace(row, key=name.split(".")[1])


WIDE = dict.fromkeys(("10 times", "25.4 times"), "seats are as wide")
CAPTURED: Mapping[str, Row] = {
    **{name: _of_page(name, row) for name, row in CAPTURES.items()},
    "shoulder_gap.gap": Row("0.15", "0…0.5 mm", unit="mm", key="gap.0"),
    "running.spot_at": Row("90", "0…360 °", unit="°", key="spot_at"),
    "running.turned": Row("20", "1…100 turns", unit="turns", key="turned"),
    **{name: _of_step(name, row) for each in chosen_tests().values() for name, row in each.NUMBERED.items()},
    "measurement.plane_at": Row("20", "0…2000 mm", WIDE, unit="mm", key="plane_at.A"),
}
DOCUMENTS: Mapping[str, Mapping[str, Row]] = {
    "POST journals/<uuid:id>/requirements/": DRAWN,
    "POST equipment/": CALIBRATED,
    "POST equipment/<uuid:id>/calibrations/": CALIBRATED,
    "POST procedures/": IN_FORCE,
    "POST procedures/drafts/": IN_FORCE,
}
CAPTURE = "POST mountings/<uuid:mounting>/captures/<str:step>/"


ASKED_ELSEWHERE = frozenset(
    f"POST {name}"
    for name in (
        "tables/rows/ document.over_mm",
        "tables/rows/ document.upto_mm",
        "tables/rows/ document.values",
        "equipment/ document.power_w",
        "equipment/<uuid:id>/calibrations/ document.power_w",
        "mountings/<uuid:mounting>/logs/ log.heating",
        "mountings/<uuid:mounting>/logs/ log.columns",
        "mountings/<uuid:mounting>/paper-sheets/ photos.size",
        *(f"mountings/<uuid:mounting>/marks/ marks.{name}" for name in ("from", "to", "at", "radius")),
        *(f"look-backs/ document.points.{name}" for name in ("size", "error", "u")),
        *(f"competences/ {name}" for name in ("from_mm", "to_mm", "jobs")),
        "deliveries/ lines.quantity",
    )
)
"""What is far of a table's row depends on the row that stands there: asked in `test_own_rows.py`. A heater
and its log have their own kind of gear and their own door: `test_log_numbers.py`. What stands in lists of
marks and of photos of a sheet: `tests/api/test_paper.py`. The error of a look-back is asked in
`tests/tracing/test_looking_back.py`; sizes and jobs of an assessment and pieces of a delivery in
`tests/api/test_lives.py`."""


def known() -> set[str]:
    """The number fields that have a row or are asked elsewhere; the counts wherever they stand."""
    told = {f"{operation} document.{name}" for operation, rows in DOCUMENTS.items() for name in rows}
    counted = {each for each in found() if any(each.endswith(f" {name}") for name in COUNTS)}
    planned = {f"{method} plan/ {name}" for method in ("GET", "POST") for name in PLANNED}
    return told | counted | planned | ASKED_ELSEWHERE | {f"{CAPTURE} {name}" for name in CAPTURED}
