"""The number fields of the planner, and where each may lie. Nothing of them is recorded: a slip inside the
range is answered, and the answer shows what was taken."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Planned:
    """A sound number, its range with its unit as the answer says it, and what of it is outside."""

    sound: str
    allowed: str
    outside: tuple[str, ...]


DEVIATION = "-2000…2000 um from 65 mm"
CLEARANCE = "0…2000 um"
NOW = "-60…200 °C"
PLANNED: Mapping[str, Planned] = {
    "nominal": Planned("65", "1…2000 mm", ("0", "-65", "65000")),
    "outside": Planned("120", "2…3000 mm", ("1", "-120", "120000")),
    "width": Planned("23", "1…1000 mm", ("0", "-23", "23000")),
    "shaft_bore": Planned("20", "0…1900 mm", ("-1", "20000")),
    "journal_low": Planned("18", DEVIATION, ("18000", "-18000")),
    "journal_high": Planned("20", DEVIATION, ("20000", "-20000")),
    "bore": Planned("-9", DEVIATION, ("-9000", "9000")),
    "g0": Planned("14", CLEARANCE, ("-14", "14000")),
    "other_g0": Planned("35", CLEARANCE, ("-35", "35000")),
    "gauge_u": Planned("2", "0…200 um", ("-2", "2000")),
    "least": Planned("5", "-2000…2000 um", ("5000", "-5000")),
    "shaft_temp": Planned("11", NOW, ("11000", "-11000")),
    "air_temp": Planned("11", NOW, ("11000", "-11000")),
    "ceiling": Planned("110", "30…400 °C", ("-110", "1100")),
    "evenly": Planned("5", "0…200 K", ("-5", "5000")),
    "mass": Planned("1", "0.001…5000 kg", ("0", "-1", "6000")),
    "raceway": Planned("76", "1…3000 mm", ("0", "-76", "76000")),
    "air_speed": Planned("1", "0…30 m/s", ("-1", "31")),
    "habit": Planned("110", "30…400 °C", ("-110", "1100")),
}

OF_READINGS: Mapping[str, Mapping[str, Planned]] = {
    "/planner/series/": {
        "lower": Planned("5", "-2000…2000 um", ("5000", "-5000")),
        "upper": Planned("18", "-2000…2000 um", ("18000", "-18000")),
    },
    "/planner/gauge-study/": {"tolerance": Planned("13", "0…2000 um", ("-13", "13000"))},
}
"""The same of the pages beside it, by address."""
