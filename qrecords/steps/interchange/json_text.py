"""From bytes to a value that every reader understands alike: JSON in UTF-8 without fractions, without a name
that stands twice, of bounded size and depth. Text comes back in Unicode normal form C, as the log has it."""

import json
from collections import Counter
from collections.abc import Iterator
from itertools import islice
from typing import Any
from unicodedata import normalize

from qrecords.proof.canonical import LARGEST_INTEGER
from qrecords.steps.interchange.faults import MOST, SHOWN, CaseFaultsError, Fault, below, told

MOST_BYTES = 16_000_000
DEEPEST = 40
BYTE_ORDER_MARK = b"\xef\xbb\xbf"
FRACTION = "a number with a fraction or an exponent is written as text, so that no reader rounds it"


class _Object(dict[str, Any]):
    """An object with the names that stand in it more than once."""

    twice: tuple[str, ...] = ()


class NoWhole:
    """A number that no reader has to hold exactly, as it was written. What it should be instead, the shape of
    its place says; where no shape is asked, `not_whole` does."""

    def __init__(self, text: str) -> None:
        self.text = text if len(text) <= SHOWN else text[:SHOWN] + "…"

    def __str__(self) -> str:
        return self.text

    @property
    def why(self) -> str:
        """Why it stands nowhere."""
        if self.text.lstrip("-") in ("NaN", "Infinity"):
            return "is no number"
        return "" if self.text.lstrip("-").rstrip("…").isdigit() else FRACTION


def _object(pairs: list[tuple[str, Any]]) -> _Object:
    found = _Object(pairs)
    if len(found) < len(pairs):
        counted = Counter(name for name, _ in pairs)
        found.twice = tuple(name for name, times in counted.items() if times > 1)
    return found


def _whole(text: str) -> int | NoWhole:
    return int(text) if len(text) <= len(str(LARGEST_INTEGER)) + 1 else NoWhole(text)


_DECODER = json.JSONDecoder(
    object_pairs_hook=_object, parse_int=_whole, parse_float=NoWhole, parse_constant=NoWhole
)


def read_json(raw: bytes) -> Any:
    """The value, with `NoWhole` where a number is none that everybody holds; CaseFaultsError names what else
    is wrong with the text and where."""
    if len(raw) > MOST_BYTES:
        size = f"more than {MOST_BYTES:,} bytes"
        raise CaseFaultsError([Fault("", "too-large", size, "", f"up to {MOST_BYTES:,} bytes")])
    value = _decoded(_text(raw.removeprefix(BYTE_ORDER_MARK)))
    faults = list(islice(_faults(value, "", 0), MOST + 1))
    if faults:
        raise CaseFaultsError(faults)
    return _normal(value)


def _text(raw: bytes) -> str:
    try:
        return raw.decode()
    except UnicodeDecodeError as error:
        byte = f"byte 0x{raw[error.start]:02x} at {error.start}"
        raise CaseFaultsError([Fault("", "encoding", byte, "", "JSON in UTF-8", "is not UTF-8")]) from None


def _decoded(text: str) -> Any:
    if not text.strip():
        raise CaseFaultsError([Fault("", "syntax", "nothing", "", "a case document in JSON")])
    try:
        return _DECODER.decode(text.strip(" \t\r\n"))
    except json.JSONDecodeError as error:
        lead = len(text) - len(text.lstrip(" \t\r\n"))
        before = text[: lead + error.pos]
        line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        place = f"line {line}, column {column}"
        raise CaseFaultsError([Fault("", "syntax", place, "", "JSON", f"not JSON: {error.msg}")]) from None
    except RecursionError:
        raise CaseFaultsError([_too_deep("")]) from None


def _too_deep(at: str) -> Fault:
    return Fault(at, "too-deep", "", "", f"up to {DEEPEST} levels", f"deeper than {DEEPEST} levels")


def _faults(value: Any, at: str, depth: int) -> Iterator[Fault]:
    if depth > DEEPEST:
        yield _too_deep(at)
    elif isinstance(value, str):
        yield from _text_faults(value, at)
    elif isinstance(value, int) and abs(value) > LARGEST_INTEGER:
        yield Fault(at, "range", told(value), "", f"whole numbers up to ±{LARGEST_INTEGER}")
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from _faults(item, below(at, place), depth + 1)
    elif isinstance(value, _Object):
        for name in value.twice:
            yield Fault(below(at, name[:SHOWN]), "twice", "", "", "", "stands twice in one object")
        for name, item in value.items():
            if not name.isascii() or not name.isprintable():
                yield Fault(at, "name", told(name), "", "names in printable ASCII")
            else:
                yield from _faults(item, below(at, name[:SHOWN]), depth + 1)


def not_whole(value: Any, at: str = "") -> Iterator[Fault]:
    """Every number in a value that everybody does not hold exactly."""
    if isinstance(value, NoWhole):
        allowed = f"whole numbers up to ±{LARGEST_INTEGER}, or text"
        yield Fault(at, "number", value.text, "", allowed, value.why)
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from not_whole(item, below(at, place))
    elif isinstance(value, dict):
        for name, item in value.items():
            yield from not_whole(item, below(at, name))


def _text_faults(value: str, at: str) -> Iterator[Fault]:
    if not value.isascii() and any("\ud800" <= character <= "\udfff" for character in value):
        yield Fault(at, "text", "", "", "text", "holds half of a surrogate pair")
    if "\x00" in value:
        yield Fault(at, "text", "", "", "text", "holds a null character")


def _normal(value: Any) -> Any:
    if isinstance(value, str):
        return value if value.isascii() else normalize("NFC", value)
    if isinstance(value, list):
        return [_normal(item) for item in value]
    if isinstance(value, dict):
        return {name: _normal(item) for name, item in value.items()}
    return value
