"""The limits the rules judge by, beside what is published. House limits say that no source was found.

Government manuals whose text was read: MIL-HDBK-1164 table 17 (93 to 121 °C), TM 5-4210-233-14&P (at most
135 °C), naval training manual 14113 (greased 95 ± 6 °C), TM 1-1520-265-23 (over 3 G after a magnetic test not
acceptable). JB/T 6641-1993, withdrawn 2007: 0.4 mT up to 30 mm outside diameter, the lowest it allows,
0.5 to 50, 0.6 to 120, 0.8 to 250 and 1.0 mT to 430 mm, which is 3.2 to 8.0 A/cm.
"""

import math

import pytest

from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.magnetism import BY_OUTSIDE_DIAMETER, HOUSE, MAGNETIC_TEST, in_air, limit
from qrecords.steps.form_limits import form_limit
from qrecords.steps.procedure import STANDARD, read_procedure
from qrecords.steps.standard import RULES
from tests.steps.casebook import Book

MU_0 = 4e-7 * math.pi  # H/m, as defined until 2019; the measured value differs in the tenth place
PROCEDURE = read_procedure(STANDARD)
HALF_IT5_UM = {"40": 5.5, "60": 6.5, "100": 7.5, "150": 9.0}  # textbook, from memory


def test_the_field_limit_is_200_ampere_per_metre_in_air_and_lower_than_what_is_published() -> None:
    assert PROCEDURE.field_limit_nt == round(MU_0 * 200 * 1e9)
    three_gauss_nt, least_of_the_withdrawn_standard_nt = 300_000, 400_000
    assert PROCEDURE.field_limit_nt < three_gauss_nt < least_of_the_withdrawn_standard_nt
    assert not RULES["residual-field"].confirmed


@pytest.mark.parametrize(
    ("outside_mm", "most_mt", "a_per_cm"),
    [(30, 0.4, 3.2), (50, 0.5, 4.0), (120, 0.6, 4.8), (250, 0.8, 6.4), (430, 1.0, 8.0)],
)
def test_the_withdrawn_standards_limits_by_outside_diameter(
    outside_mm: float, most_mt: float, a_per_cm: float
) -> None:
    found = limit(BY_OUTSIDE_DIAMETER, outside_mm)
    assert found.value == most_mt
    assert in_air(found.value, "mT", "A/cm").value == pytest.approx(a_per_cm, abs=0.05)
    assert limit(HOUSE).value < limit(MAGNETIC_TEST).value < found.value


def test_the_caps_lie_inside_what_the_manuals_allow() -> None:
    assert 93 <= PROCEDURE.house_cap_c <= 121 < 135
    assert PROCEDURE.greased_cap_c < 95 - 6


def test_the_guard_is_that_of_95_percent_on_one_side() -> None:
    below = math.erfc(-float(PROCEDURE.guard_factor) / math.sqrt(2)) / 2
    assert below == pytest.approx(0.95, abs=0.001)
    assert PROCEDURE.edition == "ISO 14253-1:2017"


@pytest.mark.parametrize(("nominal", "limit_um"), HALF_IT5_UM.items())
def test_form_is_judged_by_half_of_it5_as_textbooks_give_it(nominal: str, limit_um: float) -> None:
    book = Book()
    book.requirement |= {"nominal_mm": nominal, "outside_mm": str(2 * int(nominal))}
    assert form_limit(book.case(), "taper")[0] == round(limit_um * 1000)
    it5 = limits_of_size(nominal, "h5")
    assert it5.upper_um - it5.lower_um == 2 * limit_um


def test_house_limits_are_said_to_have_no_source() -> None:
    assert (PROCEDURE.blade_limit_nm, PROCEDURE.spread_limit_mk) == (30_000, 5000)
    assert "house rule" in RULES["shoulder-gap"].source
    assert "house rule" in RULES["one-temperature"].source
