"""What the planner asks for, as its form shows it: rows of inputs, those seldom wanted folded away."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.ceilings import KINDS
from qrecords.steps.designated import CLEARANCE_KINDS, GROUPS, NO_TABLE
from qrecords.steps.errors import FieldError
from qrecords.steps.planner.asked import NUMBERS
from qrecords.steps.planner.reading import BORE_CLASSES, ORIGINS
from qrecords.steps.requirement import SEATS
from qrecords.web.parts import Field
from qrecords.web.planner.said import asked_back, label
from qrecords.wording.ceilings import ceiling_name
from qrecords.wording.lettering import Lettering

MOST_GIVEN_BACK = 120
SIGNED = ("journal_low", "journal_high", "bore", "least", "shaft_temp", "air_temp")
ROWS = (
    ("bearing", "shaft_class"),
    ("journal_low", "journal_high"),
    ("bore", "g0"),
    ("other_group", "other_g0"),
    ("shaft_temp", "air_temp"),
    ("kind",),
    ("evenly", "gauge_u"),
)
FOLDS = (
    (
        _("sizes, classes, hollow shaft, mass"),
        (
            ("nominal", "outside"),
            ("width", "shaft_bore"),
            ("clearance_kind",),
            ("group", "bore_class"),
            ("seat",),
            ("mass", "mass_from"),
            ("raceway", "raceway_from"),
        ),
    ),
    (
        _("habit, own ceiling, draught"),
        (("habit", "least"), ("ceiling", "ceiling_source"), ("air_speed",)),
    ),
)


@dataclass(frozen=True)
class Option:
    value: str
    words: str
    chosen: bool


@dataclass(frozen=True)
class Input:
    """One input: a box, or a list where there are options. `keys` is what a phone's keyboard shows: no keypad
    of digits has a minus on every phone."""

    field: Field
    keys: str = ""
    options: tuple[Option, ...] = ()


Row = tuple[Input, ...]


@dataclass(frozen=True)
class Fold:
    """Inputs folded away; open where something in them was typed or is asked back."""

    summary: str
    rows: tuple[Row, ...]
    open: bool


def rows(typed: Mapping[str, str], asks: Mapping[str, FieldError], letters: Lettering) -> tuple[Row, ...]:
    return _rows(ROWS, typed, asks, letters)


def folds(typed: Mapping[str, str], asks: Mapping[str, FieldError], letters: Lettering) -> tuple[Fold, ...]:
    return tuple(
        Fold(
            gettext(summary),
            _rows(names, typed, asks, letters),
            any(name in asks or _told(name, typed) for row in names for name in row),
        )
        for summary, names in FOLDS
    )


def _told(name: str, typed: Mapping[str, str]) -> bool:
    return typed.get(name, "").strip() not in ("", SEATS[0] if name == "seat" else "")


def _rows(
    names: tuple[tuple[str, ...], ...],
    typed: Mapping[str, str],
    asks: Mapping[str, FieldError],
    letters: Lettering,
) -> tuple[Row, ...]:
    return tuple(tuple(_input(name, typed, asks, letters) for name in row) for row in names)


def _input(name: str, typed: Mapping[str, str], asks: Mapping[str, FieldError], letters: Lettering) -> Input:
    value = typed.get(name, "")[:MOST_GIVEN_BACK]
    field = Field(
        name=name,
        caption=label(name),
        value=value,
        unit=letters.unit_of(name),
        numeric=name in NUMBERS,
        asks=asked_back(asks[name]) if name in asks else "",
    )
    keys = "" if name not in NUMBERS else "text" if name in SIGNED else "decimal"
    return Input(field, keys, tuple(Option(v, words, v == value.strip()) for v, words in _options(name)))


def _options(name: str) -> list[tuple[str, str]]:
    groups = [(group, f"C{group}") for group in GROUPS]
    match name:
        case "kind":
            return [(kind, ceiling_name(kind)) for kind in KINDS if kind != "separable_inner_ring"]
        case "group":
            return [("", gettext("marked")), *groups]
        case "other_group":
            return [("", "–"), *groups]
        case "bore_class":
            return [("", gettext("marked")), *((each, each) for each in BORE_CLASSES)]
        case "clearance_kind":
            tables = [(slug, gettext(name)) for name, slug in CLEARANCE_KINDS.items()]
            return [("", gettext("as designated")), *tables, (NO_TABLE, gettext("none: measure"))]
        case "mass_from" | "raceway_from":
            return [("", "–"), *((each, gettext(each)) for each in ORIGINS)]
        case "seat":
            return [(seat, gettext(seat)) for seat in SEATS]
    return []
