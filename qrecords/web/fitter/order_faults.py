"""Everything that is to be mended in an order, at once, so that nobody is sent round field by field."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from django.utils.translation import gettext

from qrecords.engineering.tables import Tables
from qrecords.steps.designated import against_designation, one_of_the_tables
from qrecords.steps.errors import DocumentError
from qrecords.steps.new_drawing import read_new_requirement
from qrecords.steps.requirement import BOUNDS
from qrecords.web.fitter.order import DOCUMENT_FIELDS, NUMBERS, Form, document, not_numbers

WANTED = ("work_order", "position", "drawing", "revision", "nominal", "designation", "outside", "width")
PAIRS = (
    ("limit_lower", "limit_upper"),
    ("bore_lower", "bore_upper"),
    ("interference_least", "interference_most"),
)
IN_ORDER = (
    "work_order", "machine_name", "owner", "site", "position", "designation", "outside", "width",
    "clearance_kind", "clearance_group", "mass", "drawing", "revision", "nominal", "shaft_class",
    "seat_width", "shaft_bore",
)  # fmt: skip
"""The inputs as they follow each other on the page; others stand behind."""


def faults(form: Form, tables: Tables, *, machine_known: bool, site_known: bool) -> dict[str, str]:
    """Why each input is asked back, in the order of the page. What a field is asked for first is said of it
    alone."""
    found = missing(form, machine_known=machine_known)
    found |= not_numbers({name: value.strip() for name, value in form.typed.items()})
    if not site_known:
        found["site"] = gettext("which site?")
    for name, why in _of_the_document(form, found, tables):
        found.setdefault(name, why)
    return dict(sorted(found.items(), key=lambda each: _place(each[0])))


def missing(form: Form, *, machine_known: bool) -> dict[str, str]:
    """What has to be there and is not."""
    wanted = WANTED if machine_known else (*WANTED, "machine_name", "owner")
    found = {name: _wanted(name) for name in wanted if not form.value(name).strip()}
    explicit = form.value("limit_lower").strip() and form.value("limit_upper").strip()
    if not explicit and not form.value("shaft_class").strip():
        found["shaft_class"] = gettext("a class, or both limits")
    return found


def _wanted(name: str) -> str:
    if name not in NUMBERS:
        return gettext("is wanted")
    low, high, unit = BOUNDS[NUMBERS[name]]
    return gettext("is wanted; allowed: {low}…{high} {unit}").format(low=low, high=high, unit=unit)


def _of_the_document(form: Form, asked: Mapping[str, str], tables: Tables) -> Iterator[tuple[str, str]]:
    """What each reader of the requirement finds by itself; words asked for already count as given, what is no
    number as not given."""
    blank = set(asked) | {name for pair in PAIRS if set(pair) & set(asked) for name in pair}
    try:
        said = document(replace(form, typed={**form.typed, **dict.fromkeys(blank, "")}))
    except DocumentError as error:
        yield _input(error)
        return
    said |= {name: said[name] or "-" for name in ("drawing", "revision", "designation")}
    yield from _first(lambda: read_new_requirement(said, tables))
    yield from _first(lambda: one_of_the_tables(said))
    if not {"nominal", "outside", "width", "stabilised"} & set(asked):
        yield from (_input(error) for error in against_designation(said, tables))


def _first(reader: Callable[[], object]) -> Iterator[tuple[str, str]]:
    try:
        reader()
    except DocumentError as error:
        yield _input(error)


def _input(error: DocumentError) -> tuple[str, str]:
    return DOCUMENT_FIELDS.get(error.field, error.field), error.why


def _place(name: str) -> int:
    return IN_ORDER.index(name) if name in IN_ORDER else len(IN_ORDER)
