"""The shoulder gap by angle: the dial, the blades of the set, what a tapped blade says."""

import math
from collections.abc import Mapping

from django.utils.translation import gettext

from qrecords.engineering.gap import Plane
from qrecords.steps.answers import Absent
from qrecords.steps.case import Case
from qrecords.steps.felt_cold import to_feel_again
from qrecords.steps.shoulder_gap import plane, radius_mm, wanted_angles
from qrecords.web import parts
from qrecords.web.figures import with_unit
from qrecords.web.fitter.questions import Question, Questions
from qrecords.web.fitter.words import choice_label
from qrecords.web.pictures.gap_dial import Gap, GapDial, Tilt, gap_dial
from qrecords.web.showing import FIGURES

CANNOT_REACH = "cannot-reach"
MORE = "more"
HOUSE_BLADES_NM = (30_000, 40_000, 50_000, 60_000, 80_000, 100_000)
"""Shown where no feeler set is named yet; a set of the trade (common practice, no source)."""


def next_angle(case: Case, asked: str) -> str:
    """The angle asked for, else the first that nobody has felt, or only warm; '' where all are."""
    wanted = wanted_angles(case)
    if asked in wanted:
        return asked
    told = {at: case.said("shoulder_gap", f"gap.{at}") for at in wanted}
    open_ = [at for at, said in told.items() if said is None or to_feel_again(case, "shoulder_gap", said)]
    return open_[0] if open_ else ""


def dial(case: Case, chosen: str, *, field_name: str = "at") -> GapDial:
    """The gaps as felt; without a `field_name` only to look at."""
    limit = case.procedure.blade_limit_nm
    gaps: list[Gap] = []
    for at in wanted_angles(case):
        found = case.value_of("shoulder_gap", f"gap.{at}")
        gap_nm = None if found is None else found.base
        said = case.said("shoulder_gap", f"gap.{at}")
        absent = choice_label(said.answer.reason) if said and isinstance(said.answer, Absent) else ""
        out = gap_nm is not None and gap_nm >= limit
        gaps.append(Gap(int(at), gap_nm, "out" if out else "in", absent))
    fitted = plane(case) if any(gap.gap_nm for gap in gaps) else None
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
    found = case.value_of("shoulder_gap", f"gap.{chosen}") if chosen else None
    standing = found.base if found else None
    shown = [parts.Blade(nothing_goes_in(case), "0", True, standing == 0)]
    shown += [
        parts.Blade(FIGURES.mm(size, 2), FIGURES.mm(size), False, standing == size) for size in sizes[:6]
    ]
    shown.append(parts.Blade(gettext("more"), MORE))
    shown.append(parts.Blade(gettext("cannot reach"), CANNOT_REACH))
    return tuple(shown)


def which_angle(fields: Mapping[str, str]) -> Questions | None:
    """A blade says nothing without its quarter: asked back, with the blade kept."""
    blade = fields.get("blade") or fields.get(MORE, "").strip()
    if not blade or fields.get("at"):
        return None
    lead = {
        "0": gettext("Does not go in:"),
        CANNOT_REACH: gettext("Cannot reach:"),
        MORE: gettext("Thicker:"),
    }
    typed = lead.get(blade, with_unit(blade, "mm") + ":")
    return Questions((Question(MORE, typed, gettext("at which angle? Tap it in the drawing, then next.")),))


def nothing_goes_in(case: Case) -> str:
    """What was felt where no blade goes in; nobody measured a gap of 0 mm."""
    return gettext("{mm} does not go in").format(mm=FIGURES.mm(case.procedure.blade_limit_nm, 2))
