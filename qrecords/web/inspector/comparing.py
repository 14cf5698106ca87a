"""This end beside the other end of the same shaft and the last time on the same journal."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.mountings.judging import Judged, judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import for_person
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.steps.findings import Finding
from qrecords.steps.fit import interference
from qrecords.steps.shoulder_gap import felt
from qrecords.web.inspector.items import margin_of, times_u
from qrecords.web.inspector.seat import SeatReadings, seat_readings
from qrecords.web.parts import Comparison, ComparisonRow
from qrecords.web.showing import Shown
from qrecords.wording.figures import ELLIPSIS, Figures

NOTHING = "–"
JOURNAL = ("journal lowest", "journal highest")


@dataclass(frozen=True)
class Beside:
    """Another mounting to compare with: what it is called, and its record as judged now."""

    head: str
    mounting: Mounting
    judged: Judged

    @property
    def found(self) -> dict[str, Finding]:
        return {finding.characteristic: finding for finding in self.judged.findings}

    @property
    def seat(self) -> SeatReadings | None:
        return seat_readings(self.judged.case, self.found.get("journal size"))


def other_end(person: Person, mounting: Mounting, at: datetime) -> Beside | None:
    """The newest mounting on another journal of the same shaft in the same rebuild."""
    rows = for_person(person, Action.READ, at).filter(
        rebuild=mounting.rebuild_id,
        journal__machine=mounting.journal.machine_id,
        journal__shaft=mounting.journal.shaft,
    )
    found = rows.exclude(journal=mounting.journal_id).order_by("-opened_at", "-id").first()
    return Beside(found.journal.position, found, judged_now(found)) if found else None


def last_time(person: Person, mounting: Mounting, at: datetime) -> Beside | None:
    """The newest mounting on the same journal in an earlier rebuild."""
    rows = for_person(person, Action.READ, at).filter(
        journal=mounting.journal_id, opened_at__lt=mounting.opened_at
    )
    found = rows.exclude(rebuild=mounting.rebuild_id).order_by("-opened_at", "-id").first()
    return Beside(str(found.opened_at.year), found, judged_now(found)) if found else None


def comparison(
    this: Beside,
    others: Sequence[Beside | None],
    shown: Mapping[str, Shown],
    figures: Figures,
    *,
    blind: bool,
) -> Comparison:
    """Journal, form, bore, fit, peak, gap and clearance side by side; the margin and its multiple of u are
    this end's. `blind` keeps the journal's figures of this end back."""
    ends = [this, *(each for each in others if each is not None)]
    rows = []
    for caption, characteristic, read in ROWS:
        values = [read(end, figures) for end in ends]
        if not any(values):
            continue
        if blind and (characteristic.startswith("journal") or characteristic == "interference"):
            values[0] = gettext("hidden")
        margin, times_u = _margin(this, characteristic, shown, figures)
        if blind:
            margin = times_u = ""
        rows.append(ComparisonRow(gettext(caption), tuple(v or NOTHING for v in values), margin, times_u))
    title = gettext("Other end and last time") if len(ends) > 1 else gettext("In figures")
    return Comparison(title, tuple(end.head for end in ends), tuple(rows))


def _margin(
    this: Beside, characteristic: str, shown: Mapping[str, Shown], figures: Figures
) -> tuple[str, str]:
    """Distance to the nearer limit and its multiple of u; the journal's ends each to their own limit."""
    seat = this.seat
    if characteristic in JOURNAL and seat is not None:
        lowest = characteristic == "journal lowest"
        left_nm = seat.lowest_nm - seat.lower_nm if lowest else seat.upper_nm - seat.highest_nm
        times = times_u(left_nm, seat.u_nm, figures) if seat.u_nm else ""
        return figures.um(left_nm, 1).removesuffix(f"{figures.decimal_sign}0"), times
    mine = shown.get(characteristic)
    return margin_of(mine.finding, figures) if mine else ("", "")


def _lowest(end: Beside, figures: Figures) -> str:
    return figures.deviation_um(end.seat.lowest_nm) if end.seat else ""


def _highest(end: Beside, figures: Figures) -> str:
    return figures.deviation_um(end.seat.highest_nm) if end.seat else ""


def _form(end: Beside, figures: Figures) -> str:
    halves = [end.found[name].value for name in ("journal roundness", "journal taper") if name in end.found]
    known = [half for half in halves if half is not None]
    return f"({figures.um(max(known))})" if known else ""


def _bore(end: Beside, figures: Figures) -> str:
    found = end.found.get("bore")
    return "" if found is None or found.value is None else figures.deviation_um(found.value, 0)


def _fit(end: Beside, figures: Figures) -> str:
    found = interference(end.judged.case)
    if found is None:
        return ""
    least, most = round(found.local_min.value), round(found.local_max.value)
    return f"({figures.plain(least)}{ELLIPSIS}{figures.plain(most)})" if least != most else f"({least})"


def _peak(end: Beside, figures: Figures) -> str:
    found = end.found.get("peak temperature")
    return "" if found is None or found.value is None else figures.celsius(found.value, 0)


def _gap(end: Beside, figures: Figures) -> str:
    gaps = [answered.base for answered in felt(end.judged.case)]
    if not gaps:
        return ""
    return figures.mm(max(gaps), 2) if max(gaps) else gettext("none")


def _clearance(end: Beside, figures: Figures) -> str:
    g1 = end.judged.case.value_of("clearance_after", "g1")
    return figures.um(g1.base, 0) if g1 else ""


ROWS: Sequence[tuple[str, str, Callable[[Beside, Figures], str]]] = (
    (_("lowest"), "journal lowest", _lowest),
    (_("highest"), "journal highest", _highest),
    (_("form"), "journal form", _form),
    (_("bore"), "bore", _bore),
    (_("fit"), "interference", _fit),
    (_("peak"), "peak temperature", _peak),
    (_("gap"), "shoulder gap", _gap),
    (_("G1"), "clearance found", _clearance),
)
