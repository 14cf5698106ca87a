"""The page of a series of readings: both charts, what they say, and what the limits leave."""

from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext

from qrecords.engineering.capability import Index
from qrecords.engineering.charts import ENOUGH_SUBGROUPS
from qrecords.engineering.result import Result
from qrecords.steps.planner.series import Series
from qrecords.web import parts
from qrecords.web.pictures.xbar_r import XbarRPicture, courses, xbar_r_picture
from qrecords.web.planner.workings import fold
from qrecords.web.showing import FIGURES
from qrecords.web.workings import unit_written
from qrecords.wording.figures import with_unit

EXAMPLE = {
    "readings": "12,1 13,0 11,4\n14,2 12,8 13,1\n12,0 11,1 12,6\n13,3 14,0 12,2\n11,8 12,9 12,4\n"
    "12,2 13,8 13,0\n10,9 12,1 11,7\n13,5 12,4 12,9",
    "lower": "7",
    "upper": "18",
}


@dataclass(frozen=True)
class IndexRow:
    """One index as printed: never without its interval and what it rests on."""

    name: str
    value: str
    interval: str
    rests_on: str
    provisional: bool


@dataclass(frozen=True)
class SeriesShown:
    """Everything the page shows of one series; `indices` empty where no limit was given."""

    mean: str
    picture: XbarRPicture
    said: parts.Said
    few: str
    chart_workings: tuple[parts.Working, ...]
    indices: tuple[IndexRow, ...]
    not_in_control: bool
    index_workings: tuple[parts.Working, ...]


def shown(series: Series) -> SeriesShown:
    chart, unit = series.chart, unit_written(series.unit)
    means, ranges = courses(chart)
    picture = xbar_r_picture(
        means,
        ranges,
        size=chart.n,
        figures=FIGURES,
        prefix="series",
        places=1 if series.unit == "um" else 2,
        provisional=chart.provisional,
        unit=unit,
    )
    return SeriesShown(
        mean=with_unit(_figure(chart.mean, series.unit), unit),
        picture=picture,
        said=_said(series),
        few=_few(len(chart.means)) if chart.provisional else "",
        chart_workings=_of_chart(series),
        indices=tuple(_row(name, index) for name, index in _indices(series)),
        not_in_control=bool(chart.means_out or chart.ranges_out),
        index_workings=tuple(fold(name, index.value) for name, index in _indices(series)),
    )


def _figure(result: Result, unit: str) -> str:
    return FIGURES.plain(Decimal(repr(result.value)), 1 if unit == "um" else 2)


def _said(series: Series) -> parts.Said:
    """In where every point is; else somebody looks: a chart accuses nobody."""
    told = []
    for out, words in (
        (series.chart.means_out, gettext("Outside by its mean: subgroup {numbers}.")),
        (series.chart.ranges_out, gettext("Outside by its range: subgroup {numbers}.")),
    ):
        if out:
            told.append(words.format(numbers=", ".join(str(number + 1) for number in out)))
    if not told:
        lead = gettext("Every mean and range lies inside what chance explains.")
        return parts.Said(parts.Verdict("conforming"), (parts.Sentence(lead, ""),))
    rest = gettext("Chance alone seldom does that: look what was different.")
    return parts.Said(parts.Verdict("query"), (parts.Sentence(" ".join(told), rest),))


def _few(count: int) -> str:
    words = gettext("Provisional: {count} subgroups; {enough} are enough (common practice, no source).")
    return words.format(count=count, enough=ENOUGH_SUBGROUPS)


def _of_chart(series: Series) -> tuple[parts.Working, ...]:
    chart = series.chart
    named = (
        (gettext("mean of the means"), chart.mean),
        (gettext("means, lower limit"), chart.mean_lower),
        (gettext("means, upper limit"), chart.mean_upper),
        (gettext("mean range"), chart.mean_range),
        (gettext("ranges, lower limit"), chart.range_lower),
        (gettext("ranges, upper limit"), chart.range_upper),
    )
    return tuple(fold(name, result) for name, result in named)


def _indices(series: Series) -> tuple[tuple[str, Index], ...]:
    found = series.indices
    if found is None:
        return ()
    named = (("Cp", found.cp), ("Cpk", found.cpk), ("Ppk", found.ppk))
    return tuple((name, index) for name, index in named if index is not None)


def _row(name: str, index: Index) -> IndexRow:
    def two(result: Result) -> Decimal:
        return round(Decimal(repr(result.value)), 2)

    return IndexRow(
        name,
        FIGURES.worked_out(two(index.value)),
        FIGURES.span(two(index.low), two(index.high)),
        gettext("{n} readings, {k} subgroups").format(n=index.n, k=index.subgroups),
        index.provisional,
    )
