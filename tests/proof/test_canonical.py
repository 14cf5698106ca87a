"""What has a canonical form, and what is refused by which name."""

import enum

import pytest

from qrecords.proof import errors
from qrecords.proof.canonical import DEEPEST, LARGEST_INTEGER, canonical_bytes, parse_canonical


class _Verdict(enum.StrEnum):
    CONFORMING = "conforming"


def _nested(levels: int) -> object:
    value: object = 1
    for _ in range(levels):
        value = [value]
    return value


def test_keys_are_sorted_and_nothing_is_spaced() -> None:
    assert canonical_bytes({"b": [1, None], "a": {"z": True}}) == b'{"a":{"z":true},"b":[1,null]}'


def test_text_beyond_ascii_stays_as_it_is() -> None:
    assert canonical_bytes("µm ° 80,009") == '"µm ° 80,009"'.encode()


def test_an_enumerated_text_is_its_text() -> None:
    assert canonical_bytes(_Verdict.CONFORMING) == b'"conforming"'


def test_the_largest_integers_are_kept() -> None:
    assert canonical_bytes([LARGEST_INTEGER, -LARGEST_INTEGER]) == b"[9007199254740991,-9007199254740991]"


@pytest.mark.parametrize(
    ("value", "refusal", "where"),
    [
        ({"a": [1, 0.5]}, errors.FloatError, "a[1]"),
        (float("nan"), errors.FloatError, ""),
        (2**53, errors.IntegerRangeError, ""),
        ({"a": {"µ": 1}}, errors.KeyRefusedError, "a"),
        ({1: 1}, errors.KeyRefusedError, ""),
        (["\ud800"], errors.TextRefusedError, "[0]"),
        ("u\u0308", errors.TextRefusedError, ""),
        ({"a": {1, 2}}, errors.TypeRefusedError, "a"),
        (b"bytes", errors.TypeRefusedError, ""),
        (_nested(DEEPEST + 1), errors.DepthError, "[0]" * DEEPEST),
    ],
)
def test_what_has_no_canonical_form_is_named_with_its_place(
    value: object, refusal: type[errors.CanonicalError], where: str
) -> None:
    with pytest.raises(refusal) as caught:
        canonical_bytes(value)
    assert caught.value.where == where


def test_as_deep_as_allowed_is_allowed() -> None:
    assert canonical_bytes(_nested(DEEPEST)) == b"[" * DEEPEST + b"1" + b"]" * DEEPEST


@pytest.mark.parametrize(
    "payload",
    [
        b'{"a":1,"a":2}',
        b'{"b":1,"a":2}',
        b'{"a": 1}',
        b'{"a":1}\n',
        b'{"a":1.0}',
        b'{"a":1e2}',
        b'"\\u00b5"',
        b'"\\/"',
        b"-0",
        b"01",
        b"\xff",
        b"",
        b"NaN",
        b"[" * 100_000,
        b"9" * 10_000,
    ],
)
def test_other_bytes_for_a_value_are_refused(payload: bytes) -> None:
    with pytest.raises(errors.CanonicalError):
        parse_canonical(payload)
