"""The look-book's page of heating logs: a sound one and one to which everything happened. Invented values."""

from typing import Any

from qrecords.engineering.curve_cleaning import Sample, clean
from qrecords.web.pictures.heat_curve import HeatCurve, heat_curve
from qrecords.web.pictures.heat_log import heat_log
from qrecords.wording.figures import Figures

COMMA = Figures(",")


def log() -> tuple[str, dict[str, Any]]:
    """Both logs on their own clock."""
    return "lookbook/log.html", {"logs": (_drawn(_sound(), "sound"), _drawn(_spoilt(), "spoilt"))}


def _drawn(samples: list[Sample], prefix: str) -> HeatCurve:
    ready = heat_log(clean(samples))
    return heat_curve(
        ready.curves, ceiling_mdegc=120_000, figures=COMMA, prefix=prefix, events=ready.events, width=560
    )


def _sound() -> list[Sample]:
    """Heated to 110 °C at 0.5 K/s, held, cooled in air."""
    return [(float(s), min(20 + s / 2, 110.0, 110 - (s - 220) / 20)) for s in range(400)]


def _spoilt() -> list[Sample]:
    """The same with a spike, an open probe, a gap, a clock set back, and a probe that comes off at last."""
    samples: list[Sample] = [
        (s, value) for s, value in _sound() if not 130 < s < 165 and value is not None and s <= 300
    ]
    samples[60] = (60.0, 95.0)
    samples[90:96] = [(90.0 + n, 1372.0) for n in range(6)]
    samples[40:43] = [samples[42], samples[40], samples[41]]
    return samples + [(300.0 + n, max(35.0, 106 - 9.0 * n)) for n in range(1, 60)]
