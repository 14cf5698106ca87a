"""Unusual and information stand beside the findings and are none (rulings 11, 16, 18, 24)."""

from datetime import timedelta

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.remarks import Kind, Remark, all_remarks
from tests.steps.casebook import Book, sound


def told(book: Book, name: str) -> list[Remark]:
    return [remark for remark in all_remarks(book.case()) if remark.id == name]


@pytest.mark.parametrize(
    ("peak", "kinds", "unusual"),
    [("100", ["polyamide_cage"], 0), ("100.1", ["polyamide_cage"], 1), ("118", ["polyamide_cage"], 1),
     ("120", ["polyamide_cage"], 1), ("120.1", ["polyamide_cage"], 0), ("110", [], 0), ("79", ["sealed"], 0),
     ("110", ["polyamide_cage", "sealed"], 0)],
)  # fmt: skip
def test_polyamide_between_100_and_120_degrees_is_unusual(peak: str, kinds: list[str], unusual: int) -> None:
    book = sound(heating___peak=(peak, "°C"))
    book.requirement["kinds"] = kinds
    found = told(book, "hotter-than-aimed")
    assert [remark.kind for remark in found] == [Kind.UNUSUAL] * unusual


def test_what_is_unusual_is_no_finding_and_keeps_nothing_from_being_signed() -> None:
    book = sound(heating___peak=("110", "°C"))
    book.requirement["kinds"] = ["polyamide_cage"]
    assert told(book, "hotter-than-aimed")
    assert book.flags() == {}


@pytest.mark.parametrize("state", [None, *State])
def test_without_a_peak_nothing_is_unusual(state: State | None) -> None:
    book = sound(heating___peak=None if state is None else Absent(state, "no probe"))
    book.requirement["kinds"] = ["polyamide_cage"]
    assert told(book, "hotter-than-aimed") == []


def test_a_device_ahead_of_the_receipt_is_information_and_one_behind_was_offline() -> None:
    for by, said in ((timedelta(minutes=6), 1), (timedelta(minutes=5), 0), (-timedelta(days=1), 0)):
        book = Book()
        tap = book.tap("heater on")
        tap.payload["at_device"] = (book.now + by).isoformat()  # type: ignore[index]
        assert [remark.kind for remark in told(book, "clock-ahead")] == [Kind.INFORMATION] * said


def test_hoop_stress_is_information_and_names_what_it_rests_on() -> None:
    """60 m6 at 24 µm in F = 72.5: E·δ·(1 + k²)/(2·d) = 70.1 MPa, and 5 % for a long shaft."""
    book = sound()
    (stress,) = told(book, "hoop-stress")
    assert stress.facts["mpa"] == pytest.approx(73.6, abs=1)
    assert set(stress.inputs) >= {book.case().said("bore", "source").entry}  # type: ignore[union-attr]
    assert told(Book(), "hoop-stress") == []
