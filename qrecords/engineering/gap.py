"""The gap between inner ring and shoulder: is the ring home, cocked, or is something between?

A feeler says an interval: the thickest blade that enters and the thinnest that does not. Angles in degrees
from the keyway, gaps in µm, radii in mm.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from .errors import OutOfRangeError, OutsideValidityError
from .ranges import above, inside
from .result import Result, said

FEELER_U_UM = 3.0  # where no thinner and thicker blade bracket the gap
PLANE_FIT = "least squares plane; JCGM 100:2008, 5.1"
SEATED, NOT_SEATED, TILTED, BAD_READING = "seated", "not seated", "tilted", "burr or bad reading"
IN_PLACES = "some"
"""A blade enters here and there, and the readings tell neither a tilt nor a burr."""


@dataclass(frozen=True)
class GapReading:
    """At one angle: the thickest blade that enters (0: none), the thinnest that does not (None: unknown)."""

    angle_deg: float
    enters_um: float
    stops_um: float | None = None

    def __post_init__(self) -> None:
        inside("angle", self.angle_deg, "°")
        inside("gap", self.enters_um, "um", 0.0)
        if self.stops_um is not None:
            inside("blade that stops", self.stops_um, "um")
        if self.stops_um is not None and self.stops_um <= self.enters_um:
            raise OutOfRangeError("gap", self.enters_um, "um", 0, self.stops_um)

    @property
    def value_um(self) -> float:
        """Middle of the interval; the entering blade itself where no blade bounds it."""
        return self.enters_um if self.stops_um is None else (self.enters_um + self.stops_um) / 2

    @property
    def u_um(self) -> float:
        """Standard uncertainty: rectangular over the interval, (n − g)/√12."""
        return FEELER_U_UM if self.stops_um is None else (self.stops_um - self.enters_um) / math.sqrt(12)


def shoulder_radius_mm(bore_mm: float, outside_mm: float) -> float:
    """Radius at which the blade meets the shoulder, where the drawing gives none: (d + 0.2·(D − d))/2."""
    return (bore_mm + 0.2 * (outside_mm - bore_mm)) / 2


class Plane(NamedTuple):
    """The plane through the gaps: mean, tilt (mrad, with u), where it is widest, what does not fit it.

    With three readings the plane is exact and nothing is left to check: `residual_um` is None.
    """

    mean_um: float
    tilt: Result
    widest_deg: float
    residual_um: float | None
    residual_deg: float | None
    residual_u_um: float | None

    @property
    def tilted(self) -> bool:
        """Whether the tilt can be told from none: at least 2 u."""
        return self.tilt.value >= 2 * (self.tilt.u or 0.0)

    @property
    def fits(self) -> bool:
        """Whether no reading lies off the plane by more than 2 u of what is left over there."""
        return self.residual_um is None or self.residual_um <= 2 * (self.residual_u_um or 0.0)


def plane(readings: Sequence[GapReading], radius_mm: float, u_um: float | None = None) -> Plane:
    """Fit g(θ) = g0 + a·cos θ + b·sin θ by least squares.

    `u_um` is the standard uncertainty of every reading, by default the root mean square of the readings' own.
    Raises OutsideValidityError for fewer than three different angles.
    """
    above("radius", radius_mm, "mm")
    if u_um is not None:
        above("u of a gap", u_um, "um")
    if len({reading.angle_deg % 360 for reading in readings}) < 3:
        raise OutsideValidityError("gap plane", "three different angles are wanted at least")
    rows = [(1.0, math.cos(math.radians(r.angle_deg)), math.sin(math.radians(r.angle_deg))) for r in readings]
    gaps = [reading.value_um for reading in readings]
    inverse = _inverse([[math.fsum(row[i] * row[j] for row in rows) for j in range(3)] for i in range(3)])
    sums = [math.fsum(row[i] * gap for row, gap in zip(rows, gaps, strict=True)) for i in range(3)]
    mean, a, b = (math.fsum(inverse[i][j] * sums[j] for j in range(3)) for i in range(3))
    amplitude = math.hypot(a, b)
    u = math.sqrt(math.fsum(r.u_um**2 for r in readings) / len(readings)) if u_um is None else u_um
    # Along the direction of the tilt; for evenly spread angles this is u·√(2/n), whatever the direction.
    widest = math.atan2(b, a)
    spread = math.sqrt(_quadratic(inverse, (0.0, math.cos(widest), math.sin(widest))))
    off = [abs(gap - mean - a * row[1] - b * row[2]) for row, gap in zip(rows, gaps, strict=True)]
    worst = max(range(len(off)), key=lambda i: off[i]) if len(readings) > 3 else None
    # The plane follows each reading by its leverage; what is left over scatters by u·√(1 − leverage).
    leverage = 1.0 if worst is None else _quadratic(inverse, rows[worst])
    return Plane(
        mean_um=mean,
        tilt=Result(
            amplitude / radius_mm, "mrad", u * spread / radius_mm,
            "tilt = √(a² + b²)/R, g = g0 + a·cos θ + b·sin θ",
            (("a", said(a, "um")), ("b", said(b, "um")), ("R", said(radius_mm, "mm")), ("u", said(u, "um"))),
            ("a gap no blade enters counts as the middle of its interval",), PLANE_FIT,
        ),
        widest_deg=math.degrees(widest) % 360,
        residual_um=None if worst is None else off[worst],
        residual_deg=None if worst is None else readings[worst].angle_deg,
        residual_u_um=None if worst is None else u * math.sqrt(max(0.0, 1 - leverage)),
    )  # fmt: skip


class Seating(NamedTuple):
    """What the gaps say, and the numbers that say it.

    `kind` is `seated`, `not seated` (a gap all round), `tilted` (cocked), `burr or bad reading`, or `some`
    (a blade enters in places and nothing tells why). `plane` is None where fewer than three angles were felt.
    """

    kind: str
    widest_um: float
    limit_um: float
    plane: Plane | None

    @property
    def checked(self) -> bool:
        """Whether a reading was left over to check the plane by: never with three."""
        return self.plane is not None and self.plane.residual_um is not None


def told(
    readings: Sequence[GapReading], radius_mm: float, limit_um: float, u_um: float | None = None
) -> Seating:
    """What the gaps say, with the plane behind it; OutOfRangeError for no reading, no radius, no limit."""
    inside("number of gaps", len(readings), "1", 1)
    above("limit", limit_um, "um")
    widest_um = max(reading.enters_um for reading in readings)
    few = len({reading.angle_deg % 360 for reading in readings}) < 3
    fitted = None if few and widest_um < limit_um else plane(readings, radius_mm, u_um)
    return Seating(_kind(readings, limit_um, fitted), widest_um, limit_um, fitted)


def seating(
    readings: Sequence[GapReading], radius_mm: float, limit_um: float, u_um: float | None = None
) -> str:
    """What the gaps say in one word: the `kind` of `told`.

    Seated: no blade of the limit or more enters anywhere. Otherwise a reading that fits no plane is a burr,
    dirt or a bad reading; a tilt that can be told from none is a cocked ring; a gap all round is a ring not
    home.
    """
    return told(readings, radius_mm, limit_um, u_um).kind


def _kind(readings: Sequence[GapReading], limit_um: float, fitted: Plane | None) -> str:
    entered = [reading.enters_um >= limit_um for reading in readings]
    if fitted is None or not any(entered):
        return SEATED
    if not fitted.fits:
        return BAD_READING
    if fitted.tilted:
        return TILTED
    return NOT_SEATED if all(entered) else IN_PLACES


def _quadratic(m: Sequence[Sequence[float]], v: Sequence[float]) -> float:
    return math.fsum(v[i] * m[i][j] * v[j] for i in range(3) for j in range(3))


def _inverse(m: Sequence[Sequence[float]]) -> list[list[float]]:
    """Inverse of a symmetric 3 × 3 matrix by cofactors."""

    def cofactor(i: int, j: int) -> float:
        (p, q), (r, s) = ([m[y][x] for x in range(3) if x != j] for y in range(3) if y != i)
        return (p * s - q * r) * (1 if (i + j) % 2 == 0 else -1)

    determinant = math.fsum(m[0][j] * cofactor(0, j) for j in range(3))
    return [[cofactor(j, i) / determinant for j in range(3)] for i in range(3)]
