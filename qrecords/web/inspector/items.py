"""The findings of a record as the inspector meets them: what needs somebody, what was decided, the rest."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.sealed import Sealed
from qrecords.steps.transitions import LIVE, state_of
from qrecords.steps.waiting import is_to_come
from qrecords.web.inspector.advice import advice, first_words
from qrecords.web.inspector.drawings import Drawing, drawing_of, drawn_from_readings
from qrecords.web.inspector.rights import Rights, who_may
from qrecords.web.lettered import UNITS
from qrecords.web.parts import FindingRow
from qrecords.web.photographs import Taken, beside
from qrecords.web.showing import Shown, show, shown_in
from qrecords.web.symbols import symbol_of
from qrecords.wording.figures import Figures


@dataclass(frozen=True)
class Item:
    """One finding that needs somebody, with its picture, its photos, and what may be decided by whom.

    `kinds` are the decisions open to the reader."""

    id: str
    shown: Shown
    drawing: Drawing | None
    photos: tuple[Taken, ...]
    kinds: tuple[str, ...]
    ways: str
    first: tuple[str, ...]
    """What has to be proven, stated or agreed before which decision, and what of it is here."""
    advice: str
    row: FindingRow

    @property
    def decided_at(self) -> str:
        """The page on which the reader decides it."""
        return "note" if self.kinds == ("note",) else "decide"

    @property
    def both_ends(self) -> bool:
        """Its picture is this end beside the other one."""
        return self.shown.finding.rule == "same-digits"

    @property
    def query(self) -> bool:
        return self.shown.finding.verdict == Verdict.QUERY


@dataclass(frozen=True)
class Groups:
    """Every finding of a record in exactly one place."""

    needs: tuple[Shown, ...]
    settled: tuple[Shown, ...]
    conforming: tuple[Shown, ...]
    to_come: tuple[Shown, ...]


def group(judged: Judged, figures: Figures) -> Groups:
    """Sort the findings: what is merely still to come of an open record does not call anybody yet."""
    live = state_of(judged.case) in LIVE
    needs, settled, conforming, to_come = [], [], [], []
    for finding in judged.findings:
        shown = show(judged, finding, figures, iso=finding.verdict != Verdict.QUERY)
        if finding.verdict == Verdict.CONFORMING:
            conforming.append(shown)
        elif shown.settled:
            settled.append(shown)
        elif live and is_to_come(finding):
            to_come.append(shown)
        else:
            needs.append(shown)
    return Groups(tuple(needs), tuple(settled), tuple(conforming), tuple(to_come))


def in_words(shown: Shown) -> Shown:
    """A finding that has neither number nor limit says in its row what was found, in its sentence."""
    if shown.limit or shown.found:
        return shown
    return replace(shown, found=f"{shown.lead} {shown.rest}".strip().rstrip("."))


def item_id(shown: Shown) -> str:
    return f"item-{shown.digest[:12]}"


def items(
    judged: Judged,
    needs: Sequence[Shown],
    photos: Sequence[Taken],
    rights: Rights,
    figures: Figures,
    *,
    sealed: Sealed,
    drawn_above: Iterable[str] = (),
) -> list[Item]:
    """What needs somebody; each picture and each photo stands once, beside the first finding it shows.
    `drawn_above`: templates of the pictures that stand on the page already."""
    found = {finding.characteristic: finding for finding in judged.findings}
    drawn = set(drawn_above)
    pictured: set[str] = set()
    made = []
    for number, shown in enumerate(needs):
        drawing = drawing_of(judged.case, found, shown.finding, figures, f"item{number}")
        if shown.hidden or (sealed.readings and drawn_from_readings(shown.finding.rule)):
            drawing = None
        if drawing and drawing.template in drawn:
            drawing = None
        drawn |= {drawing.template} if drawing else set()
        near = tuple(p for p in beside(judged.case, shown.finding.rule, photos) if p.sha256 not in pictured)
        near = () if shown.hidden else near
        pictured |= {photo.sha256 for photo in near[:1]}
        made.append(
            Item(
                id=item_id(shown),
                shown=_folded(shown),
                drawing=drawing,
                photos=near[:1],
                kinds=rights.kinds(shown.ways),
                ways=who_may(shown.ways),
                first=() if shown.hidden else first_words(shown.ways),
                advice="" if shown.hidden else advice(judged, shown.finding),
                row=row_of(shown, figures),
            )
        )
    return made


def _folded(shown: Shown) -> Shown:
    """The working folded under what it is, its finding's name already stands above."""
    if shown.working is None:
        return shown
    return replace(shown, working=replace(shown.working, summary=gettext("show the working")))


def margin_of(finding: Finding, figures: Figures) -> tuple[str, str]:
    """The distance to the nearer limit, minus where it is past it, and how many u that is; '' without."""
    if finding.margin is None or finding.unit not in UNITS:
        return "", ""
    _unit, per_unit, places = shown_in(finding)
    shown = figures.plain(Decimal(finding.margin) / per_unit, max(places, 1))
    shown = shown.removesuffix(f"{figures.decimal_sign}0")
    if not finding.u:
        return shown, ""
    return shown, times_u(finding.margin, finding.u, figures)


def times_u(margin: int, u: int, figures: Figures) -> str:
    """A margin in multiples of u: one decimal below ten, whole above, where nobody counts tenths."""
    times = abs(Decimal(margin) / u)
    return figures.plain(times, 0 if times >= 10 else 1)


def row_of(shown: Shown, figures: Figures, *, decision: str = "") -> FindingRow:
    """One row of a findings table: symbol, characteristic, limit, found, margin with its multiple of u."""
    distance, multiple = ("", "") if shown.hidden else margin_of(shown.finding, figures)
    margin = distance + (f" · {multiple} u" if multiple else "")
    return FindingRow(
        symbol_of(shown.finding.rule),
        shown.name,
        shown.limit,
        shown.found,
        margin,
        shown.verdict,
        decision=decision,
    )
