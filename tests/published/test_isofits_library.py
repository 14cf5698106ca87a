"""ISO 286-2 against the registry library isofits 1.0, whose tables run from 3 to 400 mm.

Test-only. Every class the library has is compared in the middle and at the end of each of its ranges; every
difference is listed below with its reason, and one that is not fails.
"""

import isofits
import pytest

from qrecords.engineering.errors import UnknownClassError
from qrecords.engineering.limits import limits_of_size

# (class, over, to): what the library prints, and why ours stands.
DIFFERENCES = {
    **{
        ("f6", over, over + 20): ((-43.0, -48.0), "misprint: IT6 is 25 µm there, −43 − 25 = −68")
        for over in (120, 140, 160)
    },
    ("E7", 315, 355): ((185.0, 125.0), "misprint: IT7 is 57 µm there, 125 + 57 = 182"),
    ("E7", 355, 400): ((185.0, 125.0), "misprint: IT7 is 57 µm there, 125 + 57 = 182"),
    ("K6", 6, 10): ((2.0, -6.0), "misprint: IT6 is 9 µm there, 2 − 9 = −7"),
}
NOT_HELD = {"a12": "no table of fundamental deviations a to c: no bearing seat has them"}
CELLS = [
    (name, int(over), int(upto), tuple(float(part) for part in data[name][i].split("\n")[:2]))
    for data in (isofits.shaft_data, isofits.hole_data)
    for name in data
    if name not in ("over", "inc.")
    for i, (over, upto) in enumerate(zip(data["over"], data["inc."], strict=True))
]


def test_every_class_and_range_of_the_library() -> None:
    compared, differing = 0, {}
    for name, over, upto, printed in CELLS:
        if name in NOT_HELD:
            continue
        for size in ((over + upto) / 2, upto):
            ours = limits_of_size(size, name)
            compared += 1
            if (ours.upper_um, ours.lower_um) != printed:
                differing[name, over, upto] = printed
    assert differing == {cell: printed for cell, (printed, _why) in DIFFERENCES.items()}
    assert compared > 2800


@pytest.mark.parametrize("tolerance_class", NOT_HELD)
def test_classes_we_do_not_hold_are_refused_by_name(tolerance_class: str) -> None:
    with pytest.raises(UnknownClassError):
        limits_of_size(60, tolerance_class)
