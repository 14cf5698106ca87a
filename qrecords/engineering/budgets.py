"""The uncertainty budget: named parts, each with its distribution, put together into u_c and U.

A part is stated as its certificate or its paper states it (half width, expanded uncertainty, standard
deviation) and divided by what its distribution asks for. Source: JCGM 100:2008, 4.3, 5.1 and annex G.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from .distributions import MOST_DEGREES, t_quantile
from .materials import ALPHA_SHAFT
from .ranges import inside
from .readings import BIGGEST, counted, finite, positive
from .result import Result, said

HOUSE_FACTOR = 2.0  # k where nobody stated degrees of freedom: the house rule for gauges


class Distribution(Enum):
    """How a cause is spread; the value is what its stated number is divided by to make a u of it."""

    NORMAL = 2.0  # an expanded uncertainty of k = 2; a certificate with another k states it
    STANDARD = 1.0  # a standard deviation of the mean, or a u already
    RECTANGULAR = math.sqrt(3)
    TRIANGULAR = math.sqrt(6)
    U_SHAPED = math.sqrt(2)


@dataclass(frozen=True)
class Component:
    """One part: `value` in `unit`, that of its cause, `sensitivity` in units of the result for each of those.

    `divisor` None is that of the distribution. `degrees` of freedom None: known as well as can be. Raises
    OutOfRangeError for a negative number, NaN or infinity.
    """

    name: str
    value: float
    distribution: Distribution = Distribution.STANDARD
    divisor: float | None = None
    sensitivity: float = 1.0
    degrees: float | None = None
    unit: str = "um"

    def __post_init__(self) -> None:
        finite((self.sensitivity,), "", f"sensitivity of {self.name}")
        inside(self.name, self.value, self.unit, 0, BIGGEST)
        if self.divisor is not None:
            positive(f"divisor of {self.name}", self.divisor, "")
        if self.degrees is not None:
            inside(f"degrees of {self.name}", self.degrees, "", 1, MOST_DEGREES)

    @property
    def stated(self) -> str:
        """What it is made of: number, distribution, divisor, sensitivity."""
        by = self.divisor or self.distribution.value
        spread = self.distribution.name.lower().replace("_", "-")
        return f"{said(self.value, self.unit)}, {spread}, divisor {said(by)}, c {said(self.sensitivity)}"

    @property
    def u(self) -> float:
        """Its contribution to u_c, in the unit of the result; never negative."""
        return abs(self.sensitivity) * self.value / (self.divisor or self.distribution.value)


class Budget(NamedTuple):
    """The parts and what comes of them; `degrees` is None where no part states any."""

    components: tuple[Component, ...]
    combined: Result
    degrees: Result | None
    expanded: Result


def combine(components: Sequence[Component], unit: str = "um", probability: float = 0.95) -> Budget:
    """u_c = √Σuᵢ² and U = k·u_c of independent parts.

    With degrees of freedom stated, k is Student's t of `probability` at ν_eff (Welch and Satterthwaite, cut
    to a whole number); without any, k = 2. Raises OutOfRangeError for no part, two of one name, or nought
    in all.
    """
    counted("components", len(components), 1)
    names = [part.name for part in components]
    for name in names:
        counted(f"components called {name}", names.count(name), 1, 1)
    u_c = math.hypot(*(part.u for part in components))
    positive("combined uncertainty", u_c, unit)
    put_in = tuple((part.name, f"{said(part.u, unit)} of {part.stated}") for part in components)
    combined = Result(u_c, unit, None, "u_c = √(Σ(cᵢ·xᵢ/divisorᵢ)²)", put_in, ("parts are independent",),
                      "JCGM 100:2008, 4.3 and 5.1")  # fmt: skip
    degrees = _effective(components, u_c, unit)
    return Budget(tuple(components), combined, degrees, _expanded(combined, degrees, probability))


def _effective(components: Sequence[Component], u_c: float, unit: str) -> Result | None:
    stated = [(part, part.degrees) for part in components if part.degrees is not None and part.u > 0]
    if not stated:
        return None
    # As ratios to u_c: fourth powers of small numbers would vanish.
    exact = 1 / math.fsum((part.u / u_c) ** 4 / nu for part, nu in stated)
    put_in = (
        ("u_c", said(u_c, unit)),
        *((part.name, f"{said(part.u, unit)}, ν {said(nu)}") for part, nu in stated),
    )
    return Result(
        exact, "1", None, "ν_eff = u_c⁴/Σ(uᵢ⁴/νᵢ)", put_in,
        ("parts are independent", "parts without degrees of freedom are known as well as can be"),
        "JCGM 100:2008, G.4.1",
    )  # fmt: skip


def _expanded(combined: Result, degrees: Result | None, probability: float) -> Result:
    if degrees is None:
        k, assumed = HOUSE_FACTOR, "k = 2 is about 95 % where no part rests on few readings"
        put_in: tuple[tuple[str, str], ...] = (("k", said(k)),)
        source = "JCGM 100:2008, 6.2; k by house rule"
    else:
        nu = max(
            1, math.floor(min(degrees.value, MOST_DEGREES) * (1 + 1e-12))
        )  # a whole number less a float's dust
        k, assumed = (
            t_quantile((1 + probability) / 2, nu),
            "the result is normal, its spread known from ν readings",
        )
        put_in = (("ν", str(nu)), ("probability", f"{100 * probability:g} %"), ("k", said(k)))
        source = "JCGM 100:2008, G.4.1 and G.3"
    return Result(
        k * combined.value, combined.unit, None, "U = k·u_c",
        (("u_c", said(combined.value, combined.unit)), *put_in), (*combined.assumptions, assumed), source,
    )  # fmt: skip


def of_diameter(
    diameter_mm: float,
    resolution_um: float,
    expanded_um: float,
    difference_half_width_k: float,
    offset_from_20_k: float,
    delta_alpha_half_width_per_k: float,
    repeatability_um: float,
    repeats: int,
    operator_um: float,
    alpha_per_k: float = ALPHA_SHAFT,
    offset_u_k: float = 0.0,
) -> Budget:
    """The budget of a diameter in µm, as an outside micrometer in a workshop has it.

    `offset_u_k`, how surely the offset from 20 °C is known, adds the second-order term of offset and
    difference of expansion: it counts where the offset itself is small. Source: JCGM 100:2008, 4.3.7, 5.1.2.
    """
    d_um = diameter_mm * 1000
    spread = repeatability_um / math.sqrt(counted("repeats", repeats, 1))
    alpha = delta_alpha_half_width_per_k
    return combine(
        (
            Component("resolution", resolution_um / 2, Distribution.RECTANGULAR),
            Component("calibration", expanded_um, Distribution.NORMAL),
            Component(
                "gauge − part",
                difference_half_width_k,
                Distribution.RECTANGULAR,
                sensitivity=d_um * alpha_per_k,
                unit="K",
            ),
            Component(
                "offset from 20 °C",
                alpha,
                Distribution.RECTANGULAR,
                sensitivity=d_um * offset_from_20_k,
                unit="1/K",
            ),
            Component("repeatability", spread),
            Component("operator", operator_um),
            Component(
                "offset and expansion, second order",
                alpha,
                Distribution.RECTANGULAR,
                sensitivity=d_um * offset_u_k,
                unit="1/K",
            ),
        )
    )
