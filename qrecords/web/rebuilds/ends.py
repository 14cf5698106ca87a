"""The ends of one shaft side by side: who, what was read, how it fits; figures as the records hold them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.steps.case import Case
from qrecords.steps.findings import Verdict
from qrecords.steps.sealed import Sealed
from qrecords.steps.standard import all_findings
from qrecords.steps.transitions import settled
from qrecords.web.inspector.comparing import NOTHING, ROWS, Beside
from qrecords.wording.figures import Figures

SAME_DIGITS = "same-digits"


@dataclass(frozen=True)
class EndHead:
    """The head of one column: the place, its mounting and where that is read."""

    place: str
    number: str
    href: str


@dataclass(frozen=True)
class EndRow:
    caption: str
    values: tuple[str, ...]
    number: bool = True


@dataclass(frozen=True)
class Ends:
    """One shaft. `same_digits`: the readings of two ends agree digit for digit, and nobody explained it yet
    (*open*) or somebody did (*explained*); '' where they do not."""

    shaft: str
    heads: tuple[EndHead, ...]
    rows: tuple[EndRow, ...]
    same_digits: str = ""


@dataclass(frozen=True)
class End:
    """One mounting with its record as it is judged now, and what of it is kept back from this reader."""

    mounting: Mounting
    case: Case
    sealed: Sealed
    names: Mapping[str, str]

    @property
    def beside(self) -> Beside:
        findings = tuple(all_findings(self.case))
        return Beside(self.mounting.journal.position, self.mounting, Judged(self.case, findings))


def ends_of(shaft: str, ends: Sequence[End], figures: Figures, *, traces: bool) -> Ends:
    """The columns stand as the places do; a row that no end has anything for is left out."""
    page = "mounting-trace" if traces else "inspect"
    heads = tuple(
        EndHead(e.mounting.journal.position, e.mounting.number, reverse(page, args=[e.mounting.id]))
        for e in ends
    )
    beside = [end.beside for end in ends]
    rows = [
        EndRow(gettext(caption), tuple(_kept(end, say(end)) for end in ends), False) for caption, say in WORDS
    ]
    rows += [
        EndRow(
            _plane(plane),
            tuple(_kept(e, _readings(b, plane, figures)) for e, b in zip(ends, beside, strict=True)),
        )
        for plane in sorted({plane for each in beside if each.seat for plane in each.seat.planes})
    ]
    rows += [
        EndRow(gettext(caption), tuple(_kept(e, read(b, figures)) for e, b in zip(ends, beside, strict=True)))
        for caption, _characteristic, read in ROWS
    ]
    rows += [EndRow(gettext(caption), tuple(say(end) for end in ends), False) for caption, say in PEOPLE]
    said = tuple(row for row in rows if any(value != NOTHING for value in row.values))
    return Ends(shaft, heads, said, _same_digits(ends, beside))


def _kept(end: End, value: str) -> str:
    """Nothing of a record that its reader has still to read for himself."""
    return gettext("hidden") if end.sealed and value else value or NOTHING


def _plane(plane: str) -> str:
    return gettext("plane %(plane)s") % {"plane": plane}


def _readings(end: Beside, plane: str, figures: Figures) -> str:
    """The readings of one plane in their order; in brackets where they were brought to 20 °C."""
    seat = end.seat
    if seat is None or plane not in seat.planes:
        return ""
    points = [seat.points[plane, d] for d in seat.directions if (plane, d) in seat.points]
    text = " ".join(figures.deviation_um(point) for point in points)
    return f"({text})" if seat.corrected else text


def _bearing(end: End) -> str:
    bearing = end.mounting.bearing
    return " · ".join(filter(None, (bearing.designation, bearing.serial or bearing.lot)))


def _signed(end: End, meaning: str) -> str:
    signers = [s.author for s in end.case.signatures if s.meaning == meaning]
    return end.names.get(signers[-1], "") if signers else NOTHING


def _worked(end: End) -> str:
    return ", ".join(sorted(end.names.get(person, "") for person in end.case.worked_by)) or NOTHING


WORDS: Sequence[tuple[str, Callable[[End], str]]] = ((_("bearing"), _bearing),)
PEOPLE: Sequence[tuple[str, Callable[[End], str]]] = (
    (_("worked on it"), _worked),
    (_("performed"), lambda end: _signed(end, "performed")),
    (_("inspected"), lambda end: _signed(end, "inspected")),
)


def people_of(cases: Sequence[Case]) -> set[str]:
    """Whose names the columns want."""
    return {p for case in cases for p in (*case.worked_by, *(s.author for s in case.signatures))}


def _same_digits(ends: Sequence[End], beside: Sequence[Beside]) -> str:
    """Whether the rule on equal digits speaks at one of the ends; nothing of a record that is sealed."""
    if any(end.sealed for end in ends):
        return ""
    found = [
        (end.case, finding)
        for end, each in zip(ends, beside, strict=True)
        for finding in each.judged.findings
        if finding.rule == SAME_DIGITS and finding.verdict == Verdict.QUERY
    ]
    if not found:
        return ""
    return "open" if any(not settled(case, finding) for case, finding in found) else "explained"
