"""Our unit conversions against Pint (test-only), an independent unit library with its own constants.

Pint never sees typed text, in the tests either: it gets a float and a unit name.
"""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.magnetism import in_air
from qrecords.engineering.units import read

REGISTRY = pint.UnitRegistry()
ORACLE = {
    ("length", "mm"): ("millimeter", "nanometer"),
    ("length", "um"): ("micrometer", "nanometer"),
    ("length", "in"): ("inch", "nanometer"),
    ("length", "thou"): ("thou", "nanometer"),
    ("temperature", "°C"): ("degree_Celsius", "degree_Celsius"),
    ("temperature", "°F"): ("degree_Fahrenheit", "degree_Celsius"),
    ("temperature_difference", "K"): ("delta_degree_Celsius", "delta_degree_Celsius"),
    ("temperature_difference", "°F"): ("delta_degree_Fahrenheit", "delta_degree_Celsius"),
    ("time", "min"): ("minute", "millisecond"),
    ("time", "h"): ("hour", "millisecond"),
    ("mass", "lb"): ("pound", "milligram"),
    ("mass", "oz"): ("ounce", "milligram"),
    ("field", "mT"): ("millitesla", "nanotesla"),
    ("field", "G"): ("gauss", "nanotesla"),
    ("force", "lbf"): ("force_pound", "millinewton"),
    ("torque", "lbf·ft"): ("foot * force_pound", "millinewton * meter"),
    ("torque", "lbf·in"): ("inch * force_pound", "millinewton * meter"),
    ("ratio", "%"): ("percent", "ppm"),
}


@pytest.mark.parametrize(("ours", "theirs"), ORACLE.items())
@given(number=st.decimals(-200, 10_000, places=4))
def test_every_unit(ours: tuple[str, str], theirs: tuple[str, str], number: object) -> None:
    quantity, unit = ours
    base = read(str(number), quantity, unit).base
    converted = REGISTRY.Quantity(float(str(number)), theirs[0]).to(theirs[1], "Gaussian").magnitude
    expected = converted * 1000 if "degree" in theirs[1] else converted
    assert math.isclose(base, expected, rel_tol=1e-12, abs_tol=0.501)


@given(number=st.decimals(0, 10_000, places=3))
def test_a_field_strength_as_flux_density_in_air(number: object) -> None:
    field = REGISTRY.Quantity(float(str(number)), "ampere / centimeter")
    converted = (field * REGISTRY.Quantity(1, "vacuum_permeability")).to("nanotesla").magnitude
    # Constants of different CODATA years differ by parts in 10¹⁰.
    assert math.isclose(read(str(number), "field", "A/cm").base, converted, rel_tol=1e-9, abs_tol=0.501)


def test_the_house_limit_of_2_a_per_cm() -> None:
    assert read("2", "field", "A/cm").base == 251_327  # nT: 0.2513 mT, 2.513 G
    gauss = REGISTRY.Quantity(251_327, "nanotesla").to("gauss", "Gaussian").magnitude
    assert gauss == pytest.approx(2.513, abs=5e-4)


@pytest.mark.parametrize(
    ("unit", "theirs"), [("A/cm", "ampere / centimeter"), ("A/m", "ampere / meter"), ("Oe", "oersted")]
)
@given(number=st.floats(-1e4, 1e4))
def test_a_field_strength_in_any_unit_as_flux_density_in_air(unit: str, theirs: str, number: float) -> None:
    strength = REGISTRY.Quantity(number, theirs).to("ampere / meter", "Gaussian")
    millitesla = (strength * REGISTRY.Quantity(1, "vacuum_permeability")).to("millitesla").magnitude
    assert math.isclose(in_air(number, unit, "mT").value, millitesla, rel_tol=1e-9, abs_tol=1e-12)
