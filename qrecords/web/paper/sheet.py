"""The paper sheet in blocks: head, then screen by screen as the pages have them, last what is signed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import segno
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.steps.case import Case
from qrecords.steps.measurement import wanted_places
from qrecords.steps.paper import named_on_paper
from qrecords.steps.procedure import Procedure
from qrecords.steps.runs import EVENTS, TAPS
from qrecords.steps.shoulder_gap import wanted_angles
from qrecords.steps.transitions import standing_release
from qrecords.web.fitter.fitting import plan_line, sentences
from qrecords.web.fitter.screens import SCREENS, Part, Screen, label
from qrecords.web.heading import safety_of, scheme_words
from qrecords.web.inspector.sheets import Block, text_mm
from qrecords.web.names import SHOTS, hold_name
from qrecords.web.paper.limits import blade, deviations
from qrecords.web.paper.rows import BOX_MM, ROW_MM, Filled, rows_of
from qrecords.web.parts import HeatingPlan, Safety, Sentence
from qrecords.wording.figures import own_unit

FOLDER = "paper"
BORE_PLACES = tuple((plane, at) for plane in "AB" for at in ("0", "60", "120"))
ORDER = (
    "work order",
    "machine",
    "owner",
    "shaft",
    "position",
    "drawing",
    "revision",
    "designation",
    "serial",
)


@dataclass(frozen=True)
class Head:
    """The top: what it is, whose and where, and the address at which it is entered."""

    what: str
    where: str
    limits: str
    note: str
    qr: SafeString
    to_fill: tuple[str, ...] = ()


@dataclass(frozen=True)
class Grid:
    """Places to read at: planes across, directions down; `cells` hold what stands there."""

    title: str
    limit: str
    unit: str
    planes: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class Begun:
    """The questions of one part; `screen` where the screen begins with them."""

    part: str
    screen: str


@dataclass(frozen=True)
class Plan:
    """The heating plan, or boxes for it while the fit is not known."""

    line: HeatingPlan | None
    fit: tuple[Sentence, ...]
    screen: str


@dataclass(frozen=True)
class Hold:
    name: str
    reference: str


def code_of(address: str) -> SafeString:
    """A QR code (ISO/IEC 18004, level M) as plain path data of our own making."""
    code = segno.make(address, error="m", boost_error=False, micro=False)
    return mark_safe(code.svg_inline(omitsize=True, border=0))  # noqa: S308


def blocks(
    mounting: Mounting, judged: Judged, address: str, *, standing: bool, gear: dict[str, str]
) -> list[Block]:
    """The sheet of one mounting, with what `standing` answers it has already or blank."""
    case = judged.case
    filled = Filled(case, standing, gear)
    made = [_head(mounting, case, address, standing=standing)]
    for screen in SCREENS.values():
        made += _screen(screen.under(case.procedure), case.procedure, filled, judged)
    safety = Block("safety", 14.2, safety_of(mounting, worked_out=standing))
    return [*made, *_end(case.procedure, case), safety]


def blank(procedure: Procedure, address: str) -> list[Block]:
    """A sheet for a mounting that nobody opened yet: without limits, with the order to fill in."""
    note = gettext("No mounting is opened for it yet: open one, then enter this sheet at the address beside.")
    to_fill = tuple(gettext(each) for each in ORDER)
    head = Head("", "", "", note, code_of(address), to_fill)
    made = [Block("head", 22 + 5 * (ROW_MM + 1), head, folder=FOLDER)]
    filled = Filled(None)
    for screen in SCREENS.values():
        made += _screen(screen.under(procedure), procedure, filled, None)
    return [*made, *_end(procedure, None), Block("safety", 10.7, Safety(worked_out=False))]


def _head(mounting: Mounting, case: Case, address: str, *, standing: bool) -> Block:
    asked = case.requirement
    size = f"{asked.nominal_mm.normalize():f} {asked.shaft_class}".strip()
    drawing = gettext("drawing {drawing}, revision {revision}").format(
        drawing=asked.drawing, revision=asked.revision
    )
    scheme = scheme_words(mounting.journal.machine)
    note = gettext("Entered later as from paper sheet: photograph this sheet, times as written.")
    head = Head(
        what=gettext("{bearing} on {seat}, {limits}").format(
            bearing=mounting.bearing.designation, seat=size, limits=deviations(asked.journal)
        ),
        where=f"{gettext('work order {n}').format(n=mounting.rebuild.work_order)} · {drawing}",
        limits=scheme,
        note=note,
        qr=code_of(address),
    )
    words = " ".join((head.what, head.where, head.limits, head.note))
    return Block("head", 14 + text_mm(words, 78, 5), head, folder=FOLDER)


def _screen(screen: Screen, procedure: Procedure, filled: Filled, judged: Judged | None) -> Iterator[Block]:
    name = label(screen)
    for part in screen.parts:
        for block in _before_part(screen, part, procedure, filled, judged, name):
            yield block
            name = ""
        rows = tuple(rows_of(part, procedure, filled))
        if rows:
            heights = tuple(row.height_mm for row in rows)
            begun = Begun(label(part), name)
            yield Block("rows", 16 if name else 5, begun, rows, heights, folder=FOLDER)
            name = ""
        yield from _after_part(part, procedure, filled)
    if screen.hold in procedure.holds:
        yield _hold(screen.hold, filled.case)


def _before_part(
    screen: Screen, part: Part, procedure: Procedure, filled: Filled, judged: Judged | None, name: str
) -> Iterator[Block]:
    if part.name == "readings":
        yield _readings(procedure, filled)
    if screen.name == "heat" and part.name == "set-up":
        line = plan_line(judged.case) if judged else None
        plan = Plan(line, sentences(judged) if judged else (), name)
        yield Block("plan", 26 + 11 * bool(name), plan, folder=FOLDER)
    if part.name == "after":
        yield Block("taps", 6 + 4 * (BOX_MM + 1), [gettext(tap) for tap in TAPS], folder=FOLDER)
        yield Block("events", 10, [gettext(event) for event in EVENTS], folder=FOLDER)


def _after_part(part: Part, procedure: Procedure, filled: Filled) -> Iterator[Block]:
    case = filled.case
    if part.name == "bore" and "bore.bore" in part.fields:
        limit = deviations(case.requirement.bore) if case else ""
        yield _grid(gettext("bore, if it is measured"), limit, BORE_PLACES, "bore.bore", filled)
    if part.name == "gap":
        angles = wanted_angles(case) if case else ["0", "90", "180", "270"]
        limit = blade(case) if case else ""
        title = gettext("gap at the shoulder, thickest blade that goes in; angles from the keyway")
        felt = tuple(_cell(filled, f"shoulder_gap.gap.{at}") for at in angles)
        turned = Grid(title, limit, "mm", tuple(f"{at}°" for at in angles), (("", felt),))
        yield Block("grid", 20, turned, folder=FOLDER)


def _readings(procedure: Procedure, filled: Filled) -> Block:
    case = filled.case
    places = wanted_places(case) if case else [(p, d) for p in procedure.planes for d in procedure.directions]
    limit = deviations(case.requirement.journal) if case else ""
    title = gettext("journal: plane A at the shoulder, angles from the keyway")
    return _grid(title, limit, tuple(places), "measurement.journal", filled)


def _grid(title: str, limit: str, places: Sequence[tuple[str, str]], field: str, filled: Filled) -> Block:
    planes = tuple(dict.fromkeys(plane for plane, _ in places))
    angles = tuple(dict.fromkeys(angle for _, angle in places))
    rows = tuple(
        (f"{at}°", tuple(_cell(filled, f"{field}.{plane}.{at}") for plane in planes)) for at in angles
    )
    grid = Grid(title, limit, gettext("µm or mm, as read"), planes, rows)
    return Block("grid", 10.5 + len(rows) * (BOX_MM + 1), grid, folder=FOLDER)


def _cell(filled: Filled, name: str) -> str:
    text, unit = filled.answer(name)
    return f"{text} {own_unit(text, unit.split(' from ')[0])}".strip() if text else ""


def _reference(case: Case | None, hold: str) -> str:
    release = standing_release(case, hold) if case else None
    return named_on_paper(release) if release else ""


def _hold(hold: str, case: Case | None) -> Block:
    return Block("hold", 20.5, Hold(hold_name(hold), _reference(case, hold)), folder=FOLDER)


def _end(procedure: Procedure, case: Case | None) -> Iterator[Block]:
    shots = [gettext(SHOTS.get(shot.id, shot.id)) for shot in procedure.shots]
    yield Block("photos", 10 + text_mm("   ".join(shots), 90, 5.4), shots, folder=FOLDER)
    yield Block("remarks", 32, None, folder=FOLDER)
