"""Hold points: released, void, or open with what would be released now."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.mountings.judging import Judged
from qrecords.steps.transitions import standing_release
from qrecords.steps.waiting import is_to_come, left_of_preparation, waits
from qrecords.web.inspector.drawings import Drawing, clearance, fit, gap, seat
from qrecords.web.inspector.rights import Rights, release_stop
from qrecords.web.moments import moment
from qrecords.web.names import hold_name
from qrecords.web.parts import Signature
from qrecords.web.showing import Shown, show
from qrecords.wording.figures import Figures

PICTURES = {"fit": (seat, fit, clearance), "cold": (gap,)}
BUTTONS = {"fit": _("release: heat may begin"), "cold": _("release the cold check")}
TOLD = {
    "fit": (
        "journal size",
        "journal taper",
        "journal roundness",
        "bore",
        "interference",
        "clearance forecast",
    ),
    "cold": ("shoulder gap", "cold when checked", "clearance found", "residual field"),
}


@dataclass(frozen=True)
class HoldPoint:
    """One hold of the procedure. `standing` is released, void or open; `due` while everything it covers is
    entered and it waits; `stop` is '' if the reader may release it now, words for why not, None without the
    right."""

    hold: str
    title: str
    standing: str
    signature: Signature
    due: bool
    stop: str | None
    button: str
    told: tuple[Shown, ...]
    preparation: tuple[Shown, ...]
    drawings: tuple[Drawing, ...]


def hold_points(
    judged: Judged, rights: Rights, names: Mapping[str, str], zone: str, figures: Figures, *, hidden: bool
) -> tuple[HoldPoint, ...]:
    """Every hold point of the procedure in its order. `hidden`: the reader does not see the readings yet, and
    releases none that he has not seen."""
    return tuple(
        _hold_point(judged, hold, rights, names, zone, figures, hidden=hidden)
        for hold in judged.case.procedure.holds
    )


def _hold_point(
    judged: Judged,
    hold: str,
    rights: Rights,
    names: Mapping[str, str],
    zone: str,
    figures: Figures,
    *,
    hidden: bool,
) -> HoldPoint:
    case = judged.case
    point = case.procedure.point(hold)
    release = standing_release(case, hold)
    earlier = [each for each in case.releases if each.hold == hold]
    standing = "released" if release else "void" if earlier else "open"
    given = release or (earlier[-1] if earlier else None)
    note = gettext("not yet released")
    if given is not None:
        note = moment(given.at, zone)
        note += "" if given.means == "sign-in" else f" · {gettext(given.means)}"
        note += "" if release else " · " + gettext("void: a reading changed since")
    stop = release_stop(rights, judged, hold)
    if stop == "" and hidden and hold == "fit":
        stop = gettext("when you have read the display")
    due = waits(case, judged.findings, hold)
    unprepared = left_of_preparation(case, judged.findings) if hold == "fit" else []
    found = {finding.characteristic: finding for finding in judged.findings}
    about = TOLD.get(hold) or tuple(finding.characteristic for finding in judged.of_hold(hold))
    told = [found[name] for name in about if name in found and not is_to_come(found[name])]
    drawings = [
        draw(case, found, figures, f"hold-{hold}{n}") for n, draw in enumerate(PICTURES.get(hold, ()))
    ]
    return HoldPoint(
        hold=hold,
        title=point.title if point else hold_name(hold),
        standing=standing,
        signature=Signature(
            point.title if point else hold_name(hold), names.get(given.author, "") if given else "", note
        ),
        due=due,
        stop=stop,
        button=gettext(BUTTONS.get(hold, _("release this hold point"))),
        told=tuple(show(judged, finding, figures, iso=True) for finding in told) if due else (),
        preparation=tuple(show(judged, finding, figures, iso=True) for finding in unprepared),
        drawings=tuple(drawing for drawing in drawings if drawing) if due else (),
    )
