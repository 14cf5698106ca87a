"""Default expansion coefficients and elastic constants against published ones.

Source: `expansion.csv`, each row with its own source (ASME BPVC II-D table TE-1, steel grade sheets and
others). Rows marked `memory` or `listed-doubtful` are not used as evidence.
"""

from qrecords.engineering.materials import ALPHA_RING, ALPHA_SHAFT, DENSITY_KG_M3, U_ALPHA_RING, YOUNG_GPA
from tests.published import lines

CONFIRMED = [line for line in lines("expansion.csv") if line["confidence"] == "confirmed"]


def values(material: str, quantity: str, *conditions: str) -> list[float]:
    return [
        float(line["value"])
        for line in CONFIRMED
        if line["material"].startswith(material)
        and line["property"] == quantity
        and (not conditions or line["condition"].startswith(conditions))
    ]


def test_the_rings_coefficient_lies_between_the_published_ones_for_its_range() -> None:
    bearing_steel = values("bearing_steel", "alpha_mean", "20-100")
    code_steel = values("carbon_or_low_alloy_steel", "alpha_mean", "21-121")
    assert bearing_steel == [11.9] and code_steel == [12.24]
    assert bearing_steel[0] <= ALPHA_RING * 1e6 <= code_steel[0]


def test_the_stated_half_width_covers_both() -> None:
    half_width = U_ALPHA_RING * 3**0.5 * 1e6
    for published in (11.9, 12.24):
        assert abs(ALPHA_RING * 1e6 - published) <= half_width


def test_the_shafts_coefficient_lies_among_common_shaft_steels_at_room_temperature() -> None:
    grades = values("carbon_or_low_alloy_steel:", "alpha_mean", "20-100")
    assert len(grades) >= 6
    assert min(grades) <= ALPHA_SHAFT * 1e6 <= max(grades)


def test_elastic_modulus_and_density_of_bearing_steel() -> None:
    (published_gpa,) = values("bearing_steel", "E")
    (published_density,) = values("bearing_steel", "density")
    assert abs(YOUNG_GPA - published_gpa) / published_gpa < 0.02
    assert abs(DENSITY_KG_M3 - published_density) / published_density < 0.001
