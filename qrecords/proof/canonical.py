"""One value, one sequence of bytes: RFC 8785 in a narrow profile.

The profile knows text, integers, true, false, null, lists and objects with ASCII keys. It has no floats, so
that no reader can round a measured value, and its text is in Unicode normal form C. Within it Python's own
JSON writer gives exactly the bytes of RFC 8785; with other keys or numbers it would not.
"""

import json
from collections.abc import Mapping
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


def canonical_bytes(value: object) -> bytes:
    """The canonical form of `value` in UTF-8; a `CanonicalError` says what has none and where it stands."""
    _check(value, "", 0)
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def parse_canonical(payload: bytes) -> Any:
    """The value whose canonical form is exactly `payload`; otherwise `CanonicalError`.

    A duplicate key, a space, another order or another spelling of the same value is refused as well.
    """
    try:
        value = json.loads(payload.decode(), parse_float=_no_float, parse_constant=_no_float)
    except CanonicalError:
        raise
    except (ValueError, RecursionError) as error:
        raise CanonicalError(f"not JSON in UTF-8 ({error.__class__.__name__})") from error
    if canonical_bytes(value) != payload:
        raise CanonicalError("the same value is written differently in its canonical form")
    return value


def _no_float(text: str) -> object:
    raise FloatError(f"the number {text[:40]}")


def _check(value: object, where: str, depth: int) -> None:
    if value is None or isinstance(value, bool):
        return
    if isinstance(value, str):
        _check_text(value, where)
    elif isinstance(value, int):
        if abs(value) > LARGEST_INTEGER:
            raise IntegerRangeError("an integer beyond 2^53 - 1", where)
    elif isinstance(value, float):
        raise FloatError(f"the float {value!r}", where)
    elif depth >= DEEPEST:
        raise DepthError(f"more than {DEEPEST} levels", where)
    elif isinstance(value, dict):
        _check_object(value, where, depth)
    elif isinstance(value, list | tuple):
        for position, item in enumerate(value):
            _check(item, f"{where}[{position}]", depth + 1)
    else:
        raise TypeRefusedError(f"a value of type {type(value).__name__}", where)


def _check_object(value: Mapping[Any, object], where: str, depth: int) -> None:
    for key, item in value.items():
        if not isinstance(key, str) or not key.isascii():
            raise KeyRefusedError(f"the key {key!r}", where)
        _check(item, f"{where}.{key}" if where else key, depth + 1)


def _check_text(value: str, where: str) -> None:
    if value.isascii():
        return
    if any("\ud800" <= character <= "\udfff" for character in value):
        raise TextRefusedError("half of a surrogate pair", where)
    if not is_normalized("NFC", value):
        raise TextRefusedError("text that is not in normal form C", where)
