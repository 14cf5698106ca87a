"""The look-book's page of drawings: fits with their probability, gaps seen from the end of the shaft.

Invented values."""

from typing import Any

from qrecords.web.pictures.fit_distribution import Bell, FitDistribution, Shares, fit_distribution
from qrecords.web.pictures.gap_dial import Gap, GapDial, Tilt, gap_dial
from qrecords.wording.figures import Figures

COMMA = Figures(",")
MEASURED, BY_CLASS = Bell(28_000, 1_414.0), Bell(25_000, 3_308.0)


def probable() -> FitDistribution:
    """A measured fit before that of its classes."""
    shares = Shares("< 0,1\u202f%", "< 0,1\u202f%")
    return fit_distribution(
        MEASURED, figures=COMMA, prefix="probable", limits_nm=(11_000, 39_000), shares=shares, behind=BY_CLASS
    )


def drawings() -> tuple[str, dict[str, Any]]:
    """Fits: by class, measured, at its limit, without limits, of one point; gaps: sound, tilted, a burr."""
    shares = Shares("10,5\u202f%", "< 0,1\u202f%")
    loose = Bell(-2_000, 4_000.0)
    fits = (
        fit_distribution(
            BY_CLASS,
            figures=COMMA,
            prefix="class",
            limits_nm=(11_000, 39_000),
            shares=Shares("< 0,1\u202f%", "< 0,1\u202f%"),
        ),
        probable(),
        fit_distribution(loose, figures=COMMA, prefix="loose", limits_nm=(-7_000, 12_000), shares=shares),
        fit_distribution(MEASURED, figures=COMMA, prefix="free"),
        fit_distribution(Bell(28_000, 0.0), figures=COMMA, prefix="point", limits_nm=(11_000, 39_000)),
    )
    return "lookbook/drawings.html", {"fits": fits, "dials": tuple(_dials())}


def _dials() -> list[GapDial]:
    home = tuple(Gap(at, 0) for at in range(0, 360, 90))
    tilted = tuple(Gap(at, mm * 1000, "out") for at, mm in ((0, 30), (90, 50), (180, 70), (270, 50)))
    burr = (*(Gap(at, 0) for at in (0, 60, 120, 180, 240)), Gap(300, 60_000, "out"))
    return [
        gap_dial(home, figures=COMMA, prefix="home", field_name=""),
        gap_dial(tilted, figures=COMMA, prefix="tilted", tilt=Tilt(50_000, -20_000, 0), field_name=""),
        gap_dial(burr, figures=COMMA, prefix="burr", tilt=Tilt(10_000, 10_000, -17_000), field_name=""),
    ]
