"""Whatever stands in a case, it is judged or its faults are named: nothing else ever comes out."""

import copy
import json
from collections.abc import Iterator
from typing import Any

import jsonschema_rs
from hypothesis import given, settings
from hypothesis import strategies as st

from qrecords.steps.interchange.answer_form import answer_schema
from qrecords.steps.interchange.faults import CaseFaultsError
from qrecords.steps.interchange.json_text import MOST_BYTES
from qrecords.steps.interchange.reading import read_case
from tests.steps.casebook import sound
from tests.steps.interchange.documents import as_bytes, example, faults_of, judged, stored

Way = tuple[str | int, ...]
CASES = (example("short"), example("whole"), stored(sound()))
ANSWER = jsonschema_rs.Draft202012Validator(answer_schema())
ODD = st.one_of(
    st.sampled_from(
        [
            *(
                "",
                "x",
                "75",
                "60,5",
                "-273 °C",
                "-300 °C",
                "99999999999999 mm",
                "18 um from 75 mm",
                "NaN",
                "1e9",
            ),
            *(
                "2026-02-31",
                "2026-01-01T00:00:00+23:59",
                "undo",
                "heater on",
                "cold",
                "capture",
                "check",
                "é",
            ),
            *(0, -1, 2**50, -(2**50), 2**53 - 1, True, None, [], {}, ["a"], {"a": 1}, "0" * 64, "a" * 5000),
            {"state": "not done", "reason": "r"},
            {"typed": "1", "unit": "mm", "value": 5},
        ]
    ),
    st.integers(-(2**53) + 1, 2**53 - 1),
    st.text(max_size=12),
)


def ways(value: Any, so_far: Way = ()) -> Iterator[Way]:
    yield so_far
    parts = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in parts:
        yield from ways(item, (*so_far, key))


WAYS = [list(ways(case))[1:] for case in CASES]


def _at(document: Any, way: Way) -> Any:
    for key in way:
        document = document[key]
    return document


@st.composite
def spoilt(draw: st.DrawFn) -> Any:
    """A case with one to three places changed, taken away, doubled, or exchanged for another place's."""
    number = draw(st.integers(0, len(CASES) - 1))
    document = copy.deepcopy(CASES[number])
    for _ in range(draw(st.integers(1, 3))):
        *way, key = draw(st.sampled_from(WAYS[number]))
        try:
            place = _at(document, tuple(way))
            match draw(st.sampled_from(("change", "take", "double", "exchange"))):
                case "take":
                    del place[key]
                case "double" if isinstance(place, list):
                    place.insert(key, copy.deepcopy(place[key]))
                case "exchange":
                    place[key] = copy.deepcopy(_at(document, draw(st.sampled_from(WAYS[number]))))
                case _:
                    place[key] = draw(ODD)
        except (KeyError, IndexError, TypeError):
            continue  # an earlier change took this place away
    return document


@settings(max_examples=80)
@given(spoilt())
def test_a_spoilt_case_is_judged_or_its_faults_are_named(document: Any) -> None:
    if not faults_of(document):
        answer = judged(document)
        json.dumps(answer, allow_nan=False)
        ANSWER.validate(answer)


@settings(max_examples=100)
@given(st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode)))
def test_any_bytes_are_a_case_or_named_faults(raw: bytes) -> None:
    assert faults_of(raw)


@settings(max_examples=60)
@given(st.data())
def test_a_case_that_is_cut_or_has_another_byte_somewhere_is_judged_or_refused(data: st.DataObject) -> None:
    whole = as_bytes(CASES[0])
    place = data.draw(st.integers(0, len(whole) - 1))
    byte = data.draw(st.binary(max_size=2))
    faults_of(whole[:place] + byte + whole[place + 1 :])
    assert faults_of(whole[:place])


def test_the_size_is_bounded_before_anything_is_read() -> None:
    try:
        read_case(b"[" * (MOST_BYTES + 1))
    except CaseFaultsError as error:
        assert [fault.code for fault in error.faults] == ["too-large"]
    else:
        raise AssertionError("read")
