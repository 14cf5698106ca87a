"""A gauge study without a record: what of the spread of readings is the gauge's and its users' own."""

from collections.abc import Mapping
from dataclasses import dataclass

from qrecords.engineering.anova import Study
from qrecords.engineering.errors import NoSpreadError
from qrecords.engineering.gauge_study import GaugeStudy, Terms, by_anova, by_ranges
from qrecords.steps.errors import FieldError
from qrecords.steps.planner.form import FURTHEST_NM, Form
from qrecords.steps.planner.lines import NM_IN, NO_SPREAD, even, lines, readings

INPUTS = ("lengths", "readings", "tolerance", "width")
FEWEST, MOST = 2, 10
"""People, parts and trials: what the constants of the range method are known for."""
AS_WIDTH = {"6": 6.0, "5.15": 5.15}
LONGEST_NAME = 20
NO_LINE, TWICE, LACKING = "no such line", "twice", "lacking"
PEOPLE, PARTS = "number of people", "number of parts"
"""Why lines give no answer, beside those of `lines`."""


@dataclass(frozen=True)
class Studied:
    """The same readings by both methods, with who measured and what."""

    operators: tuple[str, ...]
    parts: tuple[str, ...]
    trials: int
    by_anova: GaugeStudy
    by_ranges: GaugeStudy
    terms: Terms


def asked_for(typed: Mapping[str, str]) -> bool:
    """Whether anything was asked at all; unit and width alone ask nothing."""
    return any(typed.get(name, "").strip() for name in ("readings", "tolerance"))


def read_study(typed: Mapping[str, str]) -> tuple[Studied | None, dict[str, FieldError]]:
    """The study worked out, or every field that gives no answer. A line is: who, part, readings."""
    form = Form(typed)
    terms, table = _terms(form), _table(form)
    if form.asks:
        return None, form.asks
    operators = tuple(dict.fromkeys(who for who, _ in table))
    parts = tuple(dict.fromkeys(part for _, part in table))
    study: Study = [[table[who, part] for part in parts] for who in operators]
    trials = len(study[0][0])
    try:
        found = by_anova(study, terms), by_ranges(study, terms)
    except NoSpreadError:
        form.ask("readings", NO_SPREAD, unit=form.deviation_unit)
        return None, form.asks
    return Studied(operators, parts, trials, *found, terms), {}


def _terms(form: Form) -> Terms:
    nm = form.length_nm("tolerance", 0, FURTHEST_NM)
    if nm == 0:
        form.ask("tolerance", "not-over-nought", unit=form.deviation_unit, in_unit=form.deviation_unit)
    width = AS_WIDTH.get(form.one_of("width", tuple(AS_WIDTH)) or "6", 6.0)
    return Terms(form.deviation_unit, width, nm / NM_IN[form.deviation_unit] if nm else None)


def _table(form: Form) -> dict[tuple[str, str], tuple[float, ...]]:
    """Readings by who and part: each pair in one line, every line as many, every pair there."""
    table: dict[tuple[str, str], tuple[float, ...]] = {}
    counts = []
    for number, words in lines(form, "readings"):
        pair = words[0], words[1] if len(words) > 1 else ""
        found = readings(form, "readings", number, words[2:])
        if found is None:
            return {}
        if not found or pair in table or max(map(len, pair)) > LONGEST_NAME:
            why = TWICE if pair in table else NO_LINE
            form.ask_of_line("readings", number, " ".join(words), f"{FEWEST}…{MOST}", why)
            return {}
        table[pair] = found
        counts.append((number, len(found)))
    if table and even(form, "readings", counts, FEWEST, MOST):
        _all_there(form, table)
    return table


def _all_there(form: Form, table: Mapping[tuple[str, str], object]) -> None:
    """Everybody measured every part."""
    who, parts = (list(dict.fromkeys(pair[n] for pair in table)) for n in (0, 1))
    for counted, why in ((who, PEOPLE), (parts, PARTS)):
        if not FEWEST <= len(counted) <= MOST:
            form.ask("readings", why, f"{FEWEST}…{MOST}")
    for pair in ((w, p) for w in who for p in parts):
        if pair not in table:
            form.ask("readings", LACKING, " ".join(pair))
