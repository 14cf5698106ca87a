"""A marking and the drawing's designation, character by character."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.steps.alike import side_by_side
from qrecords.steps.identification import characters


def told(read: str, wanted: str) -> str:
    """As `a` alike, `(x|y)` another character, `(x|)` too much, `(|y)` lacking."""
    return "".join(
        place.read if place.alike else f"({place.read}|{place.wanted})"
        for place in side_by_side(read, wanted)
    )


@pytest.mark.parametrize(
    ("read", "wanted", "shown"),
    [
        ("6212 C3", "6212 C3", "6212C3"),
        ("6212c3", "6212 C3", "6212C3"),
        ("6596", "6594", "659(6|4)"),
        ("6212", "6212 C3", "6212(|C)(|3)"),
        ("6212 C3 TN9", "6212 C3", "6212C3(T|)(N|)(9|)"),
        ("6213-2RS C3", "6213-2Z C3", "6213-2(R|Z)(S|)C3"),
        ("", "6212", "(|6)(|2)(|1)(|2)"),
    ],
)
def test_what_differs_stands_at_its_place(read: str, wanted: str, shown: str) -> None:
    assert told(read, wanted) == shown


@given(st.text("62 NUC3-rs", max_size=14), st.text("62 NUC3-rs", max_size=14))
def test_both_stand_there_in_full_and_all_places_are_alike_just_where_the_two_are_the_same(
    read: str, wanted: str
) -> None:
    places = side_by_side(read, wanted)
    assert "".join(place.read for place in places) == characters(read)
    assert "".join(place.wanted for place in places) == characters(wanted)
    assert all(place.alike for place in places) == (characters(read) == characters(wanted))
