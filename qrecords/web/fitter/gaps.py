"""The shoulder gap by angle: the dial, the blades of the set, what a tapped blade says."""

import math
from collections.abc import Mapping

from django.utils.translation import gettext

from qrecords.engineering.gap import Plane
from qrecords.steps.answers import Absent, Value
from qrecords.steps.case import Answered, Case
from qrecords.steps.felt_cold import STEP_ID, TEMPERATURES, to_feel_again, warm
from qrecords.steps.runs import asked_anew
from qrecords.steps.shoulder_gap import gap_limit_nm, plane, radius_mm, wanted_angles
from qrecords.web import parts
from qrecords.web.fitter.questions import Question, Questions
from qrecords.web.fitter.sent import GIVEN_BACK
from qrecords.web.fitter.words import choice_label
from qrecords.web.pictures.gap_dial import Gap, GapDial, Tilt, gap_dial
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import with_unit

CANNOT_REACH = "cannot-reach"
MORE = "more"
HOUSE_BLADES_NM = (30_000, 40_000, 50_000, 60_000, 80_000, 100_000)
"""Shown where no feeler set is named yet; a set of the trade (common practice, no source)."""


def next_angle(case: Case, asked: str) -> str:
    """The angle asked for, else the first that nobody has felt, or only warm once the ring is cold; '' where
    all are."""
    wanted = wanted_angles(case)
    if asked in wanted:
        return asked
    told = {at: felt_at(case, at) for at in wanted}
    again = (
        set()
        if not_yet_cold(case)
        else {at for at, said in told.items() if said and to_feel_again(case, STEP_ID, said)}
    )
    return next((at for at, said in told.items() if said is None or at in again), "")


def felt_at(case: Case, at: str) -> Answered | None:
    """What was felt at an angle since the ring was heated last."""
    return _since_heat(case, f"gap.{at}")


def _since_heat(case: Case, key: str) -> Answered | None:
    said = case.said(STEP_ID, key)
    return None if said is None or asked_anew(case, STEP_ID, said) else said


def felt_now(case: Case) -> list[Answered]:
    return [said for at in wanted_angles(case) if (said := felt_at(case, at))]


def out_now(case: Case) -> bool:
    """A blade of the limit or more goes in somewhere; what has to be felt again once the ring is cold counts
    only while it is warm."""
    limit, wait = gap_limit_nm(case), not_yet_cold(case)
    told = [said for said in felt_now(case) if wait or not to_feel_again(case, STEP_ID, said)]
    return any(isinstance(said.answer, Value) and said.base >= limit for said in told)


def not_yet_cold(case: Case) -> str:
    """*unknown* while nobody told how warm ring and shaft are, *warm* while the ring shrinks, else ''."""
    if any(_since_heat(case, key) is None for key in TEMPERATURES):
        return "unknown"
    return "warm" if warm(case) else ""


def dial(case: Case, chosen: str, *, field_name: str = "at") -> GapDial:
    """The gaps as felt; without a `field_name` only to look at."""
    limit = gap_limit_nm(case)
    gaps: list[Gap] = []
    for at in wanted_angles(case):
        said = felt_at(case, at)
        gap_nm = said.base if said and isinstance(said.answer, Value) else None
        absent = choice_label(said.answer.reason) if said and isinstance(said.answer, Absent) else ""
        out = gap_nm is not None and gap_nm >= limit
        gaps.append(Gap(int(at), gap_nm, "out" if out else "in", absent))
    known = len(felt_now(case)) == len(case.many(STEP_ID, "gap"))  # a gap of before belongs to no plane now
    fitted = plane(case) if known and any(gap.gap_nm for gap in gaps) else None
    tilt = _tilt(fitted, case) if fitted else None
    return gap_dial(
        tuple(gaps),
        figures=FIGURES,
        prefix="dial",
        chosen_deg=int(chosen) if chosen else None,
        tilt=tilt,
        field_name=field_name,
    )


def _tilt(fitted: Plane, case: Case) -> Tilt | None:
    """The plane through the gaps as the dial draws it; none where it is level or does not fit."""
    if not fitted.tilted or not fitted.fits:
        return None
    amplitude_nm = fitted.tilt.value * radius_mm(case) * 1000  # mrad × mm = µm
    turn = math.radians(fitted.widest_deg)
    return Tilt(fitted.mean_um * 1000, amplitude_nm * math.cos(turn), amplitude_nm * math.sin(turn))


def blades(case: Case, chosen: str) -> tuple[parts.Blade, ...]:
    """*The thinnest does not go in* first and widest; then the blades of the set, thinnest first."""
    feeler = case.gear("shoulder_gap", "feeler")
    sizes = sorted(feeler.blades_nm) if feeler and feeler.blades_nm else list(HOUSE_BLADES_NM)
    said = felt_at(case, chosen) if chosen else None
    standing = said.base if said and isinstance(said.answer, Value) else None
    shown = [parts.Blade(nothing_goes_in(case), "0", True, standing == 0)]
    shown += [
        parts.Blade(FIGURES.mm(size, 2), FIGURES.mm(size), False, standing == size) for size in sizes[:6]
    ]
    shown.append(parts.Blade(gettext("more"), MORE))
    shown.append(parts.Blade(gettext("cannot reach"), CANNOT_REACH))
    return tuple(shown)


def which_angle(fields: Mapping[str, str]) -> Questions | None:
    """A blade says nothing without its quarter: asked back, with the blade kept."""
    blade = fields.get("blade") or fields.get(MORE, "").strip()[:GIVEN_BACK]
    if not blade or fields.get("at"):
        return None
    lead = {
        "0": gettext("Does not go in:"),
        CANNOT_REACH: gettext("Cannot reach:"),
        MORE: gettext("Thicker:"),
    }
    typed = lead.get(blade, with_unit(blade, "mm") + ":")
    return Questions(
        (Question(MORE, typed, gettext("at which angle? Tap it in the drawing, then record it.")),)
    )


def nothing_goes_in(case: Case) -> str:
    """What was felt where no blade goes in; nobody measured a gap of 0 mm."""
    return gettext("{mm} does not go in").format(mm=FIGURES.mm(gap_limit_nm(case), 2))
