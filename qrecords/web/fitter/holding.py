"""A hold point at the tablet: what waits, and the ways in which it can be released."""

import uuid
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.judging import Judged
from qrecords.people.queries import names
from qrecords.steps.answers import Absent
from qrecords.steps.findings import TO_DO_FIRST
from qrecords.steps.fit import telephone_agrees
from qrecords.steps.identification import characters
from qrecords.steps.measurement import journal
from qrecords.steps.paper import named_on_paper
from qrecords.steps.telephone import readings_code, readings_of
from qrecords.steps.transitions import open_for_release, standing_release, unread_by_inspector
from qrecords.web import parts
from qrecords.web.fitter.page import Moment
from qrecords.web.fitter.readings import journal_surface, still_grid
from qrecords.web.fitter.sheet import Row, rows_of
from qrecords.web.fitter.verdicts import grouped
from qrecords.web.fitter.words import absent_words, field_label
from qrecords.web.showing import FIGURES, show
from qrecords.wording.figures import Figures


@dataclass(frozen=True)
class Telephone:
    """What is read out: the code made from the readings, the lowest and the highest of them, all as typed;
    `warm` where they differ from what is judged, which is brought to 20 °C."""

    code: str
    lowest: str
    highest: str
    nominal: str = ""
    warm: bool = False


@dataclass(frozen=True)
class Reading:
    """The inspector's own reading of the marking, asked for at the tablet: the `id` of its entry. `changes`
    asks why it changes, '' where none stands; `required` where nothing is released without it."""

    id: uuid.UUID
    changes: str
    required: bool


@dataclass(frozen=True)
class NotReleased:
    """Why a release was not given at the tablet, and beside which field that stands."""

    words: str
    beside: str = "password"


@dataclass(frozen=True)
class Hold:
    """`released` says by whom and when, '' while it waits; `leaf` is the leaf hash of the standing release,
    `open` what keeps it from being released, one frame a word. `reading` is the inspector's own reading of
    the marking, None where it is not asked."""

    name: str
    title: str
    released: str
    leaf: str
    open: tuple[parts.Said, ...]
    telephone: Telephone | None
    wanted: bool = True
    reading: Reading | None = None
    reference: str = ""
    """How the release is named on paper; '' where it was given by telephone, whose code is read back."""


def hold(judged: Judged, name: str, moment: Moment, *, typed: str = "", figures: Figures = FIGURES) -> Hold:
    """How one hold point stands; `typed` is the marking that was read here and is not yet recorded."""
    case = judged.case
    release = standing_release(case, name)
    released = ""
    if release is not None:
        who = names([release.author])[release.author]
        how = gettext("by telephone") if release.means == "telephone" else ""
        released = gettext("Released by {who}, {at} {how}").format(
            who=who, at=moment.clock(release.at), how=how
        )
        if release.means == "telephone" and not telephone_agrees(case, release):
            released = ""
    open_ = sorted(
        open_for_release(case, judged.of_hold(name)), key=lambda finding: TO_DO_FIRST.index(finding.verdict)
    )
    title = gettext("Heat waits for the inspector.")
    if name == "cold":
        title = gettext("Covering waits for the inspector.")
    return Hold(
        name,
        title,
        released.strip(),
        release.leaf if release else "",
        tuple(grouped(show(judged, finding) for finding in open_)),
        _telephone(judged, figures) if name == "fit" else None,
        name in case.procedure.holds,
        reading(judged, name, typed),
        reference=named_on_paper(release) if release else "",
    )


def reading(judged: Judged, name: str, typed: str) -> Reading | None:
    """The marking is read here while no reading counts; and once more, where what was `typed` here is not
    what another inspector read meanwhile. Of one that counts not a letter shows before."""
    stands = judged.case.checks.get("identification", {}).get("marking")
    unread = unread_by_inspector(judged.of_hold(name))
    other = stands is not None and not unread and characters(typed) not in ("", characters(stands.word))
    if not (unread or other):
        return None
    changes = ""
    if other and stands:
        changes = gettext("An inspector read “{word}”. Why does it change? Or clear what was read here.")
        changes = changes.format(word=stands.word)
    elif stands and isinstance(stands.answer, Absent):
        changes = gettext("It stands as “{said}”. Why does it change?").format(
            said=absent_words(stands.answer)
        )
    elif stands:
        changes = gettext("A reading stands already. Why does it change?")
    return Reading(new_id(), changes, required=unread)


def read_before(judged: Judged, name: str, typed: str) -> NotReleased:
    """Why what an inspector read here was not filed: another reading stands."""
    asked = reading(judged, name, typed)
    if asked and asked.changes:
        return NotReleased(gettext("A reading stands already. Say why it changes."), beside="reason")
    return NotReleased(
        gettext("The marking has been read by an inspector meanwhile. Look, and release again.")
    )


@dataclass(frozen=True)
class RestsOn:
    """What a release here rests on, shown beside the inspector's sign-in: the readings in their grid, the
    other answers of the steps it covers, and before heat how the heater stands ready."""

    grid: parts.ReadingGrid | None
    rows: tuple[Row, ...]


def rests_on(judged: Judged, name: str) -> RestsOn:
    """Every standing answer that the release would name, as typed; but not the marking while the inspector
    has still to read it himself."""
    steps = (*judged.case.covered(name), *(("heating",) if name == "fit" else ()))
    rows = rows_of(judged, steps)
    if unread_by_inspector(judged.of_hold(name)):
        rows = tuple(row for row in rows if row.label != field_label("identification.marking"))
    if name != "fit":
        return RestsOn(None, rows)
    surface = journal_surface(judged.case)
    grid = still_grid(judged, surface)
    in_grid = {field_label(place) for place in surface.names}
    return RestsOn(grid, tuple(row for row in rows if row.label not in in_grid))


def _telephone(judged: Judged, figures: Figures) -> Telephone | None:
    readings = readings_of(judged.case)
    if not readings:
        return None
    nominal = judged.case.requirement.nominal_nm
    return Telephone(
        readings_code(judged.case.mounting, readings),
        figures.deviation_um(min(readings.values()) - nominal),
        figures.deviation_um(max(readings.values()) - nominal),
        f"{judged.case.requirement.nominal_mm.normalize():f}",
        _corrected(judged),
    )


def _corrected(judged: Judged) -> bool:
    """The readings are judged as they would be at 20 °C, which is not what was typed."""
    measured = journal(judged.case)
    return measured is not None and any(point.correction_nm for point in measured.points)
