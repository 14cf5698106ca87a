"""The page of a gauge study: what of the spread is the gauge's and its users' own, by both methods."""

from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext

from qrecords.engineering.anova import Crossed, Source
from qrecords.engineering.gauge_study import ALPHA, GaugeStudy, Share
from qrecords.engineering.result import Result
from qrecords.steps.planner.study import Studied
from qrecords.web import parts
from qrecords.web.planner.workings import fold
from qrecords.web.showing import FIGURES
from qrecords.web.workings import unit_written
from qrecords.wording.figures import with_unit

EXAMPLE = {
    "readings": "Aldis 1 2,1 2,3\nAldis 2 4,8 4,6\nAldis 3 3,3 3,6\nAldis 4 6,0 5,7\nAldis 5 1,2 1,4\n"
    "Brune 1 2,4 2,2\nBrune 2 4,9 5,2\nBrune 3 3,8 3,5\nBrune 4 6,2 6,1\nBrune 5 1,6 1,3",
    "tolerance": "13",
    "width": "6",
}


@dataclass(frozen=True)
class ShareRow:
    """One component: its σ by both methods and its shares, which by analysis of variance add up."""

    name: str
    sigma: str
    of_variance: str
    of_sigma: str
    by_ranges: str


@dataclass(frozen=True)
class SourceRow:
    """One line of the analysis of variance."""

    name: str
    squares: str
    degrees: str
    mean_square: str
    ratio: str
    chance: str


@dataclass(frozen=True)
class StudyShown:
    """Everything the page shows of one study."""

    counted: str
    unit: str
    lead: str
    tells_apart: str
    shares: tuple[ShareRow, ...]
    interaction: str
    sources: tuple[SourceRow, ...]
    workings: tuple[parts.Working, ...]


def shown(studied: Studied) -> StudyShown:
    found, ranges = studied.by_anova, studied.by_ranges
    counts = {"people": len(studied.operators), "parts": len(studied.parts), "trials": studied.trials}
    return StudyShown(
        counted=gettext("{people} people, {parts} parts, {trials} readings of each.").format(**counts),
        unit=unit_written(studied.terms.unit),
        lead=_lead(studied),
        tells_apart=gettext("It tells {n} sorts of part apart ({ranges} by ranges).").format(
            n=_plain(found.categories, 0), ranges=_plain(ranges.categories, 0)
        ),
        shares=_shares(found, ranges),
        interaction=_interaction(found),
        sources=_sources(found.table) if found.table else (),
        workings=_workings(found, ranges),
    )


def _lead(studied: Studied) -> str:
    found = studied.by_anova
    if found.of_tolerance is None:
        words = gettext("Gauge and people make {share} of all spread (as standard deviations).")
        return words.format(share=_percent(found.gauge.of_sigma))
    words = gettext("Gauge and people take {share} of the tolerance, {width} σ wide.")
    return words.format(share=_percent(found.of_tolerance), width=f"{studied.terms.width:g}")


def _percent(result: Result) -> str:
    return f"({with_unit(_plain(result, 1), '%')})"


def _plain(result: Result, places: int) -> str:
    return FIGURES.plain(Decimal(repr(result.value)), places)


def _components(study: GaugeStudy) -> tuple[Share, ...]:
    return study.repeatability, study.reproducibility, study.gauge, study.parts, study.total


def _names() -> tuple[str, ...]:
    return (
        gettext("repeats (EV)"),
        gettext("people (AV)"),
        gettext("gauge and people (GRR)"),
        gettext("parts (PV)"),
        gettext("all (TV)"),
    )


def _shares(found: GaugeStudy, ranges: GaugeStudy) -> tuple[ShareRow, ...]:
    rows = zip(_names(), _components(found), _components(ranges), strict=True)
    return tuple(
        ShareRow(
            name,
            _plain(by_anova.sigma, 3),
            _plain(by_anova.of_variance, 1),
            _plain(by_anova.of_sigma, 1),
            _plain(by_ranges.sigma, 3),
        )
        for name, by_anova, by_ranges in rows
    )


def _interaction(found: GaugeStudy) -> str:
    """Whether people and parts go together, and the rule it was decided by."""
    if found.table is None:
        return ""
    chance = FIGURES.plain(Decimal(repr(found.table.interaction.chance(found.table.repeats))), 3)
    words = (
        gettext("People × parts: p = {p}, over {alpha}, so it counts with the repeats.")
        if found.pooled
        else gettext("People × parts: p = {p}, not over {alpha}, so it counts with the people.")
    )
    return words.format(p=chance, alpha=FIGURES.plain(Decimal(str(ALPHA))))


def _sources(table: Crossed) -> tuple[SourceRow, ...]:
    beside = (
        (gettext("people"), table.operators, table.interaction),
        (gettext("parts"), table.parts, table.interaction),
        (gettext("people × parts"), table.interaction, table.repeats),
        (gettext("repeats"), table.repeats, None),
    )
    return tuple(_source(name, source, other) for name, source, other in beside)


def _source(name: str, source: Source, other: Source | None) -> SourceRow:
    def four(value: float) -> str:
        return FIGURES.plain(Decimal(f"{value:.4g}"))

    compared = other is not None and other.mean_square > 0
    return SourceRow(
        name,
        four(source.sum_of_squares),
        str(source.degrees),
        four(source.mean_square),
        four(source.ratio(other)) if other is not None and compared else "",
        FIGURES.plain(Decimal(repr(source.chance(other))), 3) if other is not None and compared else "",
    )


def _workings(found: GaugeStudy, ranges: GaugeStudy) -> tuple[parts.Working, ...]:
    told = [fold(name, share.sigma) for name, share in zip(_names(), _components(found), strict=True)]
    told += [
        fold(gettext("{name}, by ranges").format(name=name), share.sigma)
        for name, share in zip(_names(), _components(ranges), strict=True)
    ]
    told.append(fold(gettext("sorts of part"), found.categories))
    if found.of_tolerance is not None:
        told.append(fold(gettext("share of the tolerance"), found.of_tolerance))
    return tuple(told)
