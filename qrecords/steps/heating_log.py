"""The heater's own log in a case: which column is which ring, and what the curve comes to (ENGINEERING 7)."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

from qrecords.engineering import curve
from qrecords.engineering.curve_cleaning import COLDEST_MDEGC, HOTTEST_MDEGC
from qrecords.engineering.curve_events import Point, ProbeOff
from qrecords.engineering.curve_measures import highest_median
from qrecords.engineering.errors import EngineeringError
from qrecords.steps.acts import LogFile
from qrecords.steps.answers import Value
from qrecords.steps.case import Answered, Case, once_a_case
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.findings import Fact
from qrecords.steps.fit import ceiling
from qrecords.steps.log_table import Column, LogTable
from qrecords.steps.measurement import temperature_u_mk
from qrecords.steps.rules import standing

STEP_ID = "heating"
INNER, OUTER, ELSEWHERE = RINGS = ("inner ring", "outer ring", "elsewhere")
TAKEN_OFF, CAME_OFF, NOT_KNOWN = PROBES = ("taken off", "came off", "not known")
"""What became of a probe whose log falls faster than any ring cools: a person says it."""


@dataclass(frozen=True, eq=False)
class JudgedColumn:
    """One column with its curve. Compared by identity: what is worked out of it is kept with it."""

    curve: curve.JudgedCurve
    taken_off: ProbeOff | None

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Every sample that counts, gaps or not."""
        return tuple(point for run in self.curve.curve.runs for point in run)


@dataclass(frozen=True, eq=False)
class RingLog:
    """One column of one log, judged. `taken_off` is where the probe left the ring as its person says he took
    it off when the heat was over: what follows is not the ring, and hides nothing of it."""

    file: LogFile
    number: int
    ring: str
    table: LogTable
    column: Column
    unit: str
    judged: JudgedColumn

    @property
    def curve(self) -> curve.JudgedCurve:
        return self.judged.curve

    @property
    def taken_off(self) -> ProbeOff | None:
        return self.judged.taken_off

    @property
    def top_mdegc(self) -> int:
        """The peak; the highest sample where nowhere three stand in a row, where the ring was seen above its
        ceiling, and where the log is so coarse that a median of three clips the tip by more than 2 u."""
        judged = self.curve
        highest = round(judged.highest_c * 1000)
        if judged.peak is None or judged.above.seen:
            return highest
        peak = round(judged.peak.value * 1000)
        return highest if highest - peak > 2 * judged.limits.u_mk else peak

    @property
    def points(self) -> tuple[Point, ...]:
        return self.judged.points


def peak_u_mk(case: Case) -> int:
    heater = case.gear(STEP_ID, "heater")
    own = heater.standard_u if heater else None
    return own if own else temperature_u_mk(case)


def peak_u_rests(case: Case) -> list[Answered]:
    return [*standing(case, STEP_ID, "heater"), *standing(case, "measurement", "thermometer")]


def standing_logs(case: Case) -> list[LogFile]:
    """The logs that count: no other took their place, and they were handed in before the signature."""
    return [file for file in case.log_files if not file.replaced and not file.after_signature]


def columns_said(case: Case, file: LogFile, table: LogTable) -> dict[str, Column]:
    """Ring → column, as a person said it with the log; of a log with one column where the probe was said to
    sit."""
    told = {ring: table.column(place) for ring, place in file.said.columns.items()}
    if not told and len(table.columns) == 1:
        probe = case.value_of(STEP_ID, "probe")
        told = {probe.word: table.columns[0]} if probe else {}
    return {ring: column for ring, column in told.items() if column is not None and ring in RINGS}


def unusable(case: Case, file: LogFile) -> tuple[str, dict[str, Fact]] | None:
    """Why a log says nothing yet, with the facts of it; None for one that is judged."""
    if not file.received:
        return "announced", {}
    table = case.logs.get(file.sha256)
    if table is None:
        return "lost", {}
    if isinstance(table, LogUnreadableError):
        facts: dict[str, Fact] = {"line": table.line, "column": table.column, "value": table.value}
        return "unread", facts | {"reason": table.reason}
    columns = columns_said(case, file, table)
    if not columns:
        return "which-ring", {"columns": len(table.columns)}
    if any(not (file.said.unit or column.unit) for column in columns.values()):
        return "which-unit", {}
    if curve_limits(case) is None:
        return "ceiling-beyond", {"cap_mdegc": round(ceiling(case).cap_c * 1000)}
    if not any(log.file is file for log in ring_logs(case)):
        return "too-few", {}
    return None


@once_a_case
def ring_logs(case: Case) -> tuple[RingLog, ...]:
    """Every column of every standing log that is a ring or lies on the bearing, the inner ring's first."""
    found: list[RingLog] = []
    for number, file in enumerate(standing_logs(case), start=1):
        table = case.logs.get(file.sha256)
        if file.received and isinstance(table, LogTable):
            found += _of_file(case, file, number, table)
    return tuple(sorted(found, key=lambda log: (RINGS.index(log.ring), log.number)))


def _of_file(case: Case, file: LogFile, number: int, table: LogTable) -> list[RingLog]:
    limits = curve_limits(case)
    found = []
    for ring, column in columns_said(case, file, table).items():
        unit = file.said.unit or column.unit
        judged = judged_column(table, column, unit, limits, file.said.probe) if unit else None
        if judged is not None:
            found.append(RingLog(file, number, ring, table, column, unit, judged))
    return found


def curve_limits(case: Case) -> curve.Limits | None:
    """What a log of this case is judged by; without a set temperature that a log can show it is not told how
    far it overshot. None for a ceiling that no log shows: a slip that was confirmed stays a fact."""
    cap, aim = round(ceiling(case).cap_c * 1000), case.value_of(STEP_ID, "set_to")
    if not COLDEST_MDEGC <= cap <= HOTTEST_MDEGC:
        return None
    target = aim.base if aim and COLDEST_MDEGC <= aim.base <= HOTTEST_MDEGC else cap
    return curve.Limits(target, cap, peak_u_mk(case), case.procedure.guard_factor)


@lru_cache(maxsize=64)
def judged_column(
    table: LogTable, column: Column, unit: str, limits: curve.Limits | None, probe: str
) -> JudgedColumn | None:
    """One column judged, and where its probe was taken off; None for too few samples, and without limits.
    Kept, for the samples of a file never change and many pages ask for them."""
    if limits is None:
        return None
    samples = tuple(zip(table.times_s, column.values, strict=True))
    try:
        judged = curve.judge(samples, limits, unit)
        off = judged.curve.probe_off if probe == TAKEN_OFF else None
        if off is None:
            return JudgedColumn(judged, None)
        before = [sample for sample in samples if sample[0] <= off.at_s]
        return JudgedColumn(curve.judge(before, limits, unit), off)
    except EngineeringError:
        return None


def log_peaks(case: Case, *rings: str) -> list[Answered]:
    """The peak of every log of these rings, as an answer given by the log."""
    return [_answer(log) for log in ring_logs(case) if log.ring in rings]


def _answer(log: RingLog) -> Answered:
    value = Value("", "°C", log.top_mdegc)
    return Answered("log", value, log.file.entry, log.file.author, log.file.at, check=False)


def log_rests(case: Case) -> list[str]:
    """The entries that hand in what was logged of the rings."""
    return [log.file.entry for log in ring_logs(case)]


@once_a_case
def ring_difference(case: Case) -> tuple[int, LogFile] | None:
    """How far the inner ring was hotter than the outer at one moment, mK: the highest median of three samples
    in a row that a log has of both; None where no log has both."""
    found = []
    for inner in (log for log in ring_logs(case) if log.ring == INNER):
        for outer in (log for log in ring_logs(case) if log.ring == OUTER and log.file is inner.file):
            most = _most_apart(inner.judged, outer.judged)
            found += [(most, inner.file)] if most is not None else []
    return max(found, key=lambda pair: pair[0], default=None)


@lru_cache(maxsize=64)
def _most_apart(inner: JudgedColumn, outer: JudgedColumn) -> int | None:
    at = dict(outer.points)
    both = [(time, value - at[time]) for time, value in inner.points if time in at]
    top = highest_median([tuple(both)])
    return top[0] if top else None


def named(characteristic: str, number: int, ring: str = INNER) -> str:
    """The first log's characteristic alone, the others' with their number; another ring than the inner one
    is named."""
    of_ring = "" if ring == INNER else f", {ring}"
    return f"{characteristic}{of_ring} {number}" if number > 1 else f"{characteristic}{of_ring}"
