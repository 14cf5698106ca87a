"""A reading that is not like the others of its surface is asked about; a tapered seat is not."""

import pytest

from qrecords.steps.fields import Expected
from qrecords.steps.siblings import near_siblings

USUAL = Expected(50_000_000, 49_900_000, 50_200_000, "um from 50 mm", 50_002_000, 50_130_000)


def bases(*um: int) -> dict[str, int]:
    return {str(place): 50_000_000 + deviation * 1000 for place, deviation in enumerate(um)}


@pytest.mark.parametrize(
    ("um", "odd"),
    [
        pytest.param((8, 8, 8, 80), {"3"}, id="a nought too many"),
        pytest.param((3, 4, 100, 5), {"2"}, id="50.00x three times and 50.100 once"),
        pytest.param((8, 8, 8, 27), set(), id="near enough to be so"),
        pytest.param((10, 20, 30, 45), set(), id="a taper"),
        pytest.param((8, 80), set(), id="two cannot say which"),
    ],
)
def test_one_far_from_the_others_is_odd(um: tuple[int, ...], odd: set[str]) -> None:
    known = bases(*um)
    assert {key for key in known if near_siblings(key, known, USUAL)} == odd
