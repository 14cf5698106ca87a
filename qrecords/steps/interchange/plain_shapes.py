"""Shapes of what has no members: text, numbers, words, days. `shapes` says what a shape is for."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from difflib import get_close_matches
from typing import Any, Protocol

from qrecords.steps.interchange.faults import Fault, told
from qrecords.steps.interchange.json_text import NoWhole

Definitions = dict[str, Any]
OF_SHAPE = frozenset({"type", "missing", "unknown", "choice", "range", "length", "pattern"})
"""Codes of what the published schema refuses as well; any other fault is of what a document means."""


class Shape(Protocol):
    def schema(self, named: Definitions) -> dict[str, Any]:
        """As JSON Schema; definitions it needs are added to `named`."""
        ...

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        """Everything that is wrong with a value that stands at this pointer."""
        ...


def kind_of(value: Any) -> str:
    kinds: dict[type, str] = {
        dict: "object",
        list: "array",
        str: "string",
        bool: "boolean",
        int: "integer",
        type(None): "null",
    }
    return next((name for kind, name in kinds.items() if isinstance(value, kind)), "number")


SAID = {
    "object": "an object",
    "array": "a list",
    "string": "text",
    "boolean": "true or false",
    "integer": "a whole number",
    "null": "null",
}


def not_of(value: Any, at: str, *kinds: str, unit: str = "") -> Iterator[Fault]:
    if kind_of(value) not in kinds:
        why = value.why if isinstance(value, NoWhole) else ""
        yield Fault(at, "type", told(value), unit, " or ".join(SAID[kind] for kind in kinds), why)


def matches(pattern: str, value: str) -> bool:
    """As other readers of a schema match it: nothing may follow what `$` ends."""
    return bool(re.search(pattern, value)) and not value.endswith("\n")


def described(schema: dict[str, Any], about: str) -> dict[str, Any]:
    return schema | {"description": about} if about else schema


@dataclass(frozen=True)
class Text:
    """`allowed` says in words what `pattern` takes."""

    longest: int = 4000
    least: int = 0
    pattern: str = ""
    allowed: str = ""
    about: str = ""

    def schema(self, named: Definitions) -> dict[str, Any]:
        schema: dict[str, Any] = {"type": "string", "maxLength": self.longest}
        if self.least:
            schema["minLength"] = self.least
        if self.pattern:
            schema["pattern"] = self.pattern
        return described(schema, self.about or self.allowed)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        if not isinstance(value, str):
            yield from not_of(value, at, "string")
        elif not self.least <= len(value) <= self.longest:
            yield Fault(at, "length", told(value), "", f"{self.least} to {self.longest} characters")
        elif self.pattern and not matches(self.pattern, value):
            yield Fault(at, "pattern", told(value), "", self.allowed)


@dataclass(frozen=True)
class Day:
    """A day as text, or '' where none is known."""

    about: str = ""
    PATTERN = "^([0-9]{4}-[0-9]{2}-[0-9]{2})?$"

    def schema(self, named: Definitions) -> dict[str, Any]:
        return described({"type": "string", "pattern": self.PATTERN}, self.about or "a day, as 2026-03-04")

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        yield from Text(10, pattern=self.PATTERN, allowed="a day, as 2026-03-04").faults(value, at)
        if isinstance(value, str) and value and matches(self.PATTERN, value):
            try:
                date.fromisoformat(value)
            except ValueError:
                yield Fault(at, "moment", told(value), "", "a day of the calendar, as 2026-03-04")


MOMENT = "^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}(:[0-9]{2}([.][0-9]{1,6})?)?(Z|[+-][0-9]{2}:[0-9]{2})$"


@dataclass(frozen=True)
class Moment:
    """An instant with its zone."""

    about: str = ""
    EXAMPLE = "a moment with its zone, as 2026-03-04T05:06:07Z or 2026-03-04T06:06+01:00"

    def schema(self, named: Definitions) -> dict[str, Any]:
        return described({"type": "string", "pattern": MOMENT}, self.about or self.EXAMPLE)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        yield from Text(40, pattern=MOMENT, allowed=self.EXAMPLE).faults(value, at)
        if isinstance(value, str) and matches(MOMENT, value):
            try:
                year = datetime.fromisoformat(value).year
            except ValueError:
                year = 0
            if not 1970 <= year < 9999:
                yield Fault(at, "moment", told(value), "", "a moment of the calendar, from 1970 on")


@dataclass(frozen=True)
class Whole:
    low: int
    high: int
    unit: str = ""
    about: str = ""

    def schema(self, named: Definitions) -> dict[str, Any]:
        about = self.about or (f"in {self.unit}" if self.unit else "")
        return described({"type": "integer", "minimum": self.low, "maximum": self.high}, about)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        allowed = f"{self.low}…{self.high} {self.unit}".rstrip()
        allowed += f" ({self.about})" if self.about and not self.unit else ""
        if kind_of(value) != "integer":
            yield Fault(at, "type", told(value), self.unit, f"a whole number, {allowed}")
        elif not self.low <= value <= self.high:
            yield Fault(at, "range", told(value), self.unit, allowed)


@dataclass(frozen=True)
class Flag:
    about: str = ""

    def schema(self, named: Definitions) -> dict[str, Any]:
        return described({"type": "boolean"}, self.about)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        yield from not_of(value, at, "boolean")


@dataclass(frozen=True)
class Choice:
    """One of some words. `closed`: no other word passes in what a ledger holds either."""

    options: tuple[str, ...]
    about: str = ""
    closed: bool = False

    def schema(self, named: Definitions) -> dict[str, Any]:
        return described({"enum": list(self.options)}, self.about)

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        if isinstance(value, str) and stored and not self.closed:
            return
        if value not in self.options or not isinstance(value, str):
            allowed = ", ".join(option or "''" for option in self.options)
            yield Fault(at, "choice", told(value), "", allowed, meant(value, self.options))


def meant(value: Any, known: tuple[str, ...]) -> str:
    close = get_close_matches(value, known, 1) if isinstance(value, str) and len(value) <= 80 else []
    return f"is not known here; meant {close[0]}?" if close else "is not known here"


@dataclass(frozen=True)
class Number:
    """A number as the drawing writes it: text with a comma or a point, or a whole number."""

    unit: str
    about: str = ""
    PATTERN = "^\\s*[+\\-−]?([0-9]+([.,][0-9]*)?|[.,][0-9]+)\\s*$"

    def schema(self, named: Definitions) -> dict[str, Any]:
        one_of = [{"type": "string", "maxLength": 48, "pattern": self.PATTERN}, {"type": "integer"}]
        return described({"anyOf": one_of}, self.about or f"in {self.unit}")

    def faults(self, value: Any, at: str, *, stored: bool = False) -> Iterator[Fault]:
        allowed = f'a number as text, as "60.5", or whole, {self.about or f"in {self.unit}"}'
        if kind_of(value) == "integer" or (stored and value == ""):
            return
        if not isinstance(value, str):
            why = value.why if isinstance(value, NoWhole) else ""
            yield Fault(at, "type", told(value), "", allowed, why)
        elif len(value) > 48 or not matches(self.PATTERN, value):
            yield Fault(at, "pattern", told(value), "", allowed)
