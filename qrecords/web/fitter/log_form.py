"""What a log's text does not say, asked of who hands it in: which column is which ring, °C or °F, what became
of the probe. What the text says stands chosen; nothing is guessed."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.engineering import slips
from qrecords.steps.acts import LogFile, LogSaid
from qrecords.steps.case import Case
from qrecords.steps.heating_log import (
    INNER,
    OUTER,
    PROBES,
    RINGS,
    STEP_ID,
    curve_limits,
    judged_column,
    standing_logs,
)
from qrecords.steps.log_table import Column, LogTable
from qrecords.steps.runs import runs
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import Figures, with_unit

UNITS = ("°C", "°F")
COLDEST_PEAK_MDEGC, HOTTEST_PEAK_MDEGC = 30_000, 150_000
"""Where the peak of a heating lies: the same as for a typed one."""


@dataclass(frozen=True)
class AskedColumn:
    """One column with what it holds, and the ring that is chosen for it ('' for none)."""

    place: int
    name: str
    begins: str
    hottest: str
    ring: str


@dataclass(frozen=True)
class LogForm:
    """The page's questions. `said` is what the answers come to, None while `problems` are left; `slip` asks
    once about a peak that no heating has."""

    columns: tuple[AskedColumn, ...]
    unit: str
    asks_unit: bool
    asks_probe: bool
    probe: str
    heatings: tuple[int, ...]
    heating: int
    others: tuple[LogFile, ...]
    said: LogSaid | None
    problems: tuple[str, ...]
    slip: str = ""


def log_form(case: Case, table: LogTable, sent: Mapping[str, str]) -> LogForm:
    """The form as it stands with what was sent; `sent` is empty on first sight."""
    rings = {column.place: _ring(case, table, column, sent) for column in table.columns}
    chosen = {ring: place for place, ring in rings.items() if ring}
    open_unit = any(not column.unit for column in table.columns if rings[column.place] or not chosen)
    unit = sent.get("unit", "") if sent.get("unit") in UNITS else ""
    fell = _fell(case, table, chosen, unit)
    probe, heating = sent.get("probe", ""), sent.get("heating", "")
    number = int(heating) if heating.isdecimal() and len(heating) < 3 else 0
    said = LogSaid(chosen, unit, probe if probe in PROBES else "", number)
    problems = list(_problems(rings, said, ask_unit=open_unit, ask_probe=fell))
    slip = "" if problems or sent.get("sure") else _slip(case, table, said)
    return LogForm(
        columns=tuple(_shown(column, rings[column.place]) for column in table.columns),
        unit=unit or table.columns[0].unit,
        asks_unit=open_unit or bool(slip) or bool(unit),
        asks_probe=fell,
        probe=said.probe,
        heatings=tuple(range(1, len(runs(case)) + 1)) if len(runs(case)) > 1 else (),
        heating=number,
        others=tuple(standing_logs(case)),
        said=None if problems or slip else said,
        problems=tuple(problems),
        slip=slip,
    )


def _ring(case: Case, table: LogTable, column: Column, sent: Mapping[str, str]) -> str:
    """As sent; before that as the words over the column name it, or where its one probe was said to sit."""
    name = f"column.{column.place}"
    if name in sent:
        return sent[name] if sent[name] in RINGS else ""
    words = column.name.casefold()
    named = [ring for ring, word in ((INNER, "inner"), (OUTER, "outer")) if word in words]
    if len(named) == 1:
        return named[0]
    probe = case.value_of(STEP_ID, "probe")
    return probe.word if probe and len(table.columns) == 1 and probe.word in RINGS else ""


def _shown(column: Column, ring: str) -> AskedColumn:
    read = [value for value in column.values if value is not None]
    return AskedColumn(
        column.place,
        column.name or gettext("column {n}").format(n=column.place),
        _figure(read[0]) if read else "–",
        _figure(max(read)) if read else "–",
        ring,
    )


def _figure(value: float) -> str:
    return FIGURES.celsius(round(value * 1000), 1) if abs(value) < 1e6 else "–"


def _fell(case: Case, table: LogTable, chosen: Mapping[str, int], unit: str) -> bool:
    """Whether a chosen column falls faster than any ring cools."""
    limits = curve_limits(case)
    for place in chosen.values():
        column = table.column(place)
        judged = column and judged_column(table, column, unit or column.unit or "°C", limits, "")
        if judged and judged.curve.curve.probe_off:
            return True
    return False


def _problems(rings: Mapping[int, str], said: LogSaid, *, ask_unit: bool, ask_probe: bool) -> list[str]:
    told = [ring for ring in rings.values() if ring]
    found = []
    if not told:
        found.append(gettext("Say which column is which ring."))
    if len(told) > len(set(told)):
        found.append(gettext("Two columns cannot be the same ring."))
    if ask_unit and not said.unit:
        found.append(gettext("°C or °F? The log does not say."))
    if ask_probe and not said.probe:
        found.append(gettext("The log falls faster than any ring cools. What became of the probe?"))
    return found


def _slip(case: Case, table: LogTable, said: LogSaid) -> str:
    """A peak that no heating has: asked once, with what was probably meant."""
    limits = curve_limits(case)
    for place in said.columns.values() if limits else ():
        column = table.column(place)
        unit = said.unit or (column.unit if column else "")
        judged = column and judged_column(table, column, unit, limits, said.probe)
        if not column or not judged:
            words = gettext("Not two temperatures of a ring stand in column {n}. Record it as it is?")
            return words.format(n=place)
        top = round(judged.curve.highest_c * 1000)
        if not COLDEST_PEAK_MDEGC <= top <= HOTTEST_PEAK_MDEGC:
            return _asked_back(top, unit, FIGURES)
    return ""


def _asked_back(top_mdegc: int, unit: str, figures: Figures) -> str:
    hottest = with_unit(figures.tenths_of_celsius(top_mdegc), "°C")
    meant = slips.slips(top_mdegc, COLDEST_PEAK_MDEGC, HOTTEST_PEAK_MDEGC, "temperature")
    if meant and meant[0].kind == "fahrenheit_typed_as_celsius" and unit != "°F":
        other = with_unit(figures.tenths_of_celsius(meant[0].meant), "°C")
        words = gettext("Hottest {hottest}. Are these °F? That would be {other}.")
        return words.format(hottest=hottest, other=other)
    return gettext("Hottest {hottest}: is that right?").format(hottest=hottest)
