"""Questions of a form: what is asked, what was typed, and what is wrong with it, beside the field."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext

from qrecords.engineering import units
from qrecords.engineering.errors import EngineeringError
from qrecords.wording.figures import visible


@dataclass(frozen=True)
class Ask:
    """One question. `kind` is text, select, date, datetime-local, password, checkbox or lines; `hint` says
    what is allowed before anybody is wrong."""

    name: str
    caption: str
    kind: str = "text"
    options: Sequence[tuple[str, str]] = ()
    unit: str = ""
    hint: str = ""
    required: bool = False
    numeric: bool = False
    value: str = ""
    """What stands there before anybody typed."""


@dataclass(frozen=True)
class Asked:
    """A question with what was typed and what is wrong with it."""

    ask: Ask
    value: str
    error: str = ""

    @property
    def kind(self) -> str:
        return self.ask.kind


class WrongFields(Exception):  # noqa: N818 - what a person typed is no error of the program
    """Some fields give no answer; `errors` says by name what was typed and what is allowed."""

    def __init__(self, errors: Mapping[str, str]) -> None:
        self.errors = dict(errors)
        super().__init__("; ".join(self.errors.values()))


def typed(request: HttpRequest, asks: Sequence[Ask]) -> dict[str, str]:
    """What was typed, by field, untouched but for the ends; passwords as they are."""
    given = {ask.name: request.POST.get(ask.name, "") for ask in asks}
    return {
        name: value[:2000] if "password" in name else value.strip()[:2000] for name, value in given.items()
    }


def asked(
    asks: Sequence[Ask], given: Mapping[str, str] | None = None, errors: Mapping[str, str] | None = None
) -> list[Asked]:
    """The questions as the page shows them. A password is never given back."""
    errors = errors or {}
    return [
        Asked(
            ask,
            "" if ask.kind == "password" else ask.value if given is None else given.get(ask.name, ""),
            errors.get(ask.name, ""),
        )
        for ask in asks
    ]


def wrong(value: str, allowed: str) -> str:
    """`'12 mm' – allowed: 0…1000 µm`; what is missing is asked for."""
    if not value:
        return gettext("Not entered. Allowed: %(allowed)s") % {"allowed": allowed}
    return gettext("“%(value)s” is not possible. Allowed: %(allowed)s") % {
        "value": visible(value[:60]),
        "allowed": allowed,
    }


class Reading:
    """Reads a form field by field and keeps every wrong one, so that all are shown at once."""

    def __init__(self, given: Mapping[str, str]) -> None:
        self.given = given
        self.errors: dict[str, str] = {}

    def _fail(self, name: str, allowed: str) -> None:
        self.errors[name] = wrong(self.given.get(name, ""), allowed)

    def text(self, name: str, longest: int, *, optional: bool = False) -> str:
        value = self.given.get(name, "")
        if (not value and not optional) or len(value) > longest or not value.isprintable():
            self._fail(name, gettext("1 to %(n)s characters in one line") % {"n": longest})
        return value

    def one_of(self, name: str, options: Sequence[str]) -> str:
        value = self.given.get(name, "")
        if value not in options:
            self._fail(name, ", ".join(gettext(option) for option in options))
        return value

    def quantity(
        self, name: str, quantity: str, unit: str, low: int, high: int, *, optional: bool = False
    ) -> int | None:
        """The base integer of what was typed in `unit`; between `low` and `high` base units."""
        value = self.given.get(name, "")
        if not value and optional:
            return None
        try:
            base = units.read(value, quantity, unit).base
        except EngineeringError:
            base = low - 1
        if not low <= base <= high:
            ends = "…".join(units.show(end, quantity, unit) for end in (low, high))
            self._fail(name, f"{ends} {'µm' if unit == 'um' else unit}")
        return base

    def whole(self, name: str, low: int, high: int, unit: str) -> int:
        """A whole number of a unit, as digits."""
        value = self.given.get(name, "").strip()
        number = int(value) if value.isascii() and value.isdecimal() and len(value) < 10 else low - 1
        if not low <= number <= high:
            self._fail(name, f"{low}…{high} {unit}")
        return number

    def day(self, name: str, *, optional: bool = False) -> date | None:
        value = self.given.get(name, "")
        if not value and optional:
            return None
        found: date | None = self._parsed(name, date.fromisoformat, gettext("a day as YYYY-MM-DD"))
        return found

    def moment(self, name: str) -> datetime | None:
        """A moment as `2026-03-02T08:00`, without a zone."""
        found: datetime | None = self._parsed(
            name, datetime.fromisoformat, gettext("a moment as YYYY-MM-DDThh:mm")
        )
        return found.replace(tzinfo=None) if found else None

    def _parsed(self, name: str, parse: Callable[[str], Any], allowed: str) -> Any:
        try:
            found = parse(self.given.get(name, ""))
            if not 1900 <= found.year <= 2200:
                raise ValueError
        except ValueError:
            self._fail(name, allowed)
            return None
        return found

    def done(self) -> None:
        """Raise WrongFields if anything was wrong."""
        if self.errors:
            raise WrongFields(self.errors)
