"""The heater's own log drawn with its limits, and the sentence that says the same."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from django.utils.translation import gettext

from qrecords.engineering.curve_events import Point
from qrecords.steps.acts import LogFile
from qrecords.steps.case import Case
from qrecords.steps.heating_log import INNER, RingLog, ring_logs
from qrecords.steps.heatings import mounted_heating
from qrecords.web.pictures.heat_curve import Curve, HeatCurve, Note, heat_curve
from qrecords.web.pictures.heat_log import heat_log
from qrecords.web.pictures.heat_taps import Tap
from qrecords.wording.figures import Figures, with_unit

LOG_RULES = ("log-readable", "log-ceiling", "log-as-typed", "log-against-taps", "log-energy")


def newest_log(case: Case) -> tuple[RingLog, ...]:
    """The log of the heating the ring went on with: its rings, the inner ring's first. The newest of several;
    empty where none was handed in that says anything of the inner ring."""
    logs = ring_logs(mounted_heating(case))
    inner = [log for log in logs if log.ring == INNER]
    return of_file(logs, inner[-1].file) if inner else ()


def of_file(logs: Sequence[RingLog], file: LogFile) -> tuple[RingLog, ...]:
    return tuple(log for log in logs if log.file.entry == file.entry)


def draw(
    logs: Sequence[RingLog],
    figures: Figures,
    prefix: str,
    *,
    must_be_mdegc: int | None = None,
    size: tuple[float, float] = (460, 240),
) -> HeatCurve:
    """One log: its first ring solid with all that befell it, the others dashed, on the log's own clock."""
    first, *others = logs
    ready = heat_log(first.curve.curve, 0.0)
    beside = [curve for log in others for curve in heat_log(log.curve.curve, 0.0).curves if not curve.faint]
    end_s = first.table.times_s[-1]
    return heat_curve(
        (*ready.curves, *(replace(curve, dashed=True) for curve in beside)),
        ceiling_mdegc=first.curve.limits.ceiling_mdegc,
        must_be_mdegc=must_be_mdegc,
        figures=figures,
        prefix=prefix,
        notes=tuple(_notes(first, figures)),
        taps=tuple(Tap(at, _seconds(at, figures)) for at in (0.0, end_s)),
        events=ready.events,
        width=size[0],
        height=size[1],
    )


def course(points: tuple[Point, ...], ceiling_mdegc: int, figures: Figures, prefix: str) -> HeatCurve:
    """A column of which nobody has said yet what it is: its course alone, with the ceiling."""
    return heat_curve((Curve(points),), ceiling_mdegc=ceiling_mdegc, figures=figures, prefix=prefix)


def _notes(log: RingLog, figures: Figures) -> list[Note]:
    hottest = max(log.points, key=lambda point: point[1])
    notes = [Note(hottest, figures.tenths_of_celsius(log.top_mdegc), "start", bold=True, dot=True)]
    if log.taken_off is not None:
        at = (log.taken_off.at_s, log.taken_off.from_mdegc)
        notes.append(Note(at, gettext("probe taken off"), "start", below=True))
    return notes


def lines(logs: Sequence[RingLog]) -> str:
    """Which line is which ring."""
    first, *others = logs
    dashes = "\N{NO-BREAK SPACE}–\N{NO-BREAK SPACE}–\N{NO-BREAK SPACE}–"
    solid = f"{gettext(first.ring)}\N{NO-BREAK SPACE}——"
    return ", ".join([solid, *(gettext(log.ring) + dashes for log in others)])


def caption(logs: Sequence[RingLog], figures: Figures) -> str:
    """Which line is which ring, how many samples, on which clock."""
    first = logs[0]
    words = gettext("By the heater's own log and its own clock: {lines}; {n} samples.")
    told = words.format(lines=lines(logs), n=len(first.table.times_s))
    if first.table.started:  # shown, never the sole proof of an order
        told += " " + gettext("It begins {when} by that clock.").format(when=first.table.started)
    rate = first.curve.rate
    if rate is not None:
        fastest = with_unit(figures.plain(Decimal(f"{rate.value:.2f}")), "K/s")
        told += " " + gettext("Fastest rise {rate}.").format(rate=fastest)
    if first.taken_off is not None:
        told += " " + gettext("The probe was taken off at {at}, as its fitter says.").format(
            at=_seconds(first.taken_off.at_s, figures)
        )
    return told


def _seconds(value: float, figures: Figures) -> str:
    return with_unit(figures.plain(round(Decimal(value))), "s")
