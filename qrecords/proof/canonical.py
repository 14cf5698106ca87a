"""One value, one sequence of bytes: RFC 8785 in a narrow profile.

The profile knows text, integers, true, false, null, lists and objects with ASCII keys. It has no floats, so
that no reader can round a measured value, and its text is in Unicode normal form C. Within it Python's own
JSON writer gives exactly the bytes of RFC 8785; with other keys or numbers it would not.
"""

import json
from collections.abc import Mapping, Sequence
from typing import Any
from unicodedata import is_normalized

from qrecords.proof.errors import (
    CanonicalError,
    DepthError,
    FloatError,
    IntegerRangeError,
    KeyRefusedError,
    TextRefusedError,
    TypeRefusedError,
)

LARGEST_INTEGER = 2**53 - 1  # RFC 8259 section 6: what every reader holds exactly
DEEPEST = 32


_WRITER = json.JSONEncoder(
    sort_keys=True,
    separators=(",", ":"),
    ensure_ascii=False,
    check_circular=False,  # the depth is checked before
)


def canonical_bytes(value: object) -> bytes:
    """The canonical form of `value` in UTF-8; a `CanonicalError` says what has none and where it stands."""
    _check(value, 0)
    return _WRITER.encode(value).encode()


def parse_canonical(payload: bytes) -> Any:
    """The value whose canonical form is exactly `payload`; otherwise `CanonicalError`.

    A duplicate key, a space, another order or another spelling of the same value is refused as well.
    """
    try:
        value = _READER.decode(payload.decode())
    except CanonicalError:
        raise
    except (ValueError, RecursionError) as error:
        raise CanonicalError(f"not JSON in UTF-8 ({error.__class__.__name__})") from error
    if canonical_bytes(value) != payload:
        raise CanonicalError("the same value is written differently in its canonical form")
    return value


def read_canonical(payload: bytes) -> Any:
    """The value of bytes that were canonical when they were filed and cannot change since: the program's own
    reading of its log, many entries a page. Whether they still are, `parse_canonical` tells."""
    return _READER.decode(payload.decode())


def _no_float(text: str) -> object:
    raise FloatError(f"the number {text[:40]}")


_READER = json.JSONDecoder(parse_float=_no_float, parse_constant=_no_float)


def _check(value: object, depth: int) -> None:
    """Every entry that is read passes here, so where a fault stands is told on the way out only."""
    if isinstance(value, str):
        if not value.isascii():
            _check_text(value)
    elif value is None or isinstance(value, bool):
        return
    elif isinstance(value, int):
        if abs(value) > LARGEST_INTEGER:
            raise IntegerRangeError("an integer beyond 2^53 - 1")
    elif isinstance(value, float):
        raise FloatError(f"the float {value!r}")
    elif depth >= DEEPEST:
        raise DepthError(f"more than {DEEPEST} levels")
    elif isinstance(value, dict):
        _check_object(value, depth)
    elif isinstance(value, list | tuple):
        _check_list(value, depth)
    else:
        raise TypeRefusedError(f"a value of type {type(value).__name__}")


def _check_object(value: Mapping[Any, object], depth: int) -> None:
    for key, item in value.items():
        if not isinstance(key, str) or not key.isascii():
            raise KeyRefusedError(f"the key {key!r}")
        try:
            _check(item, depth + 1)
        except CanonicalError as error:
            error.stands_in(key)
            raise


def _check_list(value: Sequence[object], depth: int) -> None:
    for position, item in enumerate(value):
        try:
            _check(item, depth + 1)
        except CanonicalError as error:
            error.stands_in(f"[{position}]")
            raise


def _check_text(value: str) -> None:
    if any("\ud800" <= character <= "\udfff" for character in value):
        raise TextRefusedError("half of a surrogate pair")
    if not is_normalized("NFC", value):
        raise TextRefusedError("text that is not in normal form C")
